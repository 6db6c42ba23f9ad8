import type { Offer, PurchaseList } from '#core/buying/offers.ts';
import { linesPaid } from '#core/buying/prices.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { splitCents } from '#core/shared/money.ts';

/** What a gram of a colour costs and where that comes from. */
export type YarnPrice = {
  readonly centsPerG: number;
  readonly from: 'list' | 'offer' | 'shelf' | 'unknown';
};

/**
 * Landed cost of each colour on a list: goods less its part of a share off the basket, and its share of the postage, by
 * value of the goods.
 *
 * @param list whole packs
 * @returns cents per gram bought, by colour; a colour from two shops counts both
 * @example landedByColour({ baskets: [], totalCents: 0, isProvenCheapest: true, boundCents: 0, uncovered: [] }).size // => 0
 */
export function landedByColour(list: PurchaseList): ReadonlyMap<number, number> {
  const cents = new Map<number, number>();
  const grams = new Map<number, number>();
  for (const basket of list.baskets) {
    if (basket.lines.length === 0) continue;
    const postage = splitCents(
      basket.shippingCents,
      basket.lines.map((line) => line.goodsCents),
    );
    const paid = linesPaid(basket);
    basket.lines.forEach((line, index) => {
      cents.set(line.yarnColourId, (cents.get(line.yarnColourId) ?? 0) + paid[index]! + postage[index]!);
      grams.set(line.yarnColourId, (grams.get(line.yarnColourId) ?? 0) + line.grossMg / 1000);
    });
  }
  return new Map([...cents].map(([colour, total]) => [colour, total / grams.get(colour)!]));
}

/**
 * The price of a gram of each colour for quotes and price sheets: on the list its landed price, else what the shelf's
 * yarn cost with its postage, else the cheapest offer a gram (without postage), else unknown.
 *
 * @param colourIds the colours asked for
 */
export function yarnPrices(
  colourIds: readonly number[],
  list: PurchaseList,
  offers: readonly Offer[],
  shelf: readonly ShelfLot[],
): ReadonlyMap<number, YarnPrice> {
  const landed = landedByColour(list);
  const cheapest = new Map<number, number>();
  for (const offer of offers) {
    const perG = offer.priceCents / ((offer.ballMg * offer.ballsPerPack) / 1000);
    const known = cheapest.get(offer.yarnColourId);
    if (known === undefined || perG < known) cheapest.set(offer.yarnColourId, perG);
  }
  const onShelf = new Map<number, { cents: number; grams: number }>();
  for (const lot of shelf) {
    const sum = onShelf.get(lot.yarnColourId) ?? { cents: 0, grams: 0 };
    onShelf.set(lot.yarnColourId, { cents: sum.cents + lot.paidCents, grams: sum.grams + lot.boughtMg / 1000 });
  }
  const prices = new Map<number, YarnPrice>();
  for (const id of colourIds) {
    const fromList = landed.get(id);
    const fromOffer = cheapest.get(id);
    const lot = onShelf.get(id);
    if (fromList !== undefined) prices.set(id, { centsPerG: fromList, from: 'list' });
    else if (lot && lot.grams > 0) prices.set(id, { centsPerG: lot.cents / lot.grams, from: 'shelf' });
    else if (fromOffer !== undefined) prices.set(id, { centsPerG: fromOffer, from: 'offer' });
    else prices.set(id, { centsPerG: 0, from: 'unknown' });
  }
  return prices;
}
