import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/**
 * Finished pairs that could stand on a table: they have not left, are in no shop, and are nobody's order; what was made
 * for a fair is.
 */
export function stockToTake({ rows }: WorkshopPlan): readonly StoredPair[] {
  const inShop = new Set(
    rows.placements.filter(({ soldDay, backDay }) => soldDay === null && backDay === null).map(({ pairId }) => pairId),
  );
  const fairOutlets = new Set(rows.outlets.filter(({ kind }) => kind === 'fair').map(({ id }) => id));
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const lines = new Map(rows.lines.map((line) => [line.id, line]));
  const isFree = (lineId: number | null) => {
    const line = lineId === null ? undefined : lines.get(lineId);
    const order = line && orders.get(line.orderId);
    return !order || (order.customerId === null && fairOutlets.has(order.outletId));
  };
  return readPairs(rows).filter(
    ({ row, isFinished }) => row.left === null && isFinished && !inShop.has(row.id) && isFree(row.lineId),
  );
}
