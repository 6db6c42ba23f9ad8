import type { WantedPair } from '#core/batch/net-to-make.ts';
import { confidences } from '#core/shared/estimate.ts';
import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';
import { formatNumber } from '#core/shared/format.ts';
import { roundParts } from '#core/shared/round-parts.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
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

/** Yarn whose error is one and the same: of one hand, yarn and fabric. Its parts are the pairs. */
type Group = { name: string; parts: Figure[]; error: Figure | null; sharedSd: number; ownVariance: number };

/** The error of one stitch with its working, where all strands of a pair in this yarn and fabric have the same. */
function errorOf(pair: WantedPair, handKey: string, group: string, { input }: WorkshopPlan): Figure | null {
  const hand = input.hands.find((each) => each.key === handKey);
  if (!hand) return null;
  const { metres } = specifyWithWorking(pair.kind.shape, hand);
  return metres.find(({ yarn, fabric }) => `${handKey}/${yarn.id}/${fabric}` === group)?.error ?? null;
}

function groupsOf(colourId: number, pairs: readonly PlannedPair[], current: WorkshopPlan): Group[] {
  const { plan, input } = current;
  const groups = new Map<string, Group>();
  for (const { pair, knitterId } of pairs) {
    const spec = plan.handwork.specOf(pair.kind, knitterId);
    for (const each of pairAmounts(pair.kind, spec)) {
      if (each.yarnColourId !== colourId) continue;
      const knitters = input.knitters.filter((knitter) => knitter.handKey === spec.handKey).map(({ name }) => name);
      const fabric = each.fabric === 'stocking' ? 'stocking stitch' : each.fabric;
      const name = `${knitters.join(' and ') || 'a usual hand'}, ${fabric}`;
      let group = groups.get(each.group);
      if (!group) {
        const error = errorOf(pair, spec.handKey, each.group, current);
        group = { name, parts: [], error, sharedSd: 0, ownVariance: 0 };
        groups.set(each.group, group);
      }
      const source = `${fabric} in this colour: the pair’s own working, in the table below`;
      group.parts.push(given(pairWords(current, pair), each.grams.mean, 'g', 'ours', source));
      group.sharedSd += each.grams.sharedSd;
      group.ownVariance += each.grams.ownVariance;
    }
  }
  return [...groups.values()];
}

/** One error for the whole group: that of its stitches, or what it comes to where strands differ. */
function groupError({ error, sharedSd }: Group, grams: number): Figure {
  const ratio = grams === 0 ? 0 : sharedSd / grams;
  if (error && Math.abs(error.value - ratio) < 1e-9) return error;
  return given('error of one stitch', ratio, 'percent', 'ours', 'the mean of its parts');
}

const ownErrorRule = rule(
  {
    name: 'own errors of the pairs',
    unit: 'g',
    mark: 'ours',
    source: 'each part of each pair errs by 5 % on its own: the squares add',
    words: '0.05 x square root of ({sum of squares})',
  },
  (squares: number) => 0.05 * Math.sqrt(squares),
);

/** What every pair errs by on its own. */
function ownError(groups: readonly Group[]): Figure {
  const sd = Math.sqrt(groups.reduce((sum, group) => sum + group.ownVariance, 0));
  const squares = groups.flatMap(({ parts }) => parts).reduce((sum, { value }) => sum + value * value, 0);
  const all = given('sum of squares', squares, 'count', 'ours', 'each weight above times itself, added up');
  const figure = work(ownErrorRule, all);
  // Strands of one colour that differ err together and not by 5 % of their sum.
  if (Math.abs(figure.value - sd) < 1e-6) return figure;
  return given('own errors of the pairs', sd, 'g', 'ours', '5 % of each part of each pair; their squares add');
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
  const weights = groups.map((group) => sumOf(group.name, 'g', group.parts));
  const errors = groups.map((group, index) =>
    work(groupErrorRule(`error, ${group.name}`), weights[index]!, groupError(group, weights[index]!.value)),
  );
  const shared =
    errors.length === 1
      ? errors[0]!
      : rootOfSquares('shared errors', 'hands, yarns and fabrics err on their own: squares add', errors);
  const error = rootOfSquares('error', 'two kinds of error that have nothing to do with each other', [
    shared,
    ownError(groups),
  ]);
  const likely = withSd(sumOf('most likely', 'g', weights), error.value);
  const spreads = given('spreads for safety', chance.z, 'ratio', 'published', `enough ${chance.words}`);
  return { likely, safe: work(safeRule, likely, spreads, error) };
}

/**
 * A column of grams that adds up to its total as it stands on the page: whole, or in tenths where a part is below 10 g.
 */
function gramsColumn(parts: readonly number[]): { readonly texts: string[]; readonly total: string } {
  const perGram = parts.some((grams) => grams < 9.95) ? 10 : 1;
  const shown = roundParts(parts.map((grams) => grams * perGram));
  const textOf = (count: number) => `${formatNumber(count / perGram, 1)}\u00a0g`;
  return { texts: shown.map(textOf), total: textOf(shown.reduce((sum, count) => sum + count, 0)) };
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
  const grams = gramsColumn(pairs.map(gramsOf));
  const rows = pairs.map((each, index) => [
    pairWords(current, each.pair),
    nameOf(each.knitterId),
    grams.texts[index]!,
    placeOf(each.pair),
  ]);
  return {
    caption,
    columns: [
      { name: 'Pair', kind: 'heading' },
      { name: 'Knitted by' },
      { name: 'Most likely', kind: 'number' },
      { name: 'Its yarn' },
    ],
    rows,
    footer: ['All', null, grams.total, null],
    hrefs: pairs.map(({ pair, knitterId }) =>
      pair.lineId === null
        ? null
        : `/working/yardage/grams/${pair.lineId}${knitterId === null ? '' : `?knitter=${knitterId}`}`,
    ),
  };
}
