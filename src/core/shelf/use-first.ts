import { requireRange } from '#core/shared/check.ts';
import { endMm } from '#core/yardage/rules.ts';

/** A ball as the list of what to use first sees it. */
export type BallLeft = {
  readonly ballId: number;
  readonly massMg: number;
  readonly isGiven: boolean;
  /** The shop still takes it back: it is worth money as it is. */
  readonly isReturnable: boolean;
};

/**
 * Part balls and ends in the order to use them up: given yarn before bought, what the shop still takes back last, and in
 * each of the three the smallest first, as a small end is good for fewer things.
 *
 * @param balls part balls and ends; whole balls are not to be opened for this
 * @returns the same balls; ties by id
 * @example useFirst([{ ballId: 1, massMg: 9, isGiven: false, isReturnable: false }, { ballId: 2, massMg: 30, isGiven: true, isReturnable: false }]).map((ball) => ball.ballId) // => [2, 1]
 */
export function useFirst<T extends BallLeft>(balls: readonly T[]): readonly T[] {
  const rankOf = (ball: T) => (ball.isReturnable ? 2 : ball.isGiven ? 0 : 1);
  return [...balls].sort((a, b) => rankOf(a) - rankOf(b) || a.massMg - b.massMg || a.ballId - b.ballId);
}

/**
 * What is free of each ball of a lot when some of the lot is put aside: that is used from the smallest ball on, as it is
 * booked when a pair is finished.
 *
 * @param ballsMg what is on each ball, milligrams, at least 0
 * @param promisedMg put aside of the lot, milligrams, at least 0
 * @returns milligrams free, in the order of the balls; what is put aside beyond all of them is dropped
 * @throws {RangeError} when an amount is negative or not finite
 * @example freeOfBalls([100000, 43000, 27000], 50000) // => [100000, 20000, 0]
 * @example freeOfBalls([40000], 0) // => [40000]
 */
export function freeOfBalls(ballsMg: readonly number[], promisedMg: number): readonly number[] {
  let left = requireRange('freeOfBalls: promisedMg', promisedMg, 0);
  const free = ballsMg.map((mg) => requireRange('freeOfBalls: ballsMg', mg, 0));
  const smallestFirst = [...free.keys()].sort((a, b) => free[a]! - free[b]! || a - b);
  for (const at of smallestFirst) {
    const taken = Math.min(left, free[at]!);
    free[at]! -= taken;
    left -= taken;
  }
  return free;
}

/** What the parts of a usual pair take of a yarn, grams for both slippers. */
export type PairParts = {
  readonly pairG: number;
  /** Parts of another colour, like the cuffs or the toes. */
  readonly parts: readonly { readonly words: string; readonly grams: number }[];
  /** One row across both feet. */
  readonly rowG: number;
  /** Rows that a foot has for stripes. */
  readonly rows: number;
  /** Grams in a metre, all strands together. */
  readonly gramsPerM: number;
};

/** What a ball would still do. */
export type StillDoes = {
  readonly isWholePair: boolean;
  /** Words of the parts that it is enough for, the one that takes most first. */
  readonly parts: readonly string[];
  /** Rows of one stripe in each of both slippers, no more than a foot has; below 2 is no stripe. */
  readonly stripeRows: number;
};

/**
 * What a part ball is still enough for: a whole pair, a part of another colour, or a stripe, its two ends in each slipper
 * taken off first. Likely amounts with the safety that the workshop buys at are the caller's.
 *
 * @param massG what is on the ball, grams, at least 0
 * @param usual what a usual pair takes of this yarn
 * @throws {RangeError} when an amount is negative or not finite
 * @example whatItStillDoes(20, { pairG: 100, parts: [{ words: 'cuffs', grams: 18 }], rowG: 1.5, rows: 30, gramsPerM: 1 }).parts // => ['cuffs']
 * @example whatItStillDoes(5, { pairG: 100, parts: [], rowG: 1.5, rows: 30, gramsPerM: 1 }).stripeRows // => 2, (5 - 0.6) / 1.5
 */
export function whatItStillDoes(massG: number, usual: PairParts): StillDoes {
  requireRange('whatItStillDoes: massG', massG, 0);
  const endsG = ((4 * endMm) / 1000) * usual.gramsPerM;
  return {
    isWholePair: massG >= usual.pairG,
    parts: [...usual.parts]
      .filter(({ grams }) => grams > 0 && massG >= grams)
      .sort((a, b) => b.grams - a.grams)
      .map(({ words }) => words),
    stripeRows: usual.rowG > 0 ? Math.min(usual.rows, Math.max(0, Math.floor((massG - endsG) / usual.rowG + 1e-9))) : 0,
  };
}
