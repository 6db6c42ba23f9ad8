import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { listBatches, listBatchLines, removeBatchLine } from '#db/stores/batch.ts';
import { changeLine, createLine, findLine, findOrder, type OrderLineRow, removeLine } from '#db/stores/orders.ts';
import { findFoot } from '#db/stores/sizing.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { footEntryOf, footKey, lineColumns, newLinesOf } from '#flows/orders/stored-line.ts';

async function customerOf(tx: Tx, orderId: number): Promise<number | null> {
  const order = await findOrder(tx, orderId);
  if (!order) throw new AppError('notFound', 'That order is not here; it may have been removed.');
  if (order.state === 'cancelled') {
    throw new AppError('conflict', 'This order was cancelled. Take that back first, then change its lines.');
  }
  return order.customerId;
}

/** Adds a line to an order that is not cancelled. */
export async function addLine(workshop: Workshop, orderId: number, entry: LineEntry): Promise<OrderLineRow> {
  return await workshop.store.write('orders: add a line', async (tx) => {
    const [line] = await newLinesOf(tx, await customerOf(tx, orderId), [entry]);
    return await createLine(tx, orderId, line!);
  });
}

/** The row of a line's measured feet, when the entry asks for the very same; null when they must be stored anew. */
async function sameFoot(tx: Tx, line: OrderLineRow, entry: LineEntry): Promise<number | null> {
  if (entry.size.by !== 'foot' || line.footId === null) return null;
  const foot = await findFoot(tx, line.footId);
  return foot && footKey(footEntryOf(foot)) === footKey(entry.size) ? foot.id : null;
}

/**
 * Changes a line and its colours.
 *
 * @throws {AppError} `notFound`, or `conflict` with the other's row when the version moved on
 */
export async function changeLineEntry(
  workshop: Workshop,
  lineId: number,
  entry: LineEntry,
  version: number | undefined,
): Promise<OrderLineRow> {
  return await workshop.store.write('orders: change a line', async (tx) => {
    const line = await findLine(tx, lineId);
    if (!line) throw new AppError('notFound', 'That line is not here; it may have been removed.');
    const customerId = await customerOf(tx, line.orderId);
    const footId = await sameFoot(tx, line, entry);
    const [columns] = footId === null ? await newLinesOf(tx, customerId, [entry]) : [lineColumns(entry, footId)];
    return await changeLine(tx, lineId, columns!, version);
  });
}

/** Takes a line out of the batch that is still being gathered, where nothing was begun for it. */
async function leaveGathering(tx: Tx, lineId: number): Promise<void> {
  const gathering = (await listBatches(tx)).find((batch) => batch.state === 'gathering');
  if (!gathering) return;
  for (const row of await listBatchLines(tx)) {
    if (row.lineId === lineId && row.batchId === gathering.id) await removeBatchLine(tx, row.id);
  }
}

/**
 * Removes a line for which nothing was begun.
 *
 * @throws {AppError} `notFound`, or `conflict` when the version moved on or pairs of it were begun
 */
export async function removeLineEntry(workshop: Workshop, lineId: number, version?: number): Promise<OrderLineRow> {
  try {
    return await workshop.store.write('orders: remove a line', async (tx) => {
      const line = await findLine(tx, lineId);
      if (!line) throw new AppError('notFound', 'That line is not here; it may have been removed.');
      await leaveGathering(tx, lineId);
      return await removeLine(tx, lineId, version);
    });
  } catch (error) {
    if (!(error instanceof AppError) || error.code !== 'conflict' || error.current !== undefined) throw error;
    throw new AppError(
      'conflict',
      'Pairs of this line were begun, so it stays. Lower its number of pairs, or cancel the order: pairs already begun then become stock.',
      { cause: error },
    );
  }
}
