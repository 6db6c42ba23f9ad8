import { searchWithBreaks } from '#core/buying/basket-breaks.ts';
import type { StepBudget } from '#core/buying/coupled.ts';
import { listOfPacks } from '#core/buying/list-of-packs.ts';
import type { ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { searchShops } from '#core/buying/search-shops.ts';
import { type BuyOptions, openMarket } from '#core/buying/shops.ts';

export type { BuyOptions } from '#core/buying/shops.ts';

const mostCoupledSteps = 60_000;

/**
 * The cheapest shopping list in whole packs that covers every colour, postage, minimum orders and price breaks included.
 * Shops are opened or closed one by one, depth first, with each colour's cheapest cover from the shops not closed
 * (`searchShops`); a share off the whole basket is tried as a minimum order at lower prices (`searchWithBreaks`). Where
 * only postage couples the colours this ends with the proven cheapest list. Minimum orders, free-postage limits and
 * breaks by basket are searched exactly within counted steps; beyond them the best list found is given with the bound
 * that is proven. Extra packs are only ever of colours that are needed. Ties: fewer shops, then less left over, then
 * better ranks.
 *
 * @param needs one entry a colour, milligrams, 0 is left out
 * @param suppliers the shops; any order
 * @param offers their packs; those of unknown shops or other colours play no part; any order
 * @param options `oneSupplierPerColour`: all packs of a colour from one shop
 * @returns the list; colours that no offer or no stock can cover whole are in `uncovered`, with nothing bought for them
 * @throws {RangeError} when a colour is listed twice, or a weight, price or stock makes no sense
 * Source: fixed-charge covering by branch and bound; checked against enumeration and a MILP in the tests
 * @example buyYarn([], [], [], { oneSupplierPerColour: true }) // => { baskets: [], totalCents: 0, isProvenCheapest: true, boundCents: 0, uncovered: [] }
 * @example buyYarn([{ yarnColourId: 1, needMg: 5 }], [], [], { oneSupplierPerColour: true }).uncovered // => [{ yarnColourId: 1, needMg: 5 }]
 */
export function buyYarn(
  needs: readonly ColourNeed[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  options: BuyOptions,
): PurchaseList {
  const market = openMarket(needs, suppliers, offers, options);
  if (market.colours.length === 0) return listOfPacks([], suppliers, market.uncovered, 0);
  const budget: StepBudget = { left: mostCoupledSteps };
  const hasBreaks = market.shops.some(({ supplier }) => (supplier.breaks?.length ?? 0) > 0);
  const { best, boundCents } = hasBreaks
    ? searchWithBreaks(market, offers, options, budget)
    : searchShops(market, options, Number.POSITIVE_INFINITY, budget);
  if (best) return listOfPacks(best.packs, suppliers, market.uncovered, boundCents);
  const wanted = needs.filter((need) => need.needMg > 0);
  if (suppliers.length < 2) return listOfPacks([], suppliers, wanted, 0);
  // Every colour has a seller, yet no list meets all minimum orders at once: the shop that covers the most colours.
  const single = suppliers
    .map((supplier) => buyYarn(needs, [supplier], offers, options))
    .reduce((a, b) => (isFuller(b, a) ? b : a));
  return { ...single, isProvenCheapest: false, boundCents: 0 };
}

function isFuller(a: PurchaseList, b: PurchaseList): boolean {
  return (
    a.uncovered.length - b.uncovered.length < 0 ||
    (a.uncovered.length === b.uncovered.length && a.totalCents < b.totalCents)
  );
}

/**
 * The cheapest list that gets everything from one shop. Its bound and proof are within that shop.
 *
 * @returns null when no shop has everything; ties go to less left over, then to the better rank
 * @example bestSingleShop([{ yarnColourId: 1, needMg: 5 }], [], []) // => null
 */
export function bestSingleShop(
  needs: readonly ColourNeed[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
): PurchaseList | null {
  const lists = [...suppliers]
    .sort((a, b) => a.rank - b.rank || a.id - b.id)
    .map((supplier) => buyYarn(needs, [supplier], offers, { oneSupplierPerColour: true }))
    .filter((list) => list.uncovered.length === 0);
  const grossMg = (list: PurchaseList) =>
    list.baskets.reduce((sum, basket) => basket.lines.reduce((total, line) => total + line.grossMg, sum), 0);
  return lists.sort((a, b) => a.totalCents - b.totalCents || grossMg(a) - grossMg(b))[0] ?? null;
}
