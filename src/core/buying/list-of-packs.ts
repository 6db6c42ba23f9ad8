import { packMg } from '#core/buying/cover-need.ts';
import type { Basket, ColourNeed, PurchaseLine, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { basketCents, basketOffCents, packsCents } from '#core/buying/prices.ts';
import type { PackCount } from '#core/buying/shops.ts';

/**
 * A shopping list counted out from its packs: lines, share off, postage, total. Whatever found the packs, this is what
 * they cost; whether they may be bought so is for `checkList` to say.
 *
 * @param packs one entry an offer, counts from 1
 * @param suppliers all shops that the packs are from; baskets come in the order of their ranks
 * @param boundCents what no list can undercut, as far as is known
 * @example listOfPacks([], [], [], 0).totalCents // => 0
 */
export function listOfPacks(
  packs: readonly PackCount[],
  suppliers: readonly Supplier[],
  uncovered: readonly ColourNeed[],
  boundCents: number,
): PurchaseList {
  const byShop = groupByShop(packs);
  const baskets = [...suppliers]
    .sort((a, b) => a.rank - b.rank || a.id - b.id)
    .flatMap((supplier) => {
      const own = byShop.get(supplier.id);
      return own ? [basketOf(supplier, own)] : [];
    });
  const totalCents = baskets.reduce((total, basket) => total + basketCents(basket), 0);
  return {
    baskets,
    totalCents,
    isProvenCheapest: boundCents >= totalCents,
    boundCents: Math.min(boundCents, totalCents),
    uncovered,
  };
}

function groupByShop(packs: readonly PackCount[]): ReadonlyMap<number, readonly PackCount[]> {
  const byShop = new Map<number, PackCount[]>();
  for (const entry of packs) {
    const list = byShop.get(entry.offer.supplierId);
    if (list) list.push(entry);
    else byShop.set(entry.offer.supplierId, [entry]);
  }
  return byShop;
}

function basketOf(supplier: Supplier, packs: readonly PackCount[]): Basket {
  const lines = packs
    .map(
      ({ offer, packs: count }): PurchaseLine => ({
        offerId: offer.id,
        supplierId: offer.supplierId,
        yarnColourId: offer.yarnColourId,
        packs: count,
        grossMg: count * packMg(offer),
        goodsCents: packsCents(offer, count),
      }),
    )
    .sort((a, b) => a.yarnColourId - b.yarnColourId || a.offerId - b.offerId);
  const goodsCents = lines.reduce((total, line) => total + line.goodsCents, 0);
  const isFree = supplier.freeFromCents !== null && goodsCents >= supplier.freeFromCents;
  return {
    supplierId: supplier.id,
    lines,
    goodsCents,
    offCents: basketOffCents(supplier, goodsCents),
    shippingCents: isFree ? 0 : supplier.shippingCents,
  };
}
