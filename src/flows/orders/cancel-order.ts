import type { PaymentWay } from '#core/pricing/order-money.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeOrder, type OrderRow } from '#db/stores/orders.ts';
import { listChangesOf } from '#db/stores/workshop.ts';
import { checkReference } from '#flows/orders/add-order.ts';
import { requireOrder } from '#flows/orders/open-order.ts';
import { paidIn, returnAll } from '#flows/orders/payments.ts';

/** What becomes of the money that was paid for an order that is cancelled. */
export type PaidChoice = { readonly paid: 'kept' } | { readonly paid: 'returned'; readonly how: PaymentWay };

/** When an order was cancelled, and what becomes of its money; null when nobody said. */
export type Ending = { readonly day: Day; readonly choice: PaidChoice | null };

/**
 * Cancels an order; it stays where it is, and so do its lines. Pairs already begun for it become stock. Where something
 * was paid it must be said whether that is kept, and is then what the order comes to, or goes back that day.
 *
 * @throws {AppError} `notFound`, or `conflict` when the version moved on or nobody said what becomes of the money
 */
export async function cancelOrder(
  workshop: Workshop,
  orderId: number,
  version?: number,
  ending: Ending | null = null,
): Promise<OrderRow> {
  return await workshop.store.write('orders: cancel an order', async (tx) => {
    const order = await requireOrder(tx, orderId);
    if (order.state === 'cancelled') return order;
    if (!ending?.choice && (await paidIn(tx, orderId)) > 0) {
      const message = 'Something was paid for this order. Open it and say whether that is kept or goes back.';
      throw new AppError('conflict', message);
    }
    const cancelled = await changeOrder(
      tx,
      orderId,
      { state: 'cancelled', cancelledDay: ending?.day ?? null },
      version,
    );
    if (ending?.choice?.paid === 'returned') await returnAll(tx, orderId, ending.day, ending.choice.how);
    return cancelled;
  });
}

/** The state that a cancelled order had before. */
async function stateBefore(tx: Tx, orderId: number): Promise<'asked' | 'agreed'> {
  const changes = await listChangesOf(tx, 'orders', orderId);
  const states = changes.map(({ beforeJson }) => (beforeJson ? (JSON.parse(beforeJson) as OrderRow).state : null));
  return states.findLast((state) => state === 'asked' || state === 'agreed') === 'asked' ? 'asked' : 'agreed';
}

/** Takes the cancelling of an order back: it is asked or agreed as it was before. Money that went back stays gone. */
export async function takeBackCancel(workshop: Workshop, orderId: number, version?: number): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: take a cancel back', async (tx) => {
    const order = await requireOrder(tx, orderId);
    if (order.state !== 'cancelled') return succeed(order);
    const isFree = await checkReference(tx, order.customerId, order, orderId);
    if (!isFree.ok) return isFree;
    return succeed(
      await changeOrder(tx, orderId, { state: await stateBefore(tx, orderId), cancelledDay: null }, version),
    );
  });
}
