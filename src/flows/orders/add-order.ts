import type { Day } from '#core/shared/calendar.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { createOrder, findOrderByReference, type OrderRow } from '#db/stores/orders.ts';
import type { OrderDetails, OrderEntry } from '#flows/orders/entries.ts';
import { customerIdOf, newLinesOf } from '#flows/orders/stored-line.ts';

/** Whether a customer's reference is free for an order; a problem at `reference` that names the other one. */
export async function checkReference(
  tx: Tx,
  customerId: number | null,
  { reference }: Pick<OrderDetails, 'reference'>,
  ownOrderId: number | null = null,
): Promise<Result<null>> {
  if (customerId === null || reference === null) return succeed(null);
  const other = await findOrderByReference(tx, customerId, reference);
  if (!other || other.id === ownOrderId) return succeed(null);
  return refuse({
    code: 'referenceTaken',
    path: 'reference',
    message: `Order ${other.number} of this customer has the reference “${reference}” already. Open that order, or give this one another reference.`,
  });
}

/** Adds an order with its lines, the customer and measured feet with it. */
export async function addOrder(workshop: Workshop, entry: OrderEntry, today: Day): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: add an order', async (tx) => {
    const { customerName, lines, ...details } = entry;
    const customerId = await customerIdOf(tx, customerName);
    const isFree = await checkReference(tx, customerId, details);
    if (!isFree.ok) return isFree;
    const newLines = await newLinesOf(tx, customerId, lines);
    return succeed(await createOrder(tx, { ...details, customerId, createdDay: today, lines: newLines }));
  });
}
