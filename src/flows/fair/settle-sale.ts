import { type PaidHow, standingSales } from '#core/fair/day-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { findPair, listPairEvents } from '#db/stores/batch.ts';
import {
  changeFairPair,
  changeSaleLine,
  createFairPair,
  findSale,
  findSaleLine,
  listFairPairs,
  listLeftPairColours,
  listLeftPairPieces,
  listLeftPairs,
  listSaleLines,
  listSales,
} from '#db/stores/fair.ts';
import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import { type FairRows, standingLines } from '#flows/fair/fair-rows.ts';
import { pairLabeller } from '#flows/fair/pair-label.ts';
import { markSold, noteSale } from '#flows/fair/sell-pair.ts';
import { stockToTake } from '#flows/fair/stock-to-take.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';

/** A sale whose pair nobody could name. */
export type UnknownSale = {
  readonly lineId: number;
  readonly version: number;
  readonly day: Day;
  readonly what: string;
  readonly priceCents: number;
  readonly how: PaidHow;
  readonly fairDayId: number | null;
};

/** A pair that was marked as sold where no price is asked for. */
export type UnpricedPair = { readonly pairId: number; readonly words: string; readonly day: Day };

export type ToSettle = {
  readonly unknown: readonly UnknownSale[];
  readonly unpriced: readonly UnpricedPair[];
  /** Pairs that could be the one, by name. */
  readonly pairs: readonly { readonly id: number; readonly words: string }[];
};

/** Sales without a pair. */
export function unknownSales(rows: Pick<FairRows, 'sales' | 'lines'>): readonly UnknownSale[] {
  return standingLines(rows)
    .filter(({ line }) => line.pairId === null && line.settledWhy === null)
    .map(({ sale, line }) => ({
      lineId: line.id,
      version: line.version,
      day: sale.day,
      what: line.what,
      priceCents: line.priceCents,
      how: sale.how,
      fairDayId: sale.fairDayId,
    }));
}

/** All that waits to be settled, and the pairs that may belong to it. */
export async function readToSettle({ store }: Workshop, rows: FairRows, workshopPlan: WorkshopPlan): Promise<ToSettle> {
  const [pairs, pairPieces, pairColours, events] = await store.read((db) =>
    db.batch([
      listLeftPairs(db, 'sold'),
      listLeftPairPieces(db, 'sold'),
      listLeftPairColours(db, 'sold'),
      listPairEvents(db),
    ]),
  );
  const label = pairLabeller(workshopPlan);
  const { placements, lines: openLines } = workshopPlan.rows;
  const paid = new Set([
    ...standingLines(rows).flatMap(({ line }) => line.pairId ?? []),
    ...placements.filter(({ soldDay }) => soldDay !== null).map(({ pairId }) => pairId),
  ]);
  const fairOutlets = new Set(workshopPlan.rows.outlets.filter(({ kind }) => kind === 'fair').map(({ id }) => id));
  const orders = new Map(workshopPlan.rows.orders.map((order) => [order.id, order]));
  const isOrdered = ({ row }: StoredPair) => {
    const line = openLines.find(({ id }) => id === row.lineId);
    const order = line && orders.get(line.orderId);
    return order !== undefined && !(order.customerId === null && fairOutlets.has(order.outletId));
  };
  const soldMs = new Map(events.filter(({ event }) => event === 'sold').map(({ pairId, atMs }) => [pairId, atMs]));
  return {
    unknown: unknownSales(rows),
    unpriced: readPairs({ ...workshopPlan.rows, pairs, pairPieces, pairColours })
      .filter((pair) => !paid.has(pair.row.id) && !isOrdered(pair))
      .map((pair) => ({
        pairId: pair.row.id,
        words: label(pair).words,
        day: todayIn(new Date(soldMs.get(pair.row.id) ?? 0), workshopPlan.settings.timeZone),
      })),
    pairs: stockToTake(workshopPlan).map((pair) => ({ id: pair.row.id, words: label(pair).words })),
  };
}

async function findUnsettled(tx: Tx, lineId: number) {
  const line = await findSaleLine(tx, lineId);
  const sale = line && (await findSale(tx, line.saleId));
  const stands = standingSales(await listSales(tx)).some(({ id }) => id === sale?.id);
  if (!line || !sale || !stands) throw new AppError('notFound', 'That sale is not here; it may have been taken back.');
  if (line.pairId !== null || line.settledWhy !== null) {
    throw new AppError('conflict', 'This sale was settled already. Look at the list again.');
  }
  return { line, sale };
}

/**
 * Says which pair a sale was of: the pair has left then, and was taken along that day.
 *
 * @throws {AppError} `notFound`, `conflict`
 */
export async function settleWithPair(
  { store }: Workshop,
  lineId: number,
  pairId: number,
  version: number | undefined,
): Promise<void> {
  await store.write('fair: say which pair was sold', async (tx) => {
    const { sale } = await findUnsettled(tx, lineId);
    await changeSaleLine(tx, lineId, { pairId }, version);
    await markSold(tx, pairId);
    if (sale.fairDayId === null) return;
    const taken = (await listFairPairs(tx)).find((row) => row.fairDayId === sale.fairDayId && row.pairId === pairId);
    if (!taken) await createFairPair(tx, { fairDayId: sale.fairDayId, pairId, cameHome: null });
    else if (taken.cameHome) await changeFairPair(tx, taken.id, { cameHome: false });
  });
}

/** Says why no pair belongs to a sale; the money stays counted. @throws {AppError} `notFound`, `conflict` */
export async function settleWithWhy(
  { store }: Workshop,
  lineId: number,
  settledWhy: string,
  version: number | undefined,
): Promise<void> {
  await store.write('fair: say why no pair belongs to a sale', async (tx) => {
    await findUnsettled(tx, lineId);
    await changeSaleLine(tx, lineId, { settledWhy }, version);
  });
}

export type PriceOfSold = {
  readonly priceCents: number;
  readonly how: PaidHow;
  readonly outletId: number;
  readonly day: Day;
};

/** Says what a pair that was marked as sold brought. Sent twice it counts once. @throws {AppError} `notFound`, `conflict` */
export async function priceSoldPair(
  { store }: Workshop,
  pairId: number,
  what: string,
  { priceCents, how, outletId, day }: PriceOfSold,
  token: string,
): Promise<void> {
  await store.write('fair: say what a sold pair brought', async (tx) => {
    const pair = await findPair(tx, pairId);
    if (pair?.left !== 'sold')
      throw new AppError('conflict', 'That pair is not marked as sold. Look at the list again.');
    const sales = await listSales(tx);
    const isPaid = standingLines({ sales, lines: await listSaleLines(tx) }).some(({ line }) => line.pairId === pairId);
    if (isPaid) return;
    await noteSale(tx, { tillKey: `${token}-1`, fairDayId: null, outletId, day, how, pairId, what, priceCents });
  });
}
