import type { Purchase } from '#core/buying/purchases.ts';
import type { OfferRow, PurchaseLineRow, PurchaseRow } from '#db/stores/buying.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';

/** A stored purchase, and the same as core counts it. */
export type StoredPurchase = { readonly row: PurchaseRow; readonly purchase: Purchase };

/** A purchase as core counts it. */
export function purchaseFrom(
  row: PurchaseRow,
  lines: readonly PurchaseLineRow[],
  offers: ReadonlyMap<number, OfferRow>,
): Purchase {
  return {
    expectedDay: row.expectedDay,
    shippingCents: row.shippingCents,
    offCents: row.offCents,
    lines: lines
      .filter((line) => line.purchaseId === row.id)
      .map(({ id, offerId, ballMg, ballsPerPack, packs, arrivedPacks, priceCents }) => {
        const { yarnColourId } = offers.get(offerId)!;
        return { id, yarnColourId, packMg: ballMg * ballsPerPack, packs, arrivedPacks, priceCents };
      }),
  };
}

/** Everything that is ordered and not all here, what is expected first leading. */
export function purchasesOnTheirWay(
  rows: Pick<WorkshopRows, 'purchases' | 'purchaseLines' | 'offers'>,
): readonly StoredPurchase[] {
  const ordered = rows.purchases.filter((row) => row.state === 'ordered');
  if (ordered.length === 0) return [];
  const offers = new Map(rows.offers.map((offer) => [offer.id, offer]));
  return ordered
    .map((row) => ({ row, purchase: purchaseFrom(row, rows.purchaseLines, offers) }))
    .sort((a, b) =>
      a.row.expectedDay === b.row.expectedDay ? a.row.id - b.row.id : +(a.row.expectedDay > b.row.expectedDay) * 2 - 1,
    );
}
