import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { listKnitters } from '#db/stores/knitters.ts';
import {
  createOrder,
  createOrderExtra,
  findOrder,
  listLineColours,
  listLines,
  listOrderExtras,
  type OrderRow,
} from '#db/stores/orders.ts';

/**
 * The same order once more, for the same customer and outlet, begun today, with its extras and its way there. A due day
 * that has passed, the day to be there by and the customer's reference are left out, and so is a knitter who knits no
 * more.
 */
export async function repeatOrder(workshop: Workshop, orderId: number, today: Day): Promise<OrderRow> {
  return await workshop.store.write('orders: repeat an order', async (tx) => {
    const order = await findOrder(tx, orderId);
    if (!order) throw new AppError('notFound', 'That order is not here; it may have been removed.');
    const colours = await listLineColours(tx, orderId);
    const knitters = new Set((await listKnitters(tx)).flatMap(({ id, isActive }) => (isActive ? [id] : [])));
    const lines = (await listLines(tx, orderId)).map(({ id, orderId: _, version, knitterId, ...line }) => ({
      ...line,
      knitterId: knitterId !== null && knitters.has(knitterId) ? knitterId : null,
      colours: colours
        .filter((colour) => colour.lineId === id)
        .map(({ role, strand, yarnColourId }) => ({ role, strand, yarnColourId })),
    }));
    const extras = (await listOrderExtras(tx)).filter((extra) => extra.orderId === orderId);
    const again = await createOrder(tx, {
      customerId: order.customerId,
      outletId: order.outletId,
      state: order.state === 'asked' ? 'asked' : 'agreed',
      createdDay: today,
      dueDay: order.dueDay !== null && order.dueDay >= today ? order.dueDay : null,
      address: order.address,
      postageCents: order.postageCents,
      postDays: order.postDays,
      lines,
    });
    for (const { name, cents, minutes, materialCents } of extras) {
      await createOrderExtra(tx, { orderId: again.id, name, cents, minutes, materialCents });
    }
    return again;
  });
}
