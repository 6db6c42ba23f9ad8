import { countPairs, type MadePairs } from '#core/buying/count-pairs.ts';
import { type SearchResult, searchPairs } from '#core/buying/pair-search.ts';
import { type ShelfQuestion, type Way, waysOf } from '#core/buying/pair-ways.ts';

/** A size whose least cannot be met, and why: no lot has enough for one pair, it is too many by itself, or with the others. */
export type ShortSize = {
  readonly size: number;
  readonly least: number;
  readonly made: number;
  readonly why: 'no lot' | 'alone' | 'together';
  /** Pairs of this size if no other were made: what it can be at most where that is the reason, else what was found. */
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
  /** Numbers touched to find it. */
  readonly steps: number;
};

export type SearchLimits = {
  /** Numbers that the search may touch; the same question then ends at the same place on every machine. */
  readonly mostSteps: number;
};

/** About half a second on a small machine. Our own choice. */
export const usualSteps: SearchLimits = { mostSteps: 200_000_000 };
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
  return answerOf(question, ways, { ...found, counts }, Math.min(stepsOfPart, limits.mostSteps));
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

function answerOf(
  question: ShelfQuestion,
  ways: readonly Way[],
  found: SearchResult,
  mostStepsOfPart: number,
): MostPairs {
  const { lots, sizes } = question;
  const made = [...found.counts.entries()].flatMap(([column, count]): MadePairs[] => {
    const { kind, takes } = ways[column]!;
    return count === 0 ? [] : [{ kind, lotIds: takes.map(({ lot }) => lots[lot]!.id), count }];
  });
  const counted = countPairs(question, made);
  if (!counted) throw new Error('findMostPairs: the search put more on the shelf than it holds');
  let { steps } = found;
  const searchPart = (part: ShelfQuestion): SearchResult => {
    const result = searchPairs(part, waysOf(part), mostStepsOfPart);
    steps += result.steps;
    return result;
  };
  const short = sizes.flatMap(({ least }, size): ShortSize[] => {
    const own = counted.ofSize[size]!;
    if (own >= least) return [];
    const ofOne = { size, least, made: own };
    if (!ways.some((way) => way.size === size)) return [{ ...ofOne, why: 'no lot', mostAlone: 0 }];
    const { score, bound } = searchPart(aloneOf(question, size));
    return [
      bound < least ? { ...ofOne, why: 'alone', mostAlone: bound } : { ...ofOne, why: 'together', mostAlone: score },
    ];
  });
  // The score counts what leasts want first: what it can at most be beyond that is the most the pairs can be worth.
  const above = found.bound - found.leastWorth * counted.wanted;
  const withoutLeast = () => ({ ...question, sizes: sizes.map(({ most }) => ({ least: 0, most })) });
  const mostValue = above < found.leastWorth ? above : searchPart(withoutLeast()).bound;
  const { pairs, value, usedMg } = counted;
  return {
    ...{ made, pairs, value, usedMg, short, steps },
    mostValue: Math.max(value, mostValue),
    isBest: found.score === found.bound,
  };
}

/** The same shelf for one size alone. */
function aloneOf(question: ShelfQuestion, size: number): ShelfQuestion {
  const kinds = question.kinds.filter((kind) => kind.size === size).map((kind) => ({ ...kind, size: 0, value: 1 }));
  return { ...question, kinds, sizes: [{ least: 0, most: question.sizes[size]!.most }] };
}
