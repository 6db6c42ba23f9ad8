import { type StepBudget, shopCoupled } from '#core/buying/coupled.ts';
import type { Cover } from '#core/buying/cover-need.ts';
import type { Basket, ColourNeed, Offer, PurchaseLine, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { completeShopping, grossOf, isBetterShopping, type Shopping, shippingOf } from '#core/buying/shopping.ts';
import { type BuyOptions, type Market, makeCoverBook, openMarket } from '#core/buying/shops.ts';

export type { BuyOptions } from '#core/buying/shops.ts';

const mostNodes = 20_000;
const mostCovers = 60_000;
const mostCoupledSteps = 250_000;

/**
 * The cheapest shopping list in whole packs that covers every colour, postage and minimum orders included.
 * Shops are opened or closed one by one, depth first: no list from the shops not closed costs less than the postage of
 * those open plus each colour's cheapest cover, so a branch whose bound passes the best list is cut. Where only postage
 * couples the colours this ends with the proven cheapest list. Minimum orders and free-postage limits are searched
 * exactly within counted steps; beyond them the best list found is given with the bound that is proven. Extra packs are
 * only ever of colours that are needed. Ties: fewer shops, then less left over, then better ranks.
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
  if (market.colours.length === 0) return listOf(market, null, 0);
  const { best, boundCents } = searchShops(market, options);
  if (best) return listOf(market, best, boundCents);
  if (suppliers.length < 2) return listOf({ ...market, uncovered: needs.filter((need) => need.needMg > 0) }, null, 0);
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

function searchShops(market: Market, options: BuyOptions): { best: Shopping | null; boundCents: number } {
  const { coverOf, coversMade } = makeCoverBook(options);
  const positions = new Map(market.shops.map((shop, position) => [shop.supplier.id, position]));
  const budget: StepBudget = { left: mostCoupledSteps };
  const closed = new Uint8Array(market.shops.length);
  const open = new Uint8Array(market.shops.length);
  let nodes = 0;
  let best: Shopping | null = null;
  /** The least bound of what was left unexplored. */
  let unprovenCents = Number.POSITIVE_INFINITY;

  const coverAll = (): readonly Cover[] | null => {
    const covers: Cover[] = [];
    for (const colour of market.colours) {
      const cover = coverOf(colour, closed);
      if (!cover) return null;
      covers.push(cover);
    }
    return covers;
  };
  const complete = (covers: readonly Cover[]): Shopping | null =>
    completeShopping(
      market,
      positions,
      covers.flatMap((cover) => cover.packs),
    );

  /** Opens and closes single shops as long as that helps, for a good list to begin with. */
  function climb(): void {
    let current: Shopping | null = null;
    for (let round = 0; round <= 2 * market.shops.length; round += 1) {
      let step: Shopping | null = null;
      for (let shop = -1; shop < market.shops.length; shop += 1) {
        closed.fill(round === 0 ? 0 : 1);
        if (current) for (const used of current.shops) closed[used] = 0;
        if (shop >= 0) closed[shop] = 1 - closed[shop]!;
        const covers = coverAll();
        const found = covers && complete(covers);
        if (found && isBetterShopping(found, step)) step = found;
      }
      if (!step || !isBetterShopping(step, current)) break;
      current = step;
    }
    closed.fill(0);
    best = current;
  }

  function visit(): void {
    nodes += 1;
    const covers = coverAll();
    if (!covers) return;
    let boundCents = 0;
    let openCount = 0;
    for (const cover of covers) boundCents += cover.boundCents;
    for (const [position, shop] of market.shops.entries()) {
      if (open[position] === 0) continue;
      boundCents += shop.leastShippingCents;
      openCount += 1;
    }
    if (best && (boundCents > best.cents || (boundCents === best.cents && openCount > best.shops.length))) return;
    const plain = complete(covers);
    if (plain && isBetterShopping(plain, best)) best = plain;
    // A list that costs the bound and uses open shops only cannot be bettered here, nor with fewer shops.
    if (plain && plain.cents <= boundCents && plain.shops.every((position) => open[position] === 1)) return;
    if (nodes > mostNodes || coversMade() > mostCovers) {
      unprovenCents = Math.min(unprovenCents, boundCents);
      return;
    }
    const next = nextShop(plain);
    if (next < 0) {
      settle(covers, boundCents);
      return;
    }
    closed[next] = 1;
    visit();
    closed[next] = 0;
    open[next] = 1;
    visit();
    open[next] = 0;
  }

  /** The dearest undecided shop that the plain list uses, else the first undecided one. */
  function nextShop(plain: Shopping | null): number {
    let next = -1;
    for (const position of plain?.shops ?? []) {
      if (open[position] === 1) continue;
      if (next < 0 || market.shops[position]!.shippingCents > market.shops[next]!.shippingCents) next = position;
    }
    return next >= 0 ? next : market.shops.findIndex((_, position) => open[position] === 0 && closed[position] === 0);
  }

  /** All shops decided: what couples the colours within them. */
  function settle(covers: readonly Cover[], boundCents: number): void {
    const decided = [...open.keys()].filter((position) => open[position] === 1);
    const isCoupled = decided.some((position) => market.shops[position]!.targetCents > 0);
    const isCoverProven = covers.every((cover) => cover.boundCents === cover.goodsCents);
    if (!isCoupled && isCoverProven) return; // the plain list is this leaf's best
    if (!isCoupled || decided.length > 30 || budget.left < 0) {
      unprovenCents = Math.min(unprovenCents, boundCents);
      return;
    }
    // With no list yet, look as far up as reaching every minimum and limit on top of the bound would cost.
    const targets = decided.reduce((total, position) => total + 2 * market.shops[position]!.targetCents, 0);
    const incumbent = best ?? { cents: boundCents + targets, shops: [], grossMg: 0, packs: [] };
    const found = shopCoupled(market, options, decided, covers, boundCents, incumbent, budget);
    if (found.best) best = found.best;
    if (!found.isExhaustive || incumbent.packs.length === 0) unprovenCents = Math.min(unprovenCents, boundCents);
  }

  climb();
  visit();
  const found = best as Shopping | null;
  return { best: found, boundCents: found ? Math.min(found.cents, unprovenCents) : unprovenCents };
}

function listOf(market: Market, shopping: Shopping | null, boundCents: number): PurchaseList {
  const baskets = (shopping?.shops ?? []).map((position): Basket => {
    const shop = market.shops[position]!;
    const lines = shopping!.packs
      .filter((entry) => entry.offer.supplierId === shop.supplier.id)
      .map(
        ({ offer, packs }): PurchaseLine => ({
          offerId: offer.id,
          supplierId: offer.supplierId,
          yarnColourId: offer.yarnColourId,
          packs,
          grossMg: grossOf([{ offer, packs }]),
          goodsCents: packs * offer.priceCents,
        }),
      )
      .sort((a, b) => a.yarnColourId - b.yarnColourId || a.offerId - b.offerId);
    const goodsCents = lines.reduce((total, line) => total + line.goodsCents, 0);
    return { supplierId: shop.supplier.id, lines, goodsCents, shippingCents: shippingOf(shop, goodsCents)! };
  });
  const totalCents = baskets.reduce((total, basket) => total + basket.goodsCents + basket.shippingCents, 0);
  return {
    baskets,
    totalCents,
    isProvenCheapest: boundCents >= totalCents,
    boundCents: Math.min(boundCents, totalCents),
    uncovered: market.uncovered,
  };
}
