import { coverNeed, packMg } from '#core/buying/cover-need.ts';
import type { Offer } from '#core/buying/offers.ts';
import { lowestPackCents, packsCents } from '#core/buying/prices.ts';
import type { Colour, Market, PackCount, Shop } from '#core/buying/shops.ts';

/** A list that can be bought as it stands. `shops` are the positions of the shops used, in order. */
export type Shopping = {
  readonly cents: number;
  readonly shops: readonly number[];
  readonly grossMg: number;
  readonly packs: readonly PackCount[];
};

/**
 * Whether one list is better than another: cheaper, then fewer shops, then less yarn left over, then better ranks.
 *
 * @example isBetterShopping({ cents: 5, shops: [1], grossMg: 9, packs: [] }, { cents: 5, shops: [0, 1], grossMg: 8, packs: [] }) // => true
 */
export function isBetterShopping(a: Shopping, b: Shopping | null): boolean {
  if (!b) return true;
  if (a.cents !== b.cents) return a.cents < b.cents;
  if (a.shops.length !== b.shops.length) return a.shops.length < b.shops.length;
  if (a.grossMg !== b.grossMg) return a.grossMg < b.grossMg;
  for (const [i, shop] of a.shops.entries()) if (shop !== b.shops[i]) return shop < b.shops[i]!;
  return false;
}

/**
 * Postage of a basket: the shop's own, or nothing from its free limit on.
 *
 * @returns null when the basket stays below the shop's minimum order
 */
export function shippingOf(shop: Shop, goodsCents: number): number | null {
  if (goodsCents < shop.supplier.minimumCents) return null;
  const freeFrom = shop.supplier.freeFromCents;
  return freeFrom !== null && goodsCents >= freeFrom ? 0 : shop.shippingCents;
}

/**
 * Adds to packs what brings each shop to its minimum order, and to its free-postage limit where that costs less than
 * the postage, by the cheapest packs of colours already bought there; then recounts.
 *
 * @returns null when a minimum order is out of reach
 */
export function completeShopping(
  market: Market,
  positions: ReadonlyMap<number, number>,
  packs: readonly PackCount[],
): Shopping | null {
  const byShop = new Map<number, PackCount[]>();
  for (const entry of packs) {
    const position = positions.get(entry.offer.supplierId)!;
    const list = byShop.get(position);
    if (list) list.push(entry);
    else byShop.set(position, [entry]);
  }
  const shops = [...byShop.keys()].sort((a, b) => a - b);
  const all: PackCount[] = [];
  let cents = 0;
  for (const position of shops) {
    const shop = market.shops[position]!;
    const basket = byShop.get(position)!;
    const goods = goodsOf(basket);
    let best: { total: number; filled: readonly PackCount[] } | null = null;
    const targets = [goods, shop.supplier.minimumCents, shop.targetCents].filter((target) => target >= goods);
    for (const target of new Set(targets)) {
      const filled = fillBasket(market.colours, position, basket, target);
      if (!filled) continue;
      const padded = goodsOf(filled);
      const shipping = shippingOf(shop, padded);
      if (shipping !== null && (!best || padded + shipping < best.total)) best = { total: padded + shipping, filled };
    }
    if (!best) return null;
    cents += best.total;
    all.push(...best.filled);
  }
  return { cents, shops, grossMg: grossOf(all), packs: all };
}

const mostPadRounds = 3;

/** A basket with packs added up to a value. Where added packs lower the price of all of them, it is filled up again. */
function fillBasket(
  colours: readonly Colour[],
  position: number,
  basket: readonly PackCount[],
  targetCents: number,
): readonly PackCount[] | null {
  let filled = basket;
  for (let round = 0; round < mostPadRounds; round += 1) {
    const gapCents = targetCents - goodsOf(filled);
    if (gapCents <= 0) return filled;
    const extra = padBasket(colours, position, filled, gapCents);
    if (!extra) return null;
    filled = addPacks(filled, extra);
  }
  return goodsOf(filled) >= targetCents ? filled : null;
}

const mostPadPrices = 8;
const mostExactGapCents = 5000;

/**
 * Extra packs worth at least the gap, close to it: the covering problem once more, with the price as the weight.
 * Only the lowest prices take part, and a wide gap is mostly filled with the cheapest pack.
 */
function padBasket(
  colours: readonly Colour[],
  position: number,
  basket: readonly PackCount[],
  gapCents: number,
): readonly PackCount[] | null {
  const bought = new Set(basket.map((entry) => entry.offer.yarnColourId));
  const taken = new Map(basket.map((entry) => [entry.offer, entry.packs]));
  const left = (offer: Offer) => (offer.stockPacks ?? Number.MAX_SAFE_INTEGER) - (taken.get(offer) ?? 0);
  const offers = colours
    .filter((colour) => bought.has(colour.need.yarnColourId))
    .flatMap((colour) => colour.offersByShop.get(position) ?? [])
    .filter((offer) => lowestPackCents(offer) > 0 && left(offer) > 0)
    .sort((a, b) => a.priceCents - b.priceCents);
  const extra: PackCount[] = [];
  const add = (offer: Offer, packs: number) => {
    extra.push({ offer, packs });
    taken.set(offer, (taken.get(offer) ?? 0) + packs);
  };
  let gap = gapCents;
  for (const offer of offers) {
    if (gap <= mostExactGapCents) break;
    const packs = Math.min(left(offer), Math.ceil((gap - mostExactGapCents) / offer.priceCents));
    add(offer, packs);
    gap -= packs * offer.priceCents;
  }
  const weighed = offers
    .filter(
      (offer, i) => left(offer) > 0 && (offer.stockPacks !== null || offers[i - 1]?.priceCents !== offer.priceCents),
    )
    .slice(0, mostPadPrices)
    .map((offer) => ({
      offer,
      asWeight: {
        id: offer.id,
        supplierId: offer.supplierId,
        yarnColourId: offer.yarnColourId,
        ballMg: offer.priceCents,
        ballsPerPack: 1,
        priceCents: offer.priceCents,
        stockPacks: left(offer),
      },
    }));
  const cover = coverNeed(
    Math.max(0, gap),
    weighed.map((entry) => entry.asWeight),
  );
  if (cover) {
    for (const { offer, packs } of cover.packs) add(weighed.find((entry) => entry.asWeight === offer)!.offer, packs);
    return extra;
  }
  // The lowest prices are sold out before the gap is closed: take everything in turn.
  for (const offer of offers) {
    if (gap <= 0) break;
    const packs = Math.min(left(offer), Math.ceil(gap / offer.priceCents));
    if (packs > 0) add(offer, packs);
    gap -= packs * offer.priceCents;
  }
  return gap <= 0 ? extra : null;
}

function addPacks(basket: readonly PackCount[], extra: readonly PackCount[]): PackCount[] {
  const counts = new Map(basket.map((entry) => [entry.offer, entry.packs]));
  for (const { offer, packs } of extra) counts.set(offer, (counts.get(offer) ?? 0) + packs);
  return [...counts].map(([offer, packs]) => ({ offer, packs }));
}

/**
 * What packs cost without postage and before a share off the basket, whole minor units; one entry an offer.
 *
 * @example goodsOf([]) // => 0
 */
export function goodsOf(packs: readonly PackCount[]): number {
  return packs.reduce((total, entry) => total + packsCents(entry.offer, entry.packs), 0);
}

/**
 * What packs weigh, milligrams.
 *
 * @example grossOf([]) // => 0
 */
export function grossOf(packs: readonly PackCount[]): number {
  return packs.reduce((total, entry) => total + entry.packs * packMg(entry.offer), 0);
}
