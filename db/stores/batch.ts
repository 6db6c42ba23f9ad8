import { asc, eq, isNull, max, or, sql } from 'drizzle-orm';
import { batches, batchLines, pairColours, pairEvents, pairPieces, pairRows, pairs } from '#db/schema/batch.ts';
import type { Reader, Tx } from '#db/store.ts';
import { insertAll, type RowOf } from '#db/stores/record.ts';
import { type RowsQuery, rowsOf } from '#db/stores/rows.ts';

export type BatchRow = RowOf<typeof batches>;
export type BatchLineRow = RowOf<typeof batchLines>;
export type PairRow = RowOf<typeof pairs>;
export type PairPieceRow = RowOf<typeof pairPieces>;
export type PairColourRow = RowOf<typeof pairColours>;
export type PairEventRow = RowOf<typeof pairEvents>;
export type PairRowsRow = RowOf<typeof pairRows>;

export const {
  list: listBatches,
  find: findBatch,
  create: createBatch,
  change: changeBatch,
  remove: removeBatch,
} = rowsOf(batches);

/** The one batch that is being gathered; null when there is none. */
export async function findGatheringBatch(from: Reader): Promise<BatchRow | null> {
  return (await listBatches(from, eq(batches.state, 'gathering')))[0] ?? null;
}

export const {
  list: listBatchLines,
  find: findBatchLine,
  create: createBatchLine,
  createAll: createBatchLines,
  change: changeBatchLine,
  remove: removeBatchLine,
} = rowsOf(batchLines, asc(batchLines.batchId));

export const {
  list: listPairs,
  find: findPair,
  create: createPair,
  createAll: createPairs,
  change: changePair,
} = rowsOf(pairs, asc(pairs.rank));

// A pair that has left still answers its order until the order is cancelled.
const isCurrent = or(
  isNull(pairs.left),
  sql`${pairs.lineId} in (select order_lines.id from order_lines join orders on orders.id = order_lines.order_id where orders.state <> 'cancelled')`,
)!;
const currentPairIds = sql`(select ${pairs.id} from ${pairs} where ${isCurrent})`;

/** Pairs that have not left, and pairs of orders that are not cancelled. */
export function listCurrentPairs(from: Reader): RowsQuery<PairRow> {
  return listPairs(from, isCurrent);
}

/** The rank after every pair that is here. */
export async function nextPairRank(from: Reader): Promise<number> {
  const [row] = await from
    .select({ last: max(pairs.rank) })
    .from(pairs)
    .where(isCurrent);
  return (row?.last ?? -1) + 1;
}

export const {
  list: listPairPieces,
  find: findPairPiece,
  create: createPairPiece,
  createAll: createPairPieces,
  change: changePairPiece,
} = rowsOf(pairPieces, asc(pairPieces.pairId));

export const {
  list: listPairColours,
  create: createPairColour,
  createAll: createPairColours,
  change: changePairColour,
  remove: removePairColour,
} = rowsOf(pairColours, asc(pairColours.pairId), asc(pairColours.role), asc(pairColours.strand));

export function listCurrentPairPieces(from: Reader): RowsQuery<PairPieceRow> {
  return listPairPieces(from, sql`${pairPieces.pairId} in ${currentPairIds}`);
}

export function listCurrentPairColours(from: Reader): RowsQuery<PairColourRow> {
  return listPairColours(from, sql`${pairColours.pairId} in ${currentPairIds}`);
}

const progress = rowsOf(pairRows, asc(pairRows.pairId), asc(pairRows.piece), asc(pairRows.slipper));
export const { create: createPairRows, change: changePairRows } = progress;

/** Rows done of the pieces of some pairs; of one pair when only one is asked for. */
export function listPairRows(from: Reader, pairId?: number): RowsQuery<PairRowsRow> {
  return progress.list(from, pairId === undefined ? undefined : eq(pairRows.pairId, pairId));
}

export const { list: listPairEvents } = rowsOf(pairEvents, asc(pairEvents.atMs));

type NewPairEvent = { readonly pairId: number; readonly event: string; readonly who?: string | null };

/** What happened to pairs under one name, oldest first. */
export function listEventsNamed(from: Reader, event: string): RowsQuery<PairEventRow> {
  return listPairEvents(from, eq(pairEvents.event, event));
}

/** Notes what happened to a pair, now. */
export async function createPairEvent(tx: Tx, row: NewPairEvent): Promise<PairEventRow> {
  const [event] = await createPairEvents(tx, [row]);
  return event!;
}

/** The same for many pairs. */
export async function createPairEvents(tx: Tx, rows: readonly NewPairEvent[]): Promise<PairEventRow[]> {
  return await insertAll(
    tx,
    pairEvents,
    rows.map((row) => ({ who: null, ...row, atMs: tx.atMs })),
  );
}
