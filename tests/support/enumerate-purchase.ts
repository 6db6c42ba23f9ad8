import type { ColourNeed, Offer, Supplier } from '#core/buying/offers.ts';
import type { PurchaseCase } from '#tests/support/purchase-cases.ts';

// Full enumeration of a small purchase: every count of packs of every colour that could still come to less than a list
// that is known, so nothing is left out but what is surely dearer. Shares no step with the search or the model.

const gramsOf = (offer: Offer) => (offer.ballMg * offer.ballsPerPack) / 1000;
const priceOf = (offer: Offer, packs: number) =>
  packs === 0
    ? 0
    : packs *
      [{ fromPacks: 1, priceCents: offer.priceCents }, ...(offer.breaks ?? [])]
        .filter((step) => step.fromPacks <= packs)
        .reduce((least, step) => Math.min(least, step.priceCents), Number.POSITIVE_INFINITY);
const leastPrice = (offer: Offer) => Math.min(offer.priceCents, ...(offer.breaks ?? []).map((each) => each.priceCents));
const mostOff = (shop: Supplier) => Math.max(0, ...(shop.breaks ?? []).map((each) => each.offRatio));

/** What a basket of goods costs at a shop with postage; null when the shop does not take so small an order. */
function basketCost(shop: Supplier, goods: number): number | null {
  if (goods < shop.minimumCents) return null;
  const off = Math.max(
    0,
    ...(shop.breaks ?? []).filter((each) => each.fromCents <= goods).map((each) => each.offRatio),
  );
  // Half a unit goes up; a hair more, since 0.85 x 30 is 25.499999999999996 in binary.
  const paid = Math.floor(goods * (1 - off) + 0.5 + 1e-7);
  return paid + (shop.freeFromCents !== null && goods >= shop.freeFromCents ? 0 : shop.shippingCents);
}

/**
 * The least that a purchase can cost.
 *
 * @param knownCents what some list that may be bought costs
 */
export function leastByEnumeration(
  { needs, suppliers, offers }: PurchaseCase,
  { oneSupplierPerColour }: { readonly oneSupplierPerColour: boolean },
  knownCents: number,
): number {
  const waysOf = (need: ColourNeed, mostCents: number): number[][] => {
    const ways = new Map<string, number[]>();
    const shopSets = oneSupplierPerColour ? suppliers.map((shop) => [shop]) : [suppliers];
    for (const shops of shopSets) {
      const own = offers.filter(
        (offer) => offer.yarnColourId === need.yarnColourId && shops.some((shop) => shop.id === offer.supplierId),
      );
      const counts = own.map(() => 0);
      const visit = (i: number, grams: number, least: number): void => {
        const offer = own[i];
        if (!offer) {
          // Each shop's packs are a lot of their own: with the largest pair more for each shop after the first, whole pairs fit.
          const shopsUsed = new Set(own.filter((_, j) => counts[j]! > 0).map((each) => each.supplierId)).size;
          if (grams * 1000 < need.needMg + Math.max(0, shopsUsed - 1) * (need.largestPairMg ?? 0)) return;
          const goods = suppliers.map(() => 0);
          for (const [j, each] of own.entries()) {
            goods[suppliers.findIndex((shop) => shop.id === each.supplierId)]! += priceOf(each, counts[j]!);
          }
          ways.set(goods.join(), goods);
          return;
        }
        const off = mostOff(suppliers.find((shop) => shop.id === offer.supplierId)!);
        for (let packs = 0; packs <= (offer.stockPacks ?? 1000); packs += 1) {
          const spent = least + packs * leastPrice(offer) * (1 - off);
          if (spent > mostCents) break;
          counts[i] = packs;
          visit(i + 1, grams + packs * gramsOf(offer), spent);
        }
        counts[i] = 0;
      };
      visit(0, 0, 0);
    }
    return [...ways.values()];
  };
  const goodsLeast = (goods: readonly number[]) =>
    goods.reduce((sum, cents, i) => sum + cents * (1 - mostOff(suppliers[i]!)), 0);
  const leastOf = needs.map((need) =>
    waysOf(need, knownCents).reduce((least, way) => Math.min(least, goodsLeast(way)), 1e12),
  );
  const leastAll = leastOf.reduce((sum, cents) => sum + cents, 0);
  const slack = knownCents - leastAll + suppliers.length;
  let states = new Map<string, number[]>([['', suppliers.map(() => 0)]]);
  let leastSoFar = 0;
  for (const [i, need] of needs.entries()) {
    leastSoFar += leastOf[i]!;
    const next = new Map<string, number[]>();
    for (const way of waysOf(need, leastOf[i]! + slack)) {
      for (const state of states.values()) {
        const goods = state.map((cents, shop) => cents + way[shop]!);
        if (goodsLeast(goods) - leastSoFar > slack) continue;
        next.set(goods.join(), goods);
      }
    }
    states = next;
  }
  let least = Number.POSITIVE_INFINITY;
  for (const goods of states.values()) {
    const costs = goods.map((cents, i) => (cents === 0 ? 0 : basketCost(suppliers[i]!, cents)));
    if (costs.some((cost) => cost === null)) continue;
    least = Math.min(
      least,
      costs.reduce<number>((sum, cost) => sum + cost!, 0),
    );
  }
  return least;
}
