import type { WantedPair } from '#core/batch/net-to-make.ts';
import { confidences } from '#core/shared/estimate.ts';
import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';
import { formatGrams } from '#core/shared/format.ts';
import { pairAmounts } from '#core/yardage/needs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import type { WorkingTable } from '#flows/working/page.ts';
import { pairWords } from '#flows/working/words.ts';
import { sumOf } from '#flows/working/yarn-figures.ts';

/** A pair to make with the knitter the plan gives it. */
export type PlannedPair = { readonly pair: WantedPair; readonly knitterId: number | null };

/** All pairs to make, with their knitters, in planning order. */
export function plannedPairs({ plan }: WorkshopPlan): PlannedPair[] {
  return plan.wanted.pairs.map((pair, index) => ({ pair, knitterId: plan.weeks[index]?.knitterId ?? null }));
}

type Group = { name: string; grams: number; sharedSd: number; ownVariance: number };

function groupsOf(colourId: number, pairs: readonly PlannedPair[], { plan, input }: WorkshopPlan): Group[] {
  const groups = new Map<string, Group>();
  for (const { pair, knitterId } of pairs) {
    const spec = plan.handwork.specOf(pair.kind, knitterId);
    for (const each of pairAmounts(pair.kind, spec)) {
      if (each.yarnColourId !== colourId) continue;
      const knitters = input.knitters.filter((knitter) => knitter.handKey === spec.handKey).map(({ name }) => name);
      const fabric = each.fabric === 'stocking' ? 'stocking stitch' : each.fabric;
      const name = `${knitters.join(' and ') || 'a usual hand'}, ${fabric}`;
      const group = groups.get(each.group) ?? { name, grams: 0, sharedSd: 0, ownVariance: 0 };
      group.grams += each.grams.mean;
      group.sharedSd += each.grams.sharedSd;
      group.ownVariance += each.grams.ownVariance;
      groups.set(each.group, group);
    }
  }
  return [...groups.values()];
}

const groupErrorRule = (name: string) =>
  rule(
    {
      name,
      unit: 'g',
      mark: 'ours',
      source: 'a wrong length of yarn in one stitch is wrong in every pair of this hand, yarn and fabric: it adds up',
      words: '{weight} x {error of one stitch}',
    },
    (grams: number, ratio: number) => grams * ratio,
  );

function rootOfSquares(name: string, source: string, inputs: readonly Figure[]): Figure {
  const squares = inputs.map((_, index) => `{error ${index + 1}} x {error ${index + 1}}`).join(' + ');
  const words = `square root of (${squares})`;
  return work(
    rule({ name, unit: 'g', mark: 'ours', source, words }, (...values: number[]) => Math.hypot(...values)),
    ...inputs,
  );
}

const safeRule = rule(
  {
    name: 'safe amount',
    unit: 'g',
    mark: 'published',
    source: 'normal distribution: so many spreads above the middle are enough so many times (any statistical table)',
    words: '{most likely} + {spreads for safety} x {error}',
  },
  (mean: number, z: number, sd: number) => mean + z * sd,
);

/** What some pairs need of a colour: most likely, how sure that is, and the safe amount. */
export type NeedWorking = { readonly safe: Figure; readonly likely: Figure };

/**
 * The need of a colour from the plan's own pairs.
 *
 * @param pairs those whose yarn of this colour counts
 */
export function needWorking(colourId: number, pairs: readonly PlannedPair[], current: WorkshopPlan): NeedWorking {
  const groups = groupsOf(colourId, pairs, current);
  const { confidence } = current.input.settings;
  const chance = confidences.find((each) => Math.abs(each.ratio - confidence) < 1e-9)!;
  const weights = groups.map((group) => given(group.name, group.grams, 'g', 'ours', 'the pairs below, added up'));
  const errors = groups.map((group, index) =>
    work(
      groupErrorRule(`error, ${group.name}`),
      weights[index]!,
      given('error of one stitch', group.grams === 0 ? 0 : group.sharedSd / group.grams, 'ratio', 'ours', 'one sd'),
    ),
  );
  const own = given(
    'own errors of the pairs',
    Math.sqrt(groups.reduce((sum, group) => sum + group.ownVariance, 0)),
    'g',
    'ours',
    '5 % of each part of each pair; they are independent and add as squares',
  );
  const shared = rootOfSquares('shared errors', 'hands, yarns and fabrics err on their own: squares add', errors);
  const error = rootOfSquares('error', 'two kinds of error that have nothing to do with each other', [shared, own]);
  const likely = withSd(sumOf('most likely', 'g', weights), error.value);
  const spreads = given('spreads for safety', chance.z, 'ratio', 'published', `enough ${chance.words}`);
  return { likely, safe: work(safeRule, likely, spreads, error) };
}

/** Pairs with their grams of a colour and where that yarn comes from. */
export function needTable(
  caption: string,
  colourId: number,
  pairs: readonly PlannedPair[],
  current: WorkshopPlan,
  placeOf: (pair: WantedPair) => string,
): WorkingTable {
  const nameOf = (id: number | null) => current.input.knitters.find((each) => each.id === id)?.name ?? 'nobody yet';
  const gramsOf = ({ pair, knitterId }: PlannedPair) =>
    current.plan.handwork.yarnOf(pair.kind, knitterId).find((each) => each.yarnColourId === colourId)?.grams ?? 0;
  const rows = pairs.map((each) => [
    pairWords(current, each.pair),
    nameOf(each.knitterId),
    formatGrams(gramsOf(each)),
    placeOf(each.pair),
  ]);
  const total = pairs.reduce((sum, each) => sum + gramsOf(each), 0);
  return {
    caption,
    columns: [
      { name: 'Pair', kind: 'heading' },
      { name: 'Knitted by' },
      { name: 'Most likely', kind: 'number' },
      { name: 'Its yarn' },
    ],
    rows,
    footer: ['All', null, formatGrams(total), null],
  };
}
