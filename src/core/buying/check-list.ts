import { packMg } from '#core/buying/cover-need.ts';
import type { ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import type { BuyOptions } from '#core/buying/shops.ts';
import type { Problem } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/**
 * Recounts a shopping list from its whole packs and tells everything that is wrong with it: packs, stock, weights, sums,
 * breaks, postage, minimum orders, cover, one shop a colour. Shares no step with the search that made the list.
 *
 * @returns no problems when the list is right
 * @example checkList({ baskets: [], totalCents: 0, isProvenCheapest: true, boundCents: 0, uncovered: [] }, [], [], [], { oneSupplierPerColour: true }) // => []
 */
export function checkList(
  list: PurchaseList,
  needs: readonly ColourNeed[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  options: BuyOptions,
): Problem[] {
  const problems: Problem[] = [];
  const complain = (code: string, path: string, message: string) => problems.push({ code, path, message });
  const offerById = new Map(offers.map((offer) => [offer.id, offer]));
  const bought = new Map<number, number>();
  const shopsOfColour = new Map<number, Set<number>>();
  let totalCents = 0;

  for (const [b, basket] of list.baskets.entries()) {
    const path = `baskets.${b}`;
    const supplier = suppliers.find((each) => each.id === basket.supplierId);
    if (!supplier) complain('unknownSupplier', path, `There is no supplier ${basket.supplierId}.`);
    if (basket.lines.length === 0) complain('emptyBasket', path, 'A basket holds nothing.');
    let goodsCents = 0;
    for (const [l, line] of basket.lines.entries()) {
      const at = `${path}.lines.${l}`;
      const offer = offerById.get(line.offerId);
      if (!offer || offer.supplierId !== basket.supplierId || offer.yarnColourId !== line.yarnColourId) {
        complain('unknownOffer', at, `Offer ${line.offerId} is not one of this shop and colour.`);
        continue;
      }
      if (!Number.isSafeInteger(line.packs) || line.packs < 1)
        complain('packs', at, `${line.packs} is no count of packs.`);
      if (offer.stockPacks !== null && line.packs > offer.stockPacks) {
        complain('stock', at, `${line.packs} packs are listed, the shop has ${offer.stockPacks}.`);
      }
      if (line.grossMg !== line.packs * packMg(offer)) complain('weight', at, 'The weight is not that of the packs.');
      const priceCents = priceAt(offer, line.packs);
      if (line.goodsCents !== line.packs * priceCents) complain('price', at, 'The price is not that of the packs.');
      goodsCents += line.packs * priceCents;
      bought.set(offer.yarnColourId, (bought.get(offer.yarnColourId) ?? 0) + line.packs * packMg(offer));
      const shops = shopsOfColour.get(offer.yarnColourId) ?? new Set();
      shopsOfColour.set(offer.yarnColourId, shops.add(offer.supplierId));
    }
    if (goodsCents !== basket.goodsCents)
      complain('goods', path, `Goods come to ${goodsCents}, not ${basket.goodsCents}.`);
    if (supplier) {
      if (goodsCents < supplier.minimumCents) {
        complain('minimum', path, `Goods of ${goodsCents} stay below the minimum order of ${supplier.minimumCents}.`);
      }
      const isFree = supplier.freeFromCents !== null && goodsCents >= supplier.freeFromCents;
      const shippingCents = isFree ? 0 : supplier.shippingCents;
      if (basket.shippingCents !== shippingCents) {
        complain('shipping', path, `Postage is ${shippingCents}, not ${basket.shippingCents}.`);
      }
      const payCents = roundHalfUp(goodsCents * (1 - shareAt(supplier, goodsCents)));
      if (goodsCents - payCents !== basket.offCents) {
        complain('off', path, `The shop takes ${goodsCents - payCents} off, not ${basket.offCents}.`);
      }
    }
    totalCents += goodsCents - basket.offCents + basket.shippingCents;
  }
  if (totalCents !== list.totalCents)
    complain('total', 'totalCents', `The list comes to ${totalCents}, not ${list.totalCents}.`);
  if (list.boundCents > list.totalCents) complain('bound', 'boundCents', 'The bound lies above the total.');
  if (list.isProvenCheapest && list.boundCents !== list.totalCents) {
    complain('proof', 'isProvenCheapest', 'A proven list must cost its bound.');
  }
  if (new Set(list.baskets.map((basket) => basket.supplierId)).size !== list.baskets.length) {
    complain('basketTwice', 'baskets', 'A supplier has two baskets.');
  }
  for (const need of needs) {
    const grossMg = bought.get(need.yarnColourId) ?? 0;
    const isUncovered = list.uncovered.some((each) => each.yarnColourId === need.yarnColourId);
    // Each shop's packs are a lot of their own, and whole pairs must fit whichever way they are dealt.
    const furtherShops = Math.max(0, (shopsOfColour.get(need.yarnColourId)?.size ?? 0) - 1);
    const neededMg = need.needMg + furtherShops * (need.largestPairMg ?? 0);
    if (neededMg > grossMg && !isUncovered) {
      complain('cover', `needs.${need.yarnColourId}`, `${grossMg} mg are bought, ${neededMg} mg are needed.`);
    }
    if (isUncovered && grossMg > 0)
      complain('uncovered', `needs.${need.yarnColourId}`, 'Bought, yet called uncovered.');
  }
  if (options.oneSupplierPerColour) {
    for (const [colour, shops] of shopsOfColour) {
      if (shops.size > 1)
        complain('twoSuppliers', `needs.${colour}`, `Colour ${colour} comes from ${shops.size} shops.`);
    }
  }
  return problems;
}

/** The price of one of so many packs: the lowest whose count is reached. */
function priceAt({ priceCents, breaks = [] }: Offer, packs: number): number {
  return Math.min(priceCents, ...breaks.filter((each) => each.fromPacks <= packs).map((each) => each.priceCents));
}

/** The share off a basket of so much: the greatest whose value is reached. */
function shareAt({ breaks = [] }: Supplier, goodsCents: number): number {
  return Math.max(0, ...breaks.filter((each) => each.fromCents <= goodsCents).map((each) => each.offRatio));
}
