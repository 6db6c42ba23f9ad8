import type { PaidHow } from '#core/fair/day-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Tx } from '#db/store.ts';
import { changePair, createPairEvent, findPair } from '#db/stores/batch.ts';
import { createSale, createSaleLine } from '#db/stores/fair.ts';

export type NewSale = {
  readonly tillKey: string;
  readonly fairDayId: number | null;
  readonly outletId: number;
  readonly day: Day;
  readonly how: PaidHow;
  readonly pairId: number | null;
  readonly what: string;
  readonly priceCents: number;
};

/** A finished pair that is here goes out as sold. @throws {AppError} `conflict` when it has left */
export async function markSold(tx: Tx, pairId: number): Promise<void> {
  const pair = await findPair(tx, pairId);
  if (!pair) throw new AppError('notFound', 'That pair is not here; it may have been removed.');
  if (pair.left !== null) {
    throw new AppError('conflict', `That pair has left already (${pair.left}). Look at the page again.`);
  }
  await changePair(tx, pairId, { left: 'sold' });
  await createPairEvent(tx, { pairId, event: 'sold' });
}

/** Notes a sale of one pair, without saying anything of the pair. */
export async function noteSale(tx: Tx, { pairId, what, priceCents, ...sale }: NewSale): Promise<void> {
  const row = await createSale(tx, { ...sale, atMs: tx.atMs, reversesId: null });
  await createSaleLine(tx, { saleId: row.id, pairId, what, priceCents, settledWhy: null });
}
