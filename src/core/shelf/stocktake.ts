import type { Day } from '#core/shared/calendar.ts';
import { requireAbove0, requireRange } from '#core/shared/check.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/**
 * What to book when a ball was put on the scale: nothing where the scale would have shown the same for what is written
 * down, since it cannot tell them apart; else the whole difference.
 *
 * @param bookMg what is written down, milligrams, at least 0
 * @param shownMg what the scale shows, milligrams, at least 0
 * @param stepMg the smallest step of the scale, milligrams, above 0
 * @returns milligrams, below 0 where there is less than was written down
 * @throws {RangeError} when an argument is outside its range
 * @example differenceToBook(43200, 43000, 1000) // => 0, a scale of whole grams shows 43 for both
 * @example differenceToBook(43200, 42000, 1000) // => -1200
 * @example differenceToBook(43200, 43000, 100) // => -200
 */
export function differenceToBook(bookMg: number, shownMg: number, stepMg: number): number {
  requireRange('differenceToBook: bookMg', bookMg, 0);
  requireRange('differenceToBook: shownMg', shownMg, 0);
  requireAbove0('differenceToBook: stepMg', stepMg);
  // An empty scale is no step of anything: nothing left is nothing left.
  if (shownMg === 0) return 0 - bookMg;
  return roundHalfUp(bookMg / stepMg) === roundHalfUp(shownMg / stepMg) ? 0 : shownMg - bookMg;
}

/** A ball heavier than so many times what it can be is most likely a slip of the keys. Our own choice. */
const slipTimes = 1.5;

/**
 * Whether a weight is most likely a slip of the keys, to be asked about: a ball gets no heavier, so it can be what is
 * written down, or a whole ball that was written down as less, and half as much again for what nobody knows.
 *
 * @param bookMg what is written down, milligrams, at least 0
 * @param wholeMg a whole ball of that yarn, milligrams, above 0
 * @param shownMg what was typed, milligrams, at least 0
 * @throws {RangeError} when an argument is outside its range
 * @example isLikelySlip(100000, 100000, 10000000) // => true, 10 kg for 100 g
 * @example isLikelySlip(300000, 100000, 3000000) // => true
 * @example isLikelySlip(43000, 100000, 150000) // => false
 */
export function isLikelySlip(bookMg: number, wholeMg: number, shownMg: number): boolean {
  requireRange('isLikelySlip: bookMg', bookMg, 0);
  requireAbove0('isLikelySlip: wholeMg', wholeMg);
  requireRange('isLikelySlip: shownMg', shownMg, 0);
  return shownMg > slipTimes * Math.max(bookMg, wholeMg);
}

/** A begun pair that has yarn of a lot put aside. */
export type LotHolder = {
  /** What it still has to knit of it, milligrams, at least 0. */
  readonly mg: number;
  /** Some of it is knitted already, so that another dye lot would show. */
  readonly isUnderWay: boolean;
  readonly dueDay: Day | null;
};

/**
 * The pairs that are left without enough yarn when a lot has less than they still need. Pairs that are under way keep
 * theirs first, then those that are due first (none last), then in the order given; each keeps its own where the rest of
 * the lot is enough for the whole of it, since a pair never mixes lots in a colour.
 *
 * @param massMg what the lot has, milligrams, at least 0
 * @param stepMg what the scale cannot show, milligrams, at least 0: so much too little is none
 * @returns those that go without, in the order given; none where there is enough
 * @throws {RangeError} when an argument is outside its range
 * @example pairsLeftShort(100, [{ mg: 60, isUnderWay: false, dueDay: '2026-12-01' }, { mg: 50, isUnderWay: false, dueDay: '2026-12-20' }], 0).map(({ mg }) => mg) // => [50]
 * @example pairsLeftShort(110, [{ mg: 60, isUnderWay: false, dueDay: null }, { mg: 50, isUnderWay: false, dueDay: null }], 0) // => []
 */
export function pairsLeftShort<T extends LotHolder>(
  massMg: number,
  holders: readonly T[],
  stepMg: number,
): readonly T[] {
  requireRange('pairsLeftShort: massMg', massMg, 0);
  requireRange('pairsLeftShort: stepMg', stepMg, 0);
  const rankOf = ({ isUnderWay, dueDay }: T) => `${isUnderWay ? 0 : 1} ${dueDay ?? '9999'}`;
  const order = [...holders].sort((a, b) => (rankOf(a) < rankOf(b) ? -1 : rankOf(a) > rankOf(b) ? 1 : 0));
  let leftMg = massMg + stepMg;
  const kept = new Set<T>();
  for (const holder of order) {
    requireRange('pairsLeftShort: mg', holder.mg, 0);
    if (holder.mg > leftMg) continue;
    kept.add(holder);
    leftMg -= holder.mg;
  }
  return holders.filter((holder) => !kept.has(holder));
}
