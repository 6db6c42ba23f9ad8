import type { Basket, ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { packsCents } from '#core/buying/prices.ts';
import { needFrom } from '#core/buying/shops.ts';

/** What packs beyond the need are bought for: a lower price, free postage, or the least order of the shop. */
export type SpareReason = 'price' | 'postage' | 'minimum';

const packMgOf = ({ grossMg, packs }: { readonly grossMg: number; readonly packs: number }) => grossMg / packs;

/**
 * Whole packs without which a list would still cover every colour: they are bought for their price alone.
 *
 * @param needs what the list was made for
 * @returns packs by offer; offers with none are missing
 */
export function sparePacks(list: PurchaseList, needs: readonly ColourNeed[]): ReadonlyMap<number, number> {
  const spare = new Map<number, number>();
  const lines = list.baskets.flatMap((basket) => basket.lines);
  for (const need of needs) {
    const own = lines.filter((line) => line.yarnColourId === need.yarnColourId);
    const shops = new Set(own.map((line) => line.supplierId)).size;
    let overMg = own.reduce((sum, line) => sum + line.grossMg, 0) - needFrom(need, Math.max(1, shops));
    for (const line of [...own].sort((a, b) => packMgOf(b) - packMgOf(a))) {
      const packs = Math.min(line.packs, Math.floor(overMg / packMgOf(line)));
      if (packs <= 0) continue;
      spare.set(line.offerId, packs);
      overMg -= packs * packMgOf(line);
    }
  }
  return spare;
}

/**
 * What the spare packs of an offer in a basket are bought for.
 *
 * @param spare from `sparePacks`, some of the offer's among them
 * @param offers those of the basket's lines
 */
export function spareReason(
  basket: Basket,
  offerId: number,
  spare: ReadonlyMap<number, number>,
  offers: ReadonlyMap<number, Offer>,
  supplier: Supplier,
): SpareReason {
  const centsWithout = (each: { readonly offerId: number; readonly packs: number }) =>
    packsCents(offers.get(each.offerId)!, each.packs - (spare.get(each.offerId) ?? 0));
  const line = basket.lines.find((each) => each.offerId === offerId)!;
  if (line.goodsCents <= centsWithout(line)) return 'price';
  const goodsWithout = basket.lines.reduce((sum, each) => sum + centsWithout(each), 0);
  if (goodsWithout < supplier.minimumCents) return 'minimum';
  const { freeFromCents, shippingCents } = supplier;
  return shippingCents > 0 && freeFromCents !== null && basket.shippingCents === 0 && goodsWithout < freeFromCents
    ? 'postage'
    : 'price';
}

/**
 * What a safe list buys of each colour beyond the likely one only to be safe, spare packs of both left out.
 *
 * @returns whole milligrams by colour; colours without any are missing
 */
export function onlyForSafety(
  safe: { readonly list: PurchaseList; readonly needs: readonly ColourNeed[] },
  likely: { readonly list: PurchaseList; readonly needs: readonly ColourNeed[] },
): ReadonlyMap<number, number> {
  const [most, least] = [usedOf(safe.list, safe.needs), usedOf(likely.list, likely.needs)];
  return new Map(
    [...most].flatMap(([colour, mg]) => {
      const more = mg - (least.get(colour) ?? 0);
      return more > 0 ? [[colour, more] as const] : [];
    }),
  );
}

/** Milligrams of each colour without the spare packs. */
function usedOf(list: PurchaseList, needs: readonly ColourNeed[]): ReadonlyMap<number, number> {
  const spare = sparePacks(list, needs);
  const used = new Map<number, number>();
  for (const line of list.baskets.flatMap((basket) => basket.lines)) {
    const mg = line.grossMg - (spare.get(line.offerId) ?? 0) * packMgOf(line);
    used.set(line.yarnColourId, (used.get(line.yarnColourId) ?? 0) + mg);
  }
  return used;
}
