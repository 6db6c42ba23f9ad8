import { AppError } from '#core/shared/app-error.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Tx } from '#db/store.ts';
import { findOrder, type OrderRow } from '#db/stores/orders.ts';

/** @throws {AppError} `notFound` */
export async function requireOrder(tx: Tx, orderId: number): Promise<OrderRow> {
  const order = await findOrder(tx, orderId);
  if (!order) throw new AppError('notFound', 'That order is not here; it may have been removed.');
  return order;
}

/** The order, unless it is cancelled. @throws {AppError} `notFound` */
export async function requireOpenOrder(tx: Tx, orderId: number, path: string): Promise<Result<OrderRow>> {
  const order = await requireOrder(tx, orderId);
  return order.state === 'cancelled' ? refuse(cancelledAt(path)) : succeed(order);
}

function cancelledAt(path: string): Problem {
  return { code: 'cancelled', path, message: 'This order is cancelled. Take the cancelling back first.' };
}
