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

type Pool = { readonly fromDay: Day | null; grams: number };

/** Yarn of each colour by the day it is here, what is here first. */
function poolsOf(shelf: readonly ShelfLot[]): ReadonlyMap<number, readonly Pool[]> {
  const pools = new Map<number, Pool[]>();
  const inOrder = [...shelf].sort((a, b) => ((a.fromDay ?? '') < (b.fromDay ?? '') ? -1 : 1));
  for (const { yarnColourId, freeMg, fromDay = null } of inOrder) {
    const ofColour = pools.get(yarnColourId) ?? [];
    pools.set(yarnColourId, ofColour);
    const last = ofColour.at(-1);
    if (last?.fromDay === fromDay) last.grams += freeMg / 1000;
    else ofColour.push({ fromDay, grams: freeMg / 1000 });
  }
  return pools;
}

/**
 * The day on which each pair could begin: today while the shelf still has all its colours, the day of a purchase on its
 * way that has them, else when the quickest shop could deliver. A colour that nobody sells is taken as here today: where
 * it comes from is asked on the buying page.
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
  const pools = poolsOf(shelf);
  const dayAfter = new Map<number, Day>();
  return pairs.map((pair) => {
    let wait = 0;
    let fromDay = today;
    for (const { yarnColourId, grams } of pair) {
      const pool = pools.get(yarnColourId)?.find((each) => each.grams >= grams);
      if (!pool) wait = Math.max(wait, quickest.get(yarnColourId) ?? 0);
      else {
        pool.grams -= grams;
        if (pool.fromDay !== null && pool.fromDay > fromDay) fromDay = pool.fromDay;
      }
    }
    let day = dayAfter.get(wait);
    if (day === undefined) {
      day = addDays(today, wait);
      dayAfter.set(wait, day);
    }
    if (fromDay > day) return fromDay;
    return day;
  });
}
