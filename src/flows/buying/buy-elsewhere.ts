import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  createOffer,
  createPurchase,
  createPurchaseLine,
  findSupplier,
  listOffers,
  type OfferRow,
  type PurchaseLineRow,
} from '#db/stores/buying.ts';
import { findYarnColour } from '#db/stores/shelf.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import type { BroughtHome } from '#flows/buying/bring-home.ts';
import { shelvePacks } from '#flows/buying/shelve-packs.ts';

/** Yarn that was bought in another shop than the list says, or at another price. */
export type ElsewhereEntry = {
  /** Null where it was bought at a place that is no shop of the workshop. */
  readonly supplierId: number | null;
  readonly yarnColourId: number;
  readonly ballMg: number;
  readonly ballsPerPack: number;
  /** Whole packs, at least 1. */
  readonly packs: number;
  /** What one pack cost. */
  readonly priceCents: number;
  readonly shippingCents: number;
  readonly dyeLot: string | null;
  readonly day: Day;
};

async function offerFor(tx: Tx, supplierId: number, entry: ElsewhereEntry): Promise<OfferRow> {
  const { yarnColourId, ballMg, ballsPerPack, priceCents } = entry;
  const known = (await listOffers(tx)).find(
    (offer) =>
      offer.supplierId === supplierId &&
      offer.yarnColourId === yarnColourId &&
      offer.ballMg === ballMg &&
      offer.ballsPerPack === ballsPerPack,
  );
  return known ?? (await createOffer(tx, { supplierId, yarnColourId, ballMg, ballsPerPack, priceCents }));
}

/** The purchase of it at a shop of the workshop. @returns its only line */
async function bookPurchase(tx: Tx, supplierId: number, entry: ElsewhereEntry): Promise<PurchaseLineRow> {
  if (!(await findSupplier(tx, supplierId))) {
    throw new AppError('notFound', 'This shop is not here; it may have been removed.');
  }
  const { ballMg, ballsPerPack, packs, priceCents, shippingCents, day } = entry;
  const offer = await offerFor(tx, supplierId, entry);
  const values = { supplierId, orderedDay: day, expectedDay: day, shippingCents };
  const purchase = await createPurchase(tx, { ...values, state: 'arrived' });
  const pack = { ballMg, ballsPerPack, packs, arrivedPacks: packs, priceCents };
  return await createPurchaseLine(tx, { ...pack, purchaseId: purchase.id, offerId: offer.id });
}

/**
 * Puts yarn bought elsewhere on the shelf, at what was paid with its postage; the need falls by it. At a shop of the
 * workshop it is a purchase that is here, and a pack without a price gets this one; a price that is there stays. Pairs
 * that wait for such yarn get theirs. One write.
 *
 * @returns what went on the shelf; or a refusal at `packs`
 * @throws {AppError} `notFound` when the shop or the colour is gone
 */
export async function buyElsewhere({ store }: Workshop, entry: ElsewhereEntry): Promise<Result<BroughtHome>> {
  const { supplierId, yarnColourId, ballMg, ballsPerPack, packs, priceCents, shippingCents, dyeLot, day } = entry;
  return await store.write('buying: bought elsewhere', async (tx) => {
    if (!(await findYarnColour(tx, yarnColourId))) {
      throw new AppError('notFound', 'This colour is not here; it may have been removed.');
    }
    const purchaseLineId = supplierId === null ? undefined : (await bookPurchase(tx, supplierId, entry)).id;
    const paidCents = packs * priceCents + shippingCents;
    const came = { yarnColourId, ballMg, ballsPerPack, packs, dyeLot, paidCents, path: 'packs' };
    const made = await shelvePacks(tx, day, [purchaseLineId === undefined ? came : { ...came, purchaseLineId }]);
    if (!made.ok) return made;
    return succeed({ lotIds: made.value, helpedPairs: await allotWaiting(tx, new Map(), made.value) });
  });
}
