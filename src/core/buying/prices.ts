import type { Basket, Offer, Supplier } from '#core/buying/offers.ts';
import { splitCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/**
 * What so many packs of one offer cost: all of them at the lowest price that so many reach.
 * A break whose price is not lower than one reached earlier changes nothing.
 *
 * @param packs whole packs, at least 0
 * @returns whole minor units
 * @example packsCents({ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 400, stockPacks: null, breaks: [{ fromPacks: 5, priceCents: 350 }] }, 4) // => 1600
 * @example packsCents({ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 400, stockPacks: null, breaks: [{ fromPacks: 5, priceCents: 350 }] }, 5) // => 1750
 */
export function packsCents(offer: Offer, packs: number): number {
  if (!offer.breaks) return packs * offer.priceCents;
  return packs * offer.breaks.reduce((least, each) => lowerOf(least, each, packs), offer.priceCents);
}

function lowerOf(least: number, each: { readonly fromPacks: number; readonly priceCents: number }, packs: number) {
  return packs >= each.fromPacks ? Math.min(least, each.priceCents) : least;
}

/**
 * The lowest price of one pack, however many it takes; a bound from below.
 *
 * @example lowestPackCents({ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 400, stockPacks: 4, breaks: [{ fromPacks: 5, priceCents: 350 }] }) // => 400
 */
export function lowestPackCents(offer: Offer): number {
  if (!offer.breaks) return offer.priceCents;
  const most = offer.stockPacks ?? Number.POSITIVE_INFINITY;
  return offer.breaks.reduce((least, each) => lowerOf(least, each, most), offer.priceCents);
}

/**
 * The steps of an offer's price that its stock reaches, each from so many packs on: the first price, then the breaks
 * that lower it.
 *
 * @example priceSteps({ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 400, stockPacks: null, breaks: [{ fromPacks: 5, priceCents: 350 }] }) // => [{ fromPacks: 1, priceCents: 400 }, { fromPacks: 5, priceCents: 350 }]
 */
export function priceSteps(offer: Offer): readonly { readonly fromPacks: number; readonly priceCents: number }[] {
  const steps = [{ fromPacks: 1, priceCents: offer.priceCents }];
  for (const each of [...(offer.breaks ?? [])].sort((a, b) => a.fromPacks - b.fromPacks)) {
    const last = steps.at(-1)!;
    const isReached = each.fromPacks <= (offer.stockPacks ?? each.fromPacks);
    if (!isReached || each.priceCents >= last.priceCents) continue;
    if (each.fromPacks <= last.fromPacks) steps.pop();
    steps.push({ fromPacks: each.fromPacks, priceCents: each.priceCents });
  }
  return steps;
}

/**
 * The most that packs of one offer can add to a basket: all of its stock, or all but what a lower price undoes.
 *
 * @returns whole minor units; infinite without a stock limit, unless packs cost nothing
 * @example mostGoodsCents({ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 400, stockPacks: 5, breaks: [{ fromPacks: 5, priceCents: 100 }] }) // => 1600
 */
export function mostGoodsCents(offer: Offer): number {
  const { stockPacks } = offer;
  if (stockPacks === null) return lowestPackCents(offer) > 0 ? Number.POSITIVE_INFINITY : mostBeforeFree(offer);
  const ends = priceSteps(offer).map((step) => Math.min(stockPacks, step.fromPacks - 1));
  return [...ends, stockPacks].reduce((most, packs) => Math.max(most, packsCents(offer, packs)), 0);
}

function mostBeforeFree(offer: Offer): number {
  return priceSteps(offer).reduce((most, step) => Math.max(most, packsCents(offer, step.fromPacks - 1)), 0);
}

/**
 * What a shop takes off a basket: the greatest share that its goods reach, off all of them; what is left to pay is
 * rounded half up. Goods are counted before the share, postage not at all.
 *
 * @param goodsCents the lines together, whole minor units
 * @returns whole minor units, 0 when no break is reached
 * Source: our own choice of what a break counts, as most shops print it
 * @example basketOffCents({ id: 1, name: '', shippingCents: 0, freeFromCents: null, minimumCents: 0, deliveryDays: 0, rank: 0, breaks: [{ fromCents: 2500, offRatio: 0.15 }] }, 3000) // => 450
 * @example basketOffCents({ id: 1, name: '', shippingCents: 0, freeFromCents: null, minimumCents: 0, deliveryDays: 0, rank: 0, breaks: [{ fromCents: 2500, offRatio: 0.15 }] }, 2499) // => 0
 */
export function basketOffCents(supplier: Supplier, goodsCents: number): number {
  const offRatio = (supplier.breaks ?? []).reduce(
    (most, each) => (goodsCents >= each.fromCents ? Math.max(most, each.offRatio) : most),
    0,
  );
  return offRatio === 0 ? 0 : goodsCents - roundHalfUp(goodsCents * (1 - offRatio));
}

/**
 * What each line of a basket costs without postage: its goods less its part of the share off, in the order of the lines.
 *
 * @returns whole minor units; together the basket's goods less what is taken off
 * @example linesPaid({ supplierId: 1, lines: [], goodsCents: 0, offCents: 0, shippingCents: 250 }) // => []
 */
export function linesPaid({ lines, offCents }: Basket): readonly number[] {
  const goods = lines.map((line) => line.goodsCents);
  if (offCents === 0 || goods.length === 0) return goods;
  const off = splitCents(offCents, goods);
  return goods.map((cents, i) => cents - off[i]!);
}

/**
 * What a basket costs in all: goods less the share off, and postage.
 *
 * @example basketCents({ supplierId: 1, lines: [], goodsCents: 3000, offCents: 450, shippingCents: 250 }) // => 2800
 */
export function basketCents(basket: Basket): number {
  return basket.goodsCents - basket.offCents + basket.shippingCents;
}
