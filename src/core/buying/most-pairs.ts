import { type SearchResult, searchPairs } from '#core/buying/pair-search.ts';
import { type ShelfQuestion, type Way, waysOf } from '#core/buying/pair-ways.ts';
import { requireAbove0 } from '#core/shared/check.ts';

/** Like pairs of the answer: a kind, and the lot of each of its colours in the order of its needs. */
export type MadePairs = { readonly kind: number; readonly lotIds: readonly number[]; readonly count: number };

/** A size whose least cannot be met, and why: no lot has enough for one pair, it is too many by itself, or with the others. */
export type ShortSize = {
  readonly size: number;
  readonly least: number;
  readonly made: number;
  readonly why: 'no lot' | 'alone' | 'together';
  /** Pairs of this size if no other were made. */
  readonly mostAlone: number;
};

export type MostPairs = {
  readonly made: readonly MadePairs[];
  readonly pairs: number;
  /** Pairs by their value; `pairs` where every value is 1. */
  readonly value: number;
  /** No answer is worth more that leaves no size shorter than this one. */
  readonly mostValue: number;
  /** Whether nothing better is possible: `value` is `mostValue`, and no size that is short need be. */
  readonly isBest: boolean;
  readonly short: readonly ShortSize[];
  readonly usedMg: ReadonlyMap<number, number>;
};

export type SearchLimits = {
  /** Numbers that the search may touch; the same question then ends at the same place on every machine. */
  readonly mostSteps: number;
};

/** About half a second on a small machine. Our own choice. */
export const usualSteps: SearchLimits = { mostSteps: 40_000_000 };
const stepsOfPart = 4_000_000;
const mostExchanges = 400;

/**
 * The most pairs that a shelf can make: whole pairs, each colour of a pair from one lot, no lot used beyond its grams,
 * no size above its most. Each size's least comes first, then the number of pairs (or their value). Exact by branch and
 * bound as long as the steps last; after that the best found, with what it can at most be. Ties: more yarn of lots that
 * stand earlier, as far as single pairs can be exchanged for it; then ways in their order.
 *
 * @param question lots, kinds and sizes; without lots or kinds nothing is made
 * @param limits how long to search
 * @param start pairs that are known to be possible, of the same question; the answer is never worse
 * @throws {RangeError} when an amount is no positive number, or a start takes more than there is
 * Source: multiple knapsack with shared items; compared with enumeration and with another solver in the tests
 * @example findMostPairs({ lots: [{ id: 4, yarnColourId: 1, freeMg: 100 }], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 30 }] }], sizes: [{ least: 0, most: 9 }] }).made // => [{ kind: 0, lotIds: [4], count: 3 }]
 * @example findMostPairs({ lots: [], kinds: [], sizes: [] }).pairs // => 0
 */
export function findMostPairs(
  question: ShelfQuestion,
  limits: SearchLimits = usualSteps,
  start: readonly MadePairs[] = [],
): MostPairs {
  const ways = waysOf(question);
  const found = searchPairs(question, ways, limits.mostSteps, countsFrom(question, ways, start));
  const counts = useEarlierLots(question, ways, found.counts);
  return answerOf(question, ways, { ...found, counts });
}

const wayKey = (kind: number, lotIds: readonly number[]) => `${kind}/${lotIds.join('/')}`;

function keyOf({ lots }: ShelfQuestion, { kind, takes }: Way): string {
  return wayKey(
    kind,
    takes.map(({ lot }) => lots[lot]!.id),
  );
}

function countsFrom(question: ShelfQuestion, ways: readonly Way[], start: readonly MadePairs[]): Int32Array | null {
  if (start.length === 0) return null;
  const columnOf = new Map(ways.map((way, column) => [keyOf(question, way), column]));
  const counts = new Int32Array(ways.length);
  for (const { kind, lotIds, count } of start) {
    const column = columnOf.get(wayKey(kind, lotIds));
    if (column === undefined) throw new RangeError(`findMostPairs: start must be ways of this question, got ${kind}`);
    counts[column]! += count;
  }
  return counts;
}

/** Exchanges single pairs of a size for others worth the same that use more of earlier lots. */
function useEarlierLots({ lots }: ShelfQuestion, ways: readonly Way[], found: Int32Array): Int32Array {
  const counts = found.slice();
  const freeMg = lots.map((lot) => Math.floor(lot.freeMg));
  for (const [column, { takes }] of ways.entries())
    for (const { lot, mg } of takes) freeMg[lot]! -= mg * counts[column]!;
  const gainOf = ({ takes }: Way) => takes.reduce((sum, { lot, mg }) => sum + (lots.length - lot) * mg, 0);
  const gains = ways.map(gainOf);
  const byGain = [...ways.keys()].sort((a, b) => gains[b]! - gains[a]! || a - b);
  for (let exchanges = 0, again = true; again && exchanges < mostExchanges; ) {
    again = false;
    for (const column of ways.keys()) {
      while (counts[column]! > 0 && exchanges < mostExchanges) {
        const from = ways[column]!;
        for (const { lot, mg } of from.takes) freeMg[lot]! += mg;
        const better = byGain.find(
          (each) =>
            gains[each]! <= gains[column]! ||
            (ways[each]!.size === from.size &&
              ways[each]!.value === from.value &&
              ways[each]!.takes.every(({ lot, mg }) => freeMg[lot]! >= mg)),
        );
        const isBetter = better !== undefined && gains[better]! > gains[column]!;
        const to = isBetter ? better : column;
        for (const { lot, mg } of ways[to]!.takes) freeMg[lot]! -= mg;
        if (!isBetter) break;
        counts[column]! -= 1;
        counts[to]! += 1;
        exchanges += 1;
        again = true;
      }
    }
  }
  return counts;
}

