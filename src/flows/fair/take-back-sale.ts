import { standingSales } from '#core/fair/day-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import { changePair, createPairEvent, findPair } from '#db/stores/batch.ts';
import { createSale, findSale, listSaleLines, listSales } from '#db/stores/fair.ts';

/**
 * Takes a sale back that was typed wrongly: another row says so, its pairs are here again. Pressed twice it is taken
 * back once.
 *
 * @returns the day at a table that it belongs to; null for a sale elsewhere
 * @throws {AppError} `notFound`
 */
export async function takeBackSale({ store }: Workshop, saleId: number): Promise<number | null> {
  return await store.write('fair: take a sale back', async (tx) => {
    const sale = await findSale(tx, saleId);
    if (!sale || sale.reversesId !== null) {
      throw new AppError('notFound', 'That sale is not here; look at the day again.');
    }
    if (standingSales(await listSales(tx)).every(({ id }) => id !== saleId)) return sale.fairDayId;
    const { fairDayId, outletId, day, how } = sale;
    await createSale(tx, {
      tillKey: `${sale.id} taken back`,
      fairDayId,
      outletId,
      day,
      how,
      atMs: tx.atMs,
      reversesId: sale.id,
    });
    for (const { pairId } of (await listSaleLines(tx)).filter((line) => line.saleId === saleId)) {
      const pair = pairId === null ? null : await findPair(tx, pairId);
      if (pair?.left !== 'sold') continue;
      await changePair(tx, pair.id, { left: null });
      await createPairEvent(tx, { pairId: pair.id, event: 'come back' });
    }
    return fairDayId;
  });
}
