import { type BuyOptions, buyYarn } from '#core/buying/buy-yarn.ts';
import { packMg } from '#core/buying/cover-need.ts';
import type { ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { type BuyingAnswers, type BuyingProblem, keptList, narrowProblem } from '#core/buying/problem.ts';
import { canReach, openMarket } from '#core/buying/shops.ts';
import type { ToBuy } from '#core/buying/wants.ts';
import { addDays, type Day, daysBetween } from '#core/shared/calendar.ts';

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
  readonly buyAt: 'likely' | 'safe';
};

/** What of `ToBuy` the lists are made from. */
type PairsToBuy = Pick<ToBuy, 'yarnColourId' | 'likely' | 'safe'>;

/**
 * What a list must buy of each colour: for each pair left what is enough for it alone, whole mg. Together that is a few
 * grams more than is enough for all of them, so that each pair finds enough in its lot; and since it adds up, a pair more
 * never needs less.
 *
 * @example needsOf([{ yarnColourId: 1, likely: { needMg: 200, largestPairMg: 100 }, safe: { needMg: 224, largestPairMg: 112 } }], 'safe') // => [{ yarnColourId: 1, needMg: 224, largestPairMg: 112 }]
 */
export function needsOf(toBuy: readonly PairsToBuy[], list: 'likely' | 'safe'): ColourNeed[] {
  return toBuy.map((each) => ({ yarnColourId: each.yarnColourId, ...each[list] })).filter((need) => need.needMg > 0);
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
  for (const need of needs) {
    const { yarnColourId } = need;
    const by = neededByDay.get(yarnColourId);
    if (by === undefined) continue;
    const ofColour = offers.filter((offer) => offer.yarnColourId === yarnColourId && daysOf.has(offer.supplierId));
    const inTime = daysBetween(options.today, by);
    const waits = [...new Set([inTime, ...ofColour.map((offer) => daysOf.get(offer.supplierId)!)])]
      .filter((days) => days >= inTime)
      .sort((one, two) => one - two);
    const wait = waits.find((days) =>
      canCover(
        need,
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

/** Whether the shops' stocks reach. */
function canCover(need: ColourNeed, offers: readonly Offer[], options: BuyOptions): boolean {
  const stockOf = new Map<number, number>();
  for (const offer of offers) {
    const stockMg = packMg(offer) * (offer.stockPacks ?? Number.POSITIVE_INFINITY);
    stockOf.set(offer.supplierId, (stockOf.get(offer.supplierId) ?? 0) + stockMg);
  }
  return canReach(need, [...stockOf.values()], options);
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
 * @param toBuy what is still to buy by colour, after the shelf
 * @param neededByDay the last good day for each colour; a missing colour has no hurry
 * @param options today, which list the plan counts with, one supplier a colour
 * @param answers lists that searches found before: one that still checks takes the place of our own
 */
export function buyLikelyAndSafe(
  toBuy: readonly PairsToBuy[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  neededByDay: ReadonlyMap<number, Day>,
  options: ShoppingOptions,
  answers: BuyingAnswers = new Map(),
): ShoppingLists {
  const inTimeFor = (needs: readonly ColourNeed[]) => offersInTime(needs, offers, suppliers, neededByDay, options);
  const [likelyNeeds, safeNeeds] = [needsOf(toBuy, 'likely'), needsOf(toBuy, 'safe')];
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
