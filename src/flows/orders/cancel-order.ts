import { AppError } from '#core/shared/app-error.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeOrder, findOrder, type OrderRow } from '#db/stores/orders.ts';
import { listChangesOf } from '#db/stores/workshop.ts';
import { checkReference } from '#flows/orders/add-order.ts';

async function requireOrder(tx: Tx, orderId: number): Promise<OrderRow> {
  const order = await findOrder(tx, orderId);
  if (!order) throw new AppError('notFound', 'That order is not here; it may have been removed.');
  return order;
}

/** Cancels an order; it stays where it is, and so do its lines. Pairs already begun for it become stock. */
export async function cancelOrder(workshop: Workshop, orderId: number, version?: number): Promise<OrderRow> {
  return await workshop.store.write('orders: cancel an order', async (tx) => {
    const order = await requireOrder(tx, orderId);
    return order.state === 'cancelled' ? order : await changeOrder(tx, orderId, { state: 'cancelled' }, version);
  });
}

/** The state that a cancelled order had before. */
async function stateBefore(tx: Tx, orderId: number): Promise<'asked' | 'agreed'> {
  const changes = await listChangesOf(tx, 'orders', orderId);
  const states = changes.map(({ beforeJson }) => (beforeJson ? (JSON.parse(beforeJson) as OrderRow).state : null));
  return states.findLast((state) => state === 'asked' || state === 'agreed') === 'asked' ? 'asked' : 'agreed';
}

/** Takes the cancelling of an order back: it is asked or agreed as it was before. */
export async function takeBackCancel(workshop: Workshop, orderId: number, version?: number): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: take a cancel back', async (tx) => {
    const order = await requireOrder(tx, orderId);
    if (order.state !== 'cancelled') return succeed(order);
    const isFree = await checkReference(tx, order.customerId, order, orderId);
    if (!isFree.ok) return isFree;
    return succeed(await changeOrder(tx, orderId, { state: await stateBefore(tx, orderId) }, version));
  });
}
