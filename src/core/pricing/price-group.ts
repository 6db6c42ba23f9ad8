import { applyEnding } from '#core/pricing/price.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';

/** One price for a run of sizes of a style at an outlet; both ends of the run belong to it. */
export type PriceGroup = {
  readonly id: number;
  readonly outletId: number;
  readonly styleId: number;
  readonly name: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly priceCents: number;
};

/** What a group must fit: a style and a foot, at an outlet. */
export type GroupWish = { readonly outletId: number; readonly styleId: number; readonly lengthMm: number };

// A foot length worked out from a label may miss the end of a run by a hair.
const hairMm = 0.005;

/**
 * The group whose one price a pair has at an outlet. Where two fit, the one for fewer sizes counts, then the first.
 *
 * @param groups of any outlets and styles
 * @param wish the pair's style and the length of its foot in mm, the left one where they differ
 * @returns null when no group fits
 * @example groupFor([{ outletId: 1, styleId: 2, fromMm: 220, toMm: 250, name: 'women' }], { outletId: 1, styleId: 2, lengthMm: 250 }).name // => 'women'
 * @example groupFor([{ outletId: 1, styleId: 2, fromMm: 220, toMm: 250, name: 'women' }], { outletId: 1, styleId: 2, lengthMm: 250.1 }) // => null
 * @example groupFor([], { outletId: 1, styleId: 2, lengthMm: 250 }) // => null
 */
export function groupFor<T extends PriceGroup>(groups: readonly T[], wish: GroupWish): T | null {
  let best: T | null = null;
  for (const group of groups) {
    if (group.outletId !== wish.outletId || group.styleId !== wish.styleId) continue;
    if (wish.lengthMm < group.fromMm - hairMm || wish.lengthMm > group.toMm + hairMm) continue;
    if (best === null || group.toMm - group.fromMm < best.toMm - best.fromMm) best = group;
  }
  return best;
}

/**
 * What a second is sold for: so much less than a good pair, to whole minor units, up to the outlet's ending, and never
 * more than the good pair.
 *
 * @param goodCents the price of a good pair, whole minor units from 0
 * @param offRatio how much less, 0 to 1: 0.3 is three tenths off
 * @param endingCents the outlet's price ending, 0 to 99; null for none
 * @throws {RangeError} when an argument is out of range
 * @example priceOfSecond(4450, 0.3, null) // => 3115
 * @example priceOfSecond(4450, 0.3, 50) // => 3150
 * @example priceOfSecond(4450, 0, 50) // => 4450
 * @example priceOfSecond(4400, 0.001, 50) // => 4400, the ending would be more than a good pair
 */
export function priceOfSecond(goodCents: number, offRatio: number, endingCents: number | null): number {
  requireWhole('priceOfSecond: goodCents', goodCents);
  requireRange('priceOfSecond: offRatio', offRatio, 0, 1);
  return Math.min(goodCents, applyEnding(goodCents * (1 - offRatio), endingCents));
}
