import { requireWhole } from '#core/shared/check.ts';
import { countOf } from '#core/shared/format.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';

/** A pair that was taken along, and what is known of it since. */
export type TakenPair = {
  readonly pairId: number;
  /** A sale that stands has this pair. */
  readonly isSold: boolean;
  /** Null until what came home was counted. */
  readonly cameHome: boolean | null;
  /** It came home and has left from there since, so that it cannot be sold here any more. */
  readonly leftLater?: boolean;
};

/** Like pairs in numbers: each pair is sold, at home or missing, and never two of these. */
export type KindCounts = {
  readonly taken: number;
  readonly sold: number;
  /** Null until counted. */
  readonly home: number | null;
  /** Neither noted as sold nor at home; null until counted. */
  readonly missing: number | null;
};

/**
 * Like pairs in numbers. What is missing was taken, did not come home and is in no sale: a sale that was not noted, or a
 * loss.
 *
 * @param pairs like pairs that were taken along
 * @example countKind([{ pairId: 1, isSold: true, cameHome: null }, { pairId: 2, isSold: false, cameHome: null }]) // => { taken: 2, sold: 1, home: null, missing: null }
 * @example countKind([{ pairId: 1, isSold: true, cameHome: false }, { pairId: 2, isSold: false, cameHome: true }, { pairId: 3, isSold: false, cameHome: false }]) // => { taken: 3, sold: 1, home: 1, missing: 1 }
 * @example countKind([]) // => { taken: 0, sold: 0, home: null, missing: null }
 */
export function countKind(pairs: readonly TakenPair[]): KindCounts {
  const taken = pairs.length;
  const sold = pairs.filter(({ isSold }) => isSold).length;
  if (pairs.every(({ cameHome }) => cameHome === null)) return { taken, sold, home: null, missing: null };
  const home = pairs.filter(({ isSold, cameHome }) => !isSold && cameHome === true).length;
  return { taken, sold, home, missing: taken - sold - home };
}

/** What was typed for like pairs: sales not noted before, and how many are at home in all; null where not counted. */
export type TypedKind = { readonly sold: number; readonly home: number | null };

const isMissing = ({ isSold, cameHome, leftLater }: TakenPair) => !isSold && cameHome !== true && !leftLater;

function tooMany(path: string, message: string): Problem {
  return { code: 'moreThanTaken', path, message };
}

/**
 * Like pairs after sales and a count were typed in. Sales noted before are kept, the ones typed come on top, and the
 * count is of what stands at home when all is done: sold and home together cannot be more than were taken. Sold are
 * the first pairs that did not come home, at home the last that are not sold, so that it does not matter in which order
 * or in how many goes a day is typed in.
 *
 * @param pairs like pairs in the order in which they are sold
 * @param typed whole numbers from 0
 * @param paths the fields where a fault is said
 * @returns the pairs in the same order, or a problem at the field that says too much
 * @throws {RangeError} when a number is negative or not whole
 * Source: our own rule, since a paper tally does not say which of like pairs was sold
 * @example typeInKind([{ pairId: 1, isSold: false, cameHome: null }, { pairId: 2, isSold: false, cameHome: null }], { sold: 1, home: 1 }, { sold: 'sold', home: 'home' }).value // => [{ pairId: 1, isSold: true, cameHome: false }, { pairId: 2, isSold: false, cameHome: true }]
 * @example typeInKind([{ pairId: 1, isSold: false, cameHome: null }], { sold: 1, home: 1 }, { sold: 'sold', home: 'home' }).ok // => false
 */
export function typeInKind(
  pairs: readonly TakenPair[],
  typed: TypedKind,
  paths: { readonly sold: string; readonly home: string },
): Result<readonly TakenPair[]> {
  requireWhole('typeInKind: sold', typed.sold);
  if (typed.home !== null) requireWhole('typeInKind: home', typed.home);
  const { taken, sold: before } = countKind(pairs);
  const sold = before + typed.sold;
  const later = pairs.filter(({ leftLater }) => leftLater).length;
  const here = `${countOf(taken, 'pair was', 'pairs were')} taken along`;
  if (sold > taken - later) {
    const noted = before > 0 ? `, ${before} noted as sold before` : '';
    const gone = later > 0 ? `, ${later} left from home since` : '';
    const most = taken - later - before;
    const message = `${here}${noted}${gone}: at most ${most} more can have been sold. Enter that or less, or note the sale under “A pair that is not in the list”.`;
    return refuse(tooMany(paths.sold, message));
  }
  if (typed.home !== null && sold + typed.home > taken) {
    const message = `${here}: ${sold} sold and ${typed.home} at home make ${sold + typed.home}. Count again, or take back a sale that was noted wrongly.`;
    return refuse(tooMany(paths.home, message));
  }
  if (typed.home !== null && typed.home < later) {
    const message = `${countOf(later, 'pair of these has', 'pairs of these have')} left from home since, so at least ${later} came home.`;
    return refuse(tooMany(paths.home, message));
  }
  let toSell = typed.sold;
  const afterSales = pairs.map((pair) => {
    if (pair.isSold || pair.leftLater || toSell === 0) return { ...pair, cameHome: null };
    toSell -= 1;
    return { ...pair, isSold: true, cameHome: null };
  });
  return succeed(typed.home === null ? afterSales : countHome(afterSales, typed.home));
}

function countHome(pairs: readonly TakenPair[], home: number): TakenPair[] {
  let notHome = pairs.filter(({ isSold }) => !isSold).length - home;
  return pairs.map((pair) => {
    if (pair.isSold) return { ...pair, cameHome: false };
    if (notHome === 0 || pair.leftLater) return { ...pair, cameHome: true };
    notHome -= 1;
    return { ...pair, cameHome: false };
  });
}

/**
 * The pairs that are missing, in their order: to be booked as sold, or noted as lost.
 *
 * @param pairs like pairs; none are missing until what came home was counted
 * @example missingPairs([{ pairId: 1, isSold: true, cameHome: false }, { pairId: 2, isSold: false, cameHome: true }, { pairId: 3, isSold: false, cameHome: false }]).map((pair) => pair.pairId) // => [3]
 * @example missingPairs([{ pairId: 1, isSold: false, cameHome: null }]) // => []
 */
export function missingPairs(pairs: readonly TakenPair[]): readonly TakenPair[] {
  return countKind(pairs).home === null ? [] : pairs.filter(isMissing);
}

/**
 * Like pairs after a sale was taken back: its pair is unsold again and all else as it was.
 *
 * @example takeBack([{ pairId: 1, isSold: true, cameHome: null }], 1) // => [{ pairId: 1, isSold: false, cameHome: null }]
 */
export function takeBack(pairs: readonly TakenPair[], pairId: number): readonly TakenPair[] {
  return pairs.map((pair) => (pair.pairId === pairId ? { ...pair, isSold: false } : pair));
}
