import type { Offer, Supplier } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';

/** The least delivery of each colour, days; colours nobody sells are missing. */
export type QuickestDays = ReadonlyMap<number, number>;

/**
 * How soon each colour could be here from its quickest shop.
 *
 * @param offers packs on sale; those out of stock do not count
 * @example quickestDays([], []).size // => 0
 */
export function quickestDays(suppliers: readonly Supplier[], offers: readonly Offer[]): QuickestDays {
  const daysOf = new Map(suppliers.map((supplier) => [supplier.id, supplier.deliveryDays]));
  const quickest = new Map<number, number>();
  for (const offer of offers) {
    const days = daysOf.get(offer.supplierId);
    if (days === undefined || offer.stockPacks === 0) continue;
    quickest.set(offer.yarnColourId, Math.min(quickest.get(offer.yarnColourId) ?? days, days));
  }
  return quickest;
}

/** Yarn one pair needs. */
export type YarnWanted = readonly { readonly yarnColourId: number; readonly grams: number }[];

/**
 * The day on which each pair could begin: today while the shelf still has all its colours, else when the quickest shop
 * could deliver. A colour that nobody sells is taken as here today: where it comes from is asked on the buying page.
 *
 * @param pairs the yarn of each, in planning order; earlier pairs take from the shelf first
 * @returns a day for each pair, in their order
 */
export function readyDays(
  pairs: readonly YarnWanted[],
  shelf: readonly ShelfLot[],
  quickest: QuickestDays,
  today: Day,
): readonly Day[] {
  const left = new Map<number, number>();
  for (const lot of shelf) left.set(lot.yarnColourId, (left.get(lot.yarnColourId) ?? 0) + lot.freeMg / 1000);
  const dayAfter = new Map<number, Day>();
  return pairs.map((pair) => {
    let wait = 0;
    for (const { yarnColourId, grams } of pair) {
      const onShelf = left.get(yarnColourId) ?? 0;
      if (onShelf >= grams) left.set(yarnColourId, onShelf - grams);
      else wait = Math.max(wait, quickest.get(yarnColourId) ?? 0);
    }
    let day = dayAfter.get(wait);
    if (day === undefined) {
      day = addDays(today, wait);
      dayAfter.set(wait, day);
    }
    return day;
  });
}
