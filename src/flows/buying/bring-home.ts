import { landedByLine } from '#core/buying/purchases.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { createPurchase, createPurchaseLine, findOffer, findSupplier } from '#db/stores/buying.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import { type PacksToShelve, shelvePacks } from '#flows/buying/shelve-packs.ts';

/** Packs of one offer in one dye lot. */
export type ArrivedPacks = {
  readonly offerId: number;
  /** Whole packs, at least 1. */
  readonly packs: number;
  readonly dyeLot: string | null;
  /** What one pack cost. */
  readonly priceCents: number;
};

export type Arrival = {
  readonly supplierId: number;
  readonly day: Day;
  /** Postage of all of it, and what was taken off the goods as a whole. */
  readonly shippingCents: number;
  readonly offCents: number;
  /** At least one. */
  readonly packs: readonly ArrivedPacks[];
};

export type BroughtHome = { readonly lotIds: readonly number[]; readonly helpedPairs: number };

/**
 * A basket is here: a purchase, and for each dye lot its balls with what was paid, postage and what was taken off shared
 * out by the value of the goods so that the lots add up to the bill. Pairs that wait for such yarn get theirs. One write.
 *
 * @returns what went on the shelf; or what is wrong with a count of packs
 * @throws {AppError} `notFound` when the shop or a price is gone
 */
export async function bringHome({ store }: Workshop, arrival: Arrival): Promise<Result<BroughtHome>> {
  const { supplierId, day, shippingCents, offCents, packs: arrived } = arrival;
  return await store.write('buying: a basket is here', async (tx) => {
    if (!(await findSupplier(tx, supplierId))) {
      throw new AppError('notFound', 'This shop is not here; it may have been removed.');
    }
    const purchase = await createPurchase(tx, {
      supplierId,
      state: 'arrived',
      orderedDay: day,
      expectedDay: day,
      shippingCents,
      offCents,
    });
    const landed = landedByLine(arrived, shippingCents, offCents);
    const came: PacksToShelve[] = [];
    for (const [index, { offerId, packs, dyeLot, priceCents }] of arrived.entries()) {
      const offer = await findOffer(tx, offerId);
      if (offer?.supplierId !== supplierId) {
        throw new AppError('notFound', 'A price of this basket is not here; it may have been removed.');
      }
      const { yarnColourId, ballMg, ballsPerPack } = offer;
      const pack = { ballMg, ballsPerPack, packs };
      const bought = { ...pack, purchaseId: purchase.id, offerId, arrivedPacks: packs, priceCents };
      const line = await createPurchaseLine(tx, bought);
      const paidCents = landed[index]!;
      const path = `packs-${offerId}`;
      came.push({ ...pack, yarnColourId, purchaseLineId: line.id, dyeLot, paidCents, path });
    }
    const made = await shelvePacks(tx, day, came);
    if (!made.ok) return made;
    return succeed({ lotIds: made.value, helpedPairs: await allotWaiting(tx, new Map(), made.value) });
  });
}
