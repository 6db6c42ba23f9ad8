import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { countOf, formatNumber } from '#core/shared/format.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { needWorking, type PlannedPair } from '#flows/working/need-figures.ts';
import { pairWords } from '#flows/working/words.ts';
import { sumOf } from '#flows/working/yarn-figures.ts';

/** A sum of more is not read any more; the pairs stand in the table below it. */
const mostTerms = 10;

const wholeMilligrams = rule(
  {
    name: 'enough for one pair',
    unit: 'g',
    mark: 'ours',
    source:
      'a pair takes a colour from one lot, so each must find enough for itself; whole milligrams, the next one up',
    words: '{enough}, up to the whole milligram',
  },
  (grams: number) => Math.ceil(grams * 1000 - 1e-6) / 1000,
);

/** To the whole milligram; nothing is said of it where the page shows the same number before and after. */
function enoughForOne(need: Figure): Figure {
  const rounded = work(wholeMilligrams, need);
  if (formatNumber(rounded.value, 1) !== formatNumber(need.value, 1)) return rounded;
  return { ...need, rule: { ...need.rule, name: rounded.rule.name }, value: rounded.value };
}

const times = (name: string) =>
  rule(
    { name, unit: 'g', mark: 'ours', source: 'pairs that are alike', words: '{pairs} x {enough for one pair}' },
    (pairs: number, grams: number) => pairs * grams,
  );

type LikePairs = { readonly first: PlannedPair; readonly settledMg: number | undefined; count: number };

/** Pairs that take the same of a colour: alike in one hand, or begun with so much written down for them. */
function likePairs(colourId: number, pairs: readonly PlannedPair[], { plan }: WorkshopPlan): readonly LikePairs[] {
  const groups = new Map<unknown, LikePairs>();
  for (const first of pairs) {
    const settledMg = first.pair.started?.waitsMg?.get(colourId);
    const key = settledMg ?? plan.handwork.yarnOf(first.pair.kind, first.knitterId);
    const group = groups.get(key);
    if (group) group.count += 1;
    else groups.set(key, { first, settledMg, count: 1 });
  }
  return [...groups.values()];
}

/** Whose pair it is in full, for pairs that are for one size and outlet and still want different amounts. */
function wordsInFull(current: WorkshopPlan, { pair, knitterId }: PlannedPair): string {
  const { rows, input } = current;
  const order = rows.orders.find((each) => each.id === pair.orderId);
  const ids = [...new Set(Object.values(pair.kind.colours).flat())];
  const names = ids.map((id) => rows.yarnColours.find((each) => each.id === id)?.name ?? 'a colour');
  const { cuffHeightMm } = pair.kind.shape;
  const knitter = input.knitters.find((each) => each.id === knitterId)?.name;
  const words = [
    pairWords(current, pair),
    order === undefined ? '' : `order ${order.number}`,
    names.join(' and '),
    cuffHeightMm === 0 ? 'no cuff' : `cuff ${formatNumber(cuffHeightMm / 10, 1)}\u00a0cm`,
    knitter === undefined ? '' : `knitted by ${knitter}`,
    pair.started === null ? '' : 'begun',
  ];
  return words.filter(Boolean).join(', ');
}

/**
 * What the list that the plan counts with buys of a colour: for each pair what is enough for it alone.
 *
 * @param pairs those that the colour is to be bought for, at least one
 */
export function toBuyWorking(colourId: number, pairs: readonly PlannedPair[], current: WorkshopPlan): Figure {
  const name = current.plan.lists.chosenName;
  const groups = likePairs(colourId, pairs, current);
  const short = groups.map(({ first }) => pairWords(current, first.pair));
  const terms = groups.map(({ first, settledMg, count }, index) => {
    const one =
      settledMg === undefined
        ? enoughForOne(needWorking(colourId, [first], current)[name])
        : given('enough for one pair', settledMg / 1000, 'g', 'yours', 'written down for it when it was begun');
    const isOnly = short.filter((words) => words === short[index]).length === 1;
    const pairText = isOnly ? short[index]! : wordsInFull(current, first);
    const words = `${countOf(count, 'pair', 'pairs')} like ${pairText}`;
    return work(times(words), given('pairs', count, 'count', 'yours', 'your orders'), one);
  });
  if (terms.length <= mostTerms) return sumOf('to buy', 'g', terms, 'each pair with what is enough for it alone');
  const grams = terms.reduce((sum, term) => sum + term.value, 0);
  return given('to buy', grams, 'g', 'ours', 'each pair below with what is enough for it alone, added up');
}
