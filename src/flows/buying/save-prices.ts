import type { PackBreak } from '#core/buying/offers.ts';
import { AppError } from '#core/shared/app-error.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { changeOffer, createOffer, findOffer, listOffers, type OfferRow, removeOffer } from '#db/stores/buying.ts';
import { setPackBreaks } from '#flows/buying/save-breaks.ts';

/** A pack and its price; lower prices from so many on that are left out stay as they are. */
export type PackEntry = Pick<OfferRow, 'ballMg' | 'ballsPerPack' | 'priceCents' | 'stockPacks'> & {
  readonly breaks?: readonly PackBreak[];
};

const isSamePack = (a: Omit<PackEntry, 'breaks'>, b: Omit<PackEntry, 'breaks'>) =>
  a.ballMg === b.ballMg && a.ballsPerPack === b.ballsPerPack;

/** One price for some colours at a shop; where the same pack has a price already, it is changed. */
export async function savePrices(
  { store }: Workshop,
  supplierId: number,
  entries: readonly (PackEntry & { readonly yarnColourId: number })[],
): Promise<void> {
  await store.write('buying: enter a price', async (tx) => {
    const there = (await listOffers(tx)).filter((offer) => offer.supplierId === supplierId);
    for (const entry of entries) {
      const known = there.find((offer) => offer.yarnColourId === entry.yarnColourId && isSamePack(offer, entry));
      const { breaks, ...pack } = entry;
      const { priceCents, stockPacks } = pack;
      const { id } = known
        ? await changeOffer(tx, known.id, { priceCents, stockPacks })
        : await createOffer(tx, { ...pack, supplierId });
      if (breaks) await setPackBreaks(tx, id, breaks);
    }
  });
}

/** Changes one pack of one colour. */
export async function saveOffer(
  { store }: Workshop,
  id: number,
  { breaks, ...entry }: PackEntry,
  version: number | undefined,
): Promise<Result<number>> {
  return await store.write('buying: change a price', async (tx) => {
    const offer = await findOffer(tx, id);
    if (!offer) throw new AppError('notFound', 'This price is not here; it may have been removed.');
    const twin = (await listOffers(tx)).find(
      (each) =>
        each.id !== id &&
        each.supplierId === offer.supplierId &&
        each.yarnColourId === offer.yarnColourId &&
        isSamePack(each, entry),
    );
    if (twin) {
      return refuse({
        code: 'packThere',
        path: 'ballG',
        message: 'This shop has a price for such a pack of this colour already.',
      });
    }
    await changeOffer(tx, id, entry, version);
    if (breaks) await setPackBreaks(tx, id, breaks);
    return succeed(id);
  });
}

/** @throws {AppError} `conflict` when something was bought at this price */
export async function dropOffer({ store }: Workshop, id: number, version: number | undefined): Promise<void> {
  await store.write('buying: remove a price', async (tx) => {
    await setPackBreaks(tx, id, []);
    await removeOffer(tx, id, version);
  });
}
