import { AppError } from '#core/shared/app-error.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { changeOrder, findOrder, type OrderRow } from '#db/stores/orders.ts';
import { checkReference } from '#flows/orders/add-order.ts';
import type { OrderDetails } from '#flows/orders/entries.ts';
import { customerIdOf } from '#flows/orders/stored-line.ts';

/**
 * Changes an order's own details; its lines stay. A cancelled order stays cancelled.
 *
 * @throws {AppError} `notFound`, or `conflict` with the other's row when the version moved on
 */
export async function changeOrderDetails(
  workshop: Workshop,
  orderId: number,
  details: OrderDetails,
  version: number | undefined,
): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: change an order', async (tx) => {
    const before = await findOrder(tx, orderId);
    if (!before) throw new AppError('notFound', 'That order is not here; it may have been removed.');
    const { customerName, state, ...values } = details;
    const customerId = await customerIdOf(tx, customerName);
    const isFree = await checkReference(tx, customerId, values, orderId);
    if (!isFree.ok) return isFree;
    const next = before.state === 'cancelled' ? before.state : state;
    return succeed(await changeOrder(tx, orderId, { ...values, customerId, state: next }, version));
  });
}
