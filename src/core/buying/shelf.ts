import type { Day } from '#core/shared/calendar.ts';

/** What is left of one dye lot on the shelf, or of a purchase that is on its way to it. */
export type ShelfLot = {
  readonly id: number;
  readonly yarnColourId: number;
  readonly dyeLot: string;
  /** Usable and not reserved, mg. */
  readonly freeMg: number;
  /** What the lot cost and weighed when it came in; given yarn costs 0. */
  readonly paidCents: number;
  readonly boughtMg: number;
  /** The day it should be here, while it is on its way; left out when it is here. */
  readonly fromDay?: Day;
  /** Rows of a colour with one key are one dye lot. */
  readonly lotKey?: string | undefined;
};

/**
 * What tells rows of a colour to be one dye lot: the same number on the label, however it is written down. Without a
 * number nothing tells.
 *
 * @example lotKeyOf(' A12 ') === lotKeyOf('a12') // => true
 * @example lotKeyOf(null) // => undefined
 */
export function lotKeyOf(dyeLot: string | null): string | undefined {
  const number = (dyeLot ?? '').trim().toLowerCase();
  return number === '' ? undefined : `number ${number}`;
}

/**
 * The dye lot that a row of the shelf is of: rows of a colour that have one of these are one dye lot.
 *
 * @example dyeLotOf({ id: 4, dyeLot: 'A12' }) === dyeLotOf({ id: 6, dyeLot: 'a12' }) // => true
 * @example dyeLotOf({ id: 4, dyeLot: null }) === dyeLotOf({ id: 6, dyeLot: null }) // => false
 */
export function dyeLotOf({ id, dyeLot }: { readonly id: number; readonly dyeLot: string | null }): string {
  return lotKeyOf(dyeLot) ?? `row ${id}`;
}

/**
 * What of a lot can be used: the sum of its balls, part balls under the least weight left out, less what is reserved.
 *
 * @param ballsMg weight of each ball, mg, at least 0
 * @param reservedMg already promised to a batch, mg
 * @param leastBallMg part balls under this are ends, mg
 * @returns mg, never below 0
 * @example usableMg([100000, 4000], 30000, 5000) // => 70000
 * @example usableMg([4000], 0, 5000) // => 0
 */
export function usableMg(ballsMg: readonly number[], reservedMg: number, leastBallMg: number): number {
  const usable = ballsMg.filter((mg) => mg >= leastBallMg).reduce((sum, mg) => sum + mg, 0);
  return Math.max(0, usable - reservedMg);
}
