import { type BuyOptions, buyYarn } from '#core/buying/buy-yarn.ts';
import type { ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { addDays, type Day, daysBetween } from '#core/shared/calendar.ts';
import { enoughAt } from '#core/shared/estimate.ts';
import type { ColourAmount } from '#core/yardage/needs.ts';

/** Two lists side by side, and the one that the plan counts with. */
export type ShoppingLists = {
  readonly likely: PurchaseList;
  readonly safe: PurchaseList;
  readonly chosen: PurchaseList;
  readonly chosenName: 'likely' | 'safe';
  /** The cheapest safe list if time did not matter; null when it is no cheaper than `safe`. */
  readonly cheaperButLate: PurchaseList | null;
  /** The day the chosen list's yarn of each colour is here, if ordered today. */
  readonly arrivals: ReadonlyMap<number, Day>;
};

export type ShoppingOptions = BuyOptions & {
  readonly today: Day;
  readonly confidence: number;
  readonly buyAt: 'likely' | 'safe';
};

/**
 * What to buy of each colour, whole mg, at a confidence; 0.5 is the likely amount.
 *
 * @example needsAt([{ yarnColourId: 1, grams: { mean: 100, sharedSd: 10, ownVariance: 0 }, metres: { mean: 100, sharedSd: 10, ownVariance: 0 } }], 0.9) // => [{ yarnColourId: 1, needMg: 112816 }]
 */
export function needsAt(amounts: readonly ColourAmount[], confidence: number): ColourNeed[] {
  return amounts
    .map(({ yarnColourId, grams }) => ({ yarnColourId, needMg: Math.ceil(enoughAt(grams, confidence) * 1000 - 1e-6) }))
    .filter((need) => need.needMg > 0);
}

/** Offers that would be here by the day a colour is needed; where none would, the ones that come soonest. */
function offersInTime(
  offers: readonly Offer[],
  suppliers: readonly Supplier[],
  neededByDay: ReadonlyMap<number, Day>,
  today: Day,
): Offer[] {
  const daysOf = new Map(suppliers.map((supplier) => [supplier.id, supplier.deliveryDays]));
  const allowed = new Map<number, number>();
  for (const offer of offers) {
    const by = neededByDay.get(offer.yarnColourId);
    const days = daysOf.get(offer.supplierId);
    if (by === undefined || days === undefined || offer.stockPacks === 0) continue;
    const inTime = daysBetween(today, by);
    const soonest = allowed.get(offer.yarnColourId);
    allowed.set(offer.yarnColourId, Math.max(inTime, Math.min(soonest ?? days, days)));
  }
  return offers.filter((offer) => {
    const most = allowed.get(offer.yarnColourId);
    return most === undefined || (daysOf.get(offer.supplierId) ?? 0) <= most;
  });
}

function arrivalsOf(list: PurchaseList, suppliers: readonly Supplier[], today: Day): ReadonlyMap<number, Day> {
  const daysOf = new Map(suppliers.map((supplier) => [supplier.id, supplier.deliveryDays]));
  const arrivals = new Map<number, Day>();
  for (const basket of list.baskets) {
    const day = addDays(today, daysOf.get(basket.supplierId) ?? 0);
    for (const line of basket.lines) {
      const known = arrivals.get(line.yarnColourId);
      if (known === undefined || day > known) arrivals.set(line.yarnColourId, day);
    }
  }
  return arrivals;
}

/**
 * The cheapest whole packs for what is likely and for what is safe, from shops that deliver in time where any does.
 *
 * @param amounts grams still to buy by colour, after the shelf
 * @param neededByDay the last good day for each colour; a missing colour has no hurry
 * @param options today, confidence of the safe list, which list the plan counts with, one supplier a colour
 */
export function buyLikelyAndSafe(
  amounts: readonly ColourAmount[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  neededByDay: ReadonlyMap<number, Day>,
  options: ShoppingOptions,
): ShoppingLists {
  const inTime = offersInTime(offers, suppliers, neededByDay, options.today);
  const likely = buyYarn(needsAt(amounts, 0.5), suppliers, inTime, options);
  const safe = buyYarn(needsAt(amounts, options.confidence), suppliers, inTime, options);
  const anyTime =
    inTime.length === offers.length ? safe : buyYarn(needsAt(amounts, options.confidence), suppliers, offers, options);
  const isCheaper = anyTime.totalCents < safe.totalCents && anyTime.uncovered.length <= safe.uncovered.length;
  const chosen = options.buyAt === 'safe' ? safe : likely;
  return {
    likely,
    safe,
    chosen,
    chosenName: options.buyAt,
    cheaperButLate: isCheaper ? anyTime : null,
    arrivals: arrivalsOf(chosen, suppliers, options.today),
  };
}
