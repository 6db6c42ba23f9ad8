import { missingPairs } from '#core/fair/came-home.ts';
import type { PaidHow } from '#core/fair/day-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import { changePair, createPairEvent, listPairs } from '#db/stores/batch.ts';
import { changeFairDay, findFair, findFairDay, listFairPairs, listSaleLines, listSales } from '#db/stores/fair.ts';
import type { KindAtTable } from '#flows/fair/read-day.ts';
import { markSold, noteSale } from '#flows/fair/sell-pair.ts';
import { takenOf } from '#flows/fair/taken-pairs.ts';

/** What became of the missing pairs of a kind. */
export type MissingWish = {
  readonly kind: KindAtTable;
  readonly became: PaidHow | 'lost';
  readonly priceCents: number;
};

/**
 * Books pairs that were taken along, did not come home and are in no sale: as sold, or as lost. Sent twice it counts
 * once, since the second time none is missing.
 *
 * @throws {AppError} `notFound`, `conflict`
 */
export async function bookMissing(
  { store }: Workshop,
  dayId: number,
  wishes: readonly MissingWish[],
  token: string,
): Promise<void> {
  await store.write('fair: book what is missing', async (tx) => {
    const day = await findFairDay(tx, dayId);
    const fair = day && (await findFair(tx, day.fairId));
    if (!day || !fair) throw new AppError('notFound', 'That day is not here; it may have been removed.');
    const sales = await listSales(tx);
    if (sales.some(({ tillKey }) => tillKey.startsWith(`${token}-`))) return;
    const rows = { taken: await listFairPairs(tx), sales, lines: await listSaleLines(tx) };
    const { here } = takenOf(dayId, { ...rows, pairs: await listPairs(tx) });
    await changeFairDay(tx, dayId, {});
    for (const { kind, became, priceCents } of wishes) {
      const ids = new Set(kind.pairs.map(({ pairId }) => pairId));
      for (const { pairId } of missingPairs(here.filter((pair) => ids.has(pair.pairId)))) {
        if (became === 'lost') {
          await changePair(tx, pairId, { left: 'lost' });
          await createPairEvent(tx, { pairId, event: 'lost' });
          continue;
        }
        await markSold(tx, pairId);
        const sale = { fairDayId: dayId, outletId: fair.outletId, day: day.day, how: became };
        await noteSale(tx, { ...sale, tillKey: `${token}-${pairId}`, pairId, what: kind.words, priceCents });
      }
    }
  });
}
