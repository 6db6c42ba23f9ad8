import type { BasketBreak } from '#core/buying/offers.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changeSupplier,
  createSupplier,
  listOffers,
  listSuppliers,
  removeOffer,
  removeSupplier,
  type SupplierRow,
} from '#db/stores/buying.ts';
import { setBasketBreaks, setPackBreaks } from '#flows/buying/save-breaks.ts';

/** A shop's terms; breaks that are left out stay as they are. */
export type ShopEntry = Omit<SupplierRow, 'id' | 'version' | 'rank'> & { readonly breaks?: readonly BasketBreak[] };

async function refuseTakenName(tx: Tx, name: string, ownId: number | null) {
  const isTaken = (await listSuppliers(tx)).some(
    (shop) => shop.id !== ownId && shop.name.toLowerCase() === name.toLowerCase(),
  );
  return isTaken
    ? refuse({
        code: 'nameTaken',
        path: 'name',
        message: `There is a shop called ${name} already. Give this one another name.`,
      })
    : null;
}

/** Adds a shop after those that are there. @returns its id */
export async function addShop({ store }: Workshop, { breaks, ...entry }: ShopEntry): Promise<Result<number>> {
  return await store.write('buying: add a shop', async (tx) => {
    const refusal = await refuseTakenName(tx, entry.name, null);
    if (refusal) return refusal;
    const rank = (await listSuppliers(tx)).reduce((next, shop) => Math.max(next, shop.rank + 1), 0);
    const { id } = await createSupplier(tx, { ...entry, rank });
    if (breaks) await setBasketBreaks(tx, id, breaks);
    return succeed(id);
  });
}

/** Changes what is known of a shop. */
export async function saveShop(
  { store }: Workshop,
  id: number,
  { breaks, ...entry }: ShopEntry,
  version: number | undefined,
): Promise<Result<number>> {
  return await store.write('buying: change a shop', async (tx) => {
    const refusal = await refuseTakenName(tx, entry.name, id);
    if (refusal) return refusal;
    await changeSupplier(tx, id, entry, version);
    if (breaks) await setBasketBreaks(tx, id, breaks);
    return succeed(id);
  });
}

/** Takes a shop away with all its prices. @throws {AppError} `conflict` when something was bought there */
export async function dropShop({ store }: Workshop, id: number, version: number | undefined): Promise<void> {
  await store.write('buying: remove a shop', async (tx) => {
    for (const offer of await listOffers(tx)) {
      if (offer.supplierId !== id) continue;
      await setPackBreaks(tx, offer.id, []);
      await removeOffer(tx, offer.id);
    }
    await setBasketBreaks(tx, id, []);
    await removeSupplier(tx, id, version);
  });
}