function answerOf(question: ShelfQuestion, ways: readonly Way[], found: SearchResult): MostPairs {
  const { lots, sizes } = question;
  const made: MadePairs[] = [];
  const usedMg = new Map<number, number>();
  const ofSize = sizes.map(() => 0);
  let value = 0;
  for (const [column, count] of found.counts.entries()) {
    if (count === 0) continue;
    const way = ways[column]!;
    made.push({ kind: way.kind, lotIds: way.takes.map(({ lot }) => lots[lot]!.id), count });
    for (const { lot, mg } of way.takes) {
      const { id } = lots[lot]!;
      usedMg.set(id, (usedMg.get(id) ?? 0) + mg * count);
    }
    ofSize[way.size]! += count;
    value += count * way.value;
  }
  const short = sizes.flatMap(({ least }, size): ShortSize[] => {
    const own = ofSize[size]!;
    if (own >= least) return [];
    if (!ways.some((way) => way.size === size)) return [{ size, least, made: own, why: 'no lot', mostAlone: 0 }];
    const mostAlone = mostOfSize(question, size);
    return [{ size, least, made: own, why: mostAlone < least ? 'alone' : 'together', mostAlone }];
  });
  // The score counts what leasts want first: what it can at most be beyond that is the most the pairs can be worth.
  const wanted = found.leastWorth * sizes.reduce((sum, { least }, size) => sum + Math.min(least, ofSize[size]!), 0);
  const above = found.bound - wanted;
  const mostValue = above < found.leastWorth ? above : mostWithoutLeast(question, ways);
  return {
    made,
    pairs: ofSize.reduce((sum, count) => sum + count, 0),
    value,
    mostValue: Math.max(value, mostValue),
    isBest: found.score === found.bound,
    short,
    usedMg,
  };
}

function mostOfSize(question: ShelfQuestion, size: number): number {
  const kinds = question.kinds.filter((kind) => kind.size === size).map((kind) => ({ ...kind, size: 0, value: 1 }));
  const alone = { ...question, kinds, sizes: [{ least: 0, most: question.sizes[size]!.most }] };
  return searchPairs(alone, waysOf(alone), stepsOfPart).score;
}

function mostWithoutLeast(question: ShelfQuestion, ways: readonly Way[]): number {
  const sizes = question.sizes.map(({ most }) => ({ least: 0, most }));
  return searchPairs({ ...question, sizes }, ways, stepsOfPart).bound;
}

/** A ball that might be bought: it comes as a lot of its own. */
export type Ball = { readonly yarnColourId: number; readonly mg: number };

/** What one ball more of a colour would add: `atLeast` was found, `atMost` is the end of it. */
export type OneMoreBall = {
  readonly yarnColourId: number;
  readonly atLeast: number;
  readonly atMost: number;
};

/**
 * What one more ball of each colour would add to the pairs of an answer. The ball is another dye lot, so no pair mixes it
 * with what is there in one colour.
 *
 * @param answer of the same question
 * @param balls one a colour, mg above 0
 * @param limits how long to search for each
 * @returns one entry a ball, in their order; never below 0
 * @example oneMoreBall({ lots: [], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 30 }] }], sizes: [{ least: 0, most: 9 }] }, findMostPairs({ lots: [], kinds: [], sizes: [] }), [{ yarnColourId: 1, mg: 70 }]) // => [{ yarnColourId: 1, atLeast: 2, atMost: 2 }]
 */
export function oneMoreBall(
  question: ShelfQuestion,
  answer: Pick<MostPairs, 'made' | 'pairs'>,
  balls: readonly Ball[],
  limits: SearchLimits = { mostSteps: stepsOfPart },
): readonly OneMoreBall[] {
  const newId = 1 + Math.max(0, ...question.lots.map((lot) => lot.id));
  return balls.map(({ yarnColourId, mg }) => {
    requireAbove0('oneMoreBall: balls.mg', mg);
    const lots = [...question.lots, { id: newId, yarnColourId, freeMg: mg }];
    const counted = { ...question, lots, kinds: question.kinds.map((kind) => ({ ...kind, value: 1 })) };
    const more = findMostPairs(counted, limits, answer.made);
    const atLeast = Math.max(0, more.pairs - answer.pairs);
    return { yarnColourId, atLeast, atMost: Math.max(atLeast, more.mostValue - answer.pairs) };
  });
}
