import { type BuyOptions, buyYarn } from '#core/buying/buy-yarn.ts';
import { packMg } from '#core/buying/cover-need.ts';
import type { ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { type BuyingAnswers, type BuyingProblem, keptList, narrowProblem } from '#core/buying/problem.ts';
import { openMarket } from '#core/buying/shops.ts';
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
  /** What each list answers, for a search that may find a cheaper one. */
  readonly problems: { readonly likely: BuyingProblem; readonly safe: BuyingProblem };
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

/**
 * Offers that would be here by the day a colour is needed. Where those cannot cover it, all that come by the soonest day
 * on which it can be covered: late, but no later than it must be.
 */
function offersInTime(
  needs: readonly ColourNeed[],
  offers: readonly Offer[],
  suppliers: readonly Supplier[],
  neededByDay: ReadonlyMap<number, Day>,
  options: ShoppingOptions,
): Offer[] {
  const daysOf = new Map(suppliers.map((supplier) => [supplier.id, supplier.deliveryDays]));
  const allowed = new Map<number, number>();
  for (const { yarnColourId, needMg } of needs) {
    const by = neededByDay.get(yarnColourId);
    if (by === undefined) continue;
    const ofColour = offers.filter((offer) => offer.yarnColourId === yarnColourId && daysOf.has(offer.supplierId));
    const inTime = daysBetween(options.today, by);
    const waits = [...new Set([inTime, ...ofColour.map((offer) => daysOf.get(offer.supplierId)!)])]
      .filter((days) => days >= inTime)
      .sort((one, two) => one - two);
    const wait = waits.find((days) =>
      canCover(
        needMg,
        ofColour.filter((offer) => daysOf.get(offer.supplierId)! <= days),
        options,
      ),
    );
    if (wait !== undefined) allowed.set(yarnColourId, wait);
  }
  return offers.filter((offer) => {
    const most = allowed.get(offer.yarnColourId);
    return most === undefined || (daysOf.get(offer.supplierId) ?? 0) <= most;
  });
}

/** Whether the shops' stocks reach: one shop's alone where a colour may not come from two. */
function canCover(needMg: number, offers: readonly Offer[], options: BuyOptions): boolean {
  const stockOf = new Map<number, number>();
  for (const offer of offers) {
    const shop = options.oneSupplierPerColour ? offer.supplierId : 0;
    const stockMg = packMg(offer) * (offer.stockPacks ?? Number.POSITIVE_INFINITY);
    stockOf.set(shop, (stockOf.get(shop) ?? 0) + stockMg);
  }
  return [...stockOf.values()].some((stockMg) => stockMg >= needMg);
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
 * @param answers lists that searches found before: one that still checks takes the place of our own
 */
export function buyLikelyAndSafe(
  amounts: readonly ColourAmount[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  neededByDay: ReadonlyMap<number, Day>,
  options: ShoppingOptions,
  answers: BuyingAnswers = new Map(),
): ShoppingLists {
  const inTimeFor = (needs: readonly ColourNeed[]) => offersInTime(needs, offers, suppliers, neededByDay, options);
  const [likelyNeeds, safeNeeds] = [needsAt(amounts, 0.5), needsAt(amounts, options.confidence)];
  const inTime = inTimeFor(safeNeeds);
  const buy = (needs: readonly ColourNeed[], sold: readonly Offer[]) => {
    if (answers.size > 0) {
      const { uncovered } = openMarket(needs, suppliers, sold, options);
      const problem = narrowProblem({ needs, suppliers, offers: sold, options }, uncovered);
      const list = keptList(problem, uncovered, answers);
      if (list) return { list, problem };
    }
    const list = buyYarn(needs, suppliers, sold, options);
    return { list, problem: narrowProblem({ needs, suppliers, offers: sold, options }, list.uncovered) };
  };
  const { list: likely, problem: likelyProblem } = buy(likelyNeeds, inTimeFor(likelyNeeds));
  const { list: safe, problem: safeProblem } = buy(safeNeeds, inTime);
  const anyTime = inTime.length === offers.length ? safe : buy(safeNeeds, offers).list;
  const isCheaper = anyTime.totalCents < safe.totalCents && anyTime.uncovered.length <= safe.uncovered.length;
  const chosen = options.buyAt === 'safe' ? safe : likely;
  return {
    likely,
    safe,
    chosen,
    chosenName: options.buyAt,
    cheaperButLate: isCheaper ? anyTime : null,
    arrivals: arrivalsOf(chosen, suppliers, options.today),
    problems: { likely: likelyProblem, safe: safeProblem },
  };
}
