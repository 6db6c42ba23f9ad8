import type { BasketBreak, PackBreak } from '#core/buying/offers.ts';
import type { Tx } from '#db/store.ts';
import {
  changeOfferBreak,
  changeSupplierBreak,
  createOfferBreak,
  createSupplierBreak,
  listOfferBreaks,
  listSupplierBreaks,
  removeOfferBreak,
  removeSupplierBreak,
} from '#db/stores/buying.ts';

/** Makes these the lower prices of an offer: what is there with the same count is changed, what is not named goes. */
export async function setPackBreaks(tx: Tx, offerId: number, breaks: readonly PackBreak[]): Promise<void> {
  const there = (await listOfferBreaks(tx)).filter((row) => row.offerId === offerId);
  for (const row of there) {
    const kept = breaks.find((each) => each.fromPacks === row.fromPacks);
    if (!kept) await removeOfferBreak(tx, row.id);
    else if (kept.priceCents !== row.priceCents) await changeOfferBreak(tx, row.id, { priceCents: kept.priceCents });
  }
  for (const { fromPacks, priceCents } of breaks) {
    if (there.some((row) => row.fromPacks === fromPacks)) continue;
    await createOfferBreak(tx, { offerId, fromPacks, priceCents });
  }
}

/** Makes these what a shop takes off a whole basket. */
export async function setBasketBreaks(tx: Tx, supplierId: number, breaks: readonly BasketBreak[]): Promise<void> {
  const there = (await listSupplierBreaks(tx)).filter((row) => row.supplierId === supplierId);
  for (const row of there) {
    const kept = breaks.find((each) => each.fromCents === row.fromCents);
    if (!kept) await removeSupplierBreak(tx, row.id);
    else if (kept.offRatio !== row.offRatio) await changeSupplierBreak(tx, row.id, { offRatio: kept.offRatio });
  }
  for (const { fromCents, offRatio } of breaks) {
    if (there.some((row) => row.fromCents === fromCents)) continue;
    await createSupplierBreak(tx, { supplierId, fromCents, offRatio });
  }
}
