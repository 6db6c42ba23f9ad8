import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { listKnitters } from '#db/stores/knitters.ts';
import { createOrder, findOrder, listLineColours, listLines, type OrderRow } from '#db/stores/orders.ts';

/**
 * The same order once more, for the same customer and outlet, begun today. A due day that has passed and the
 * customer's reference are left out, and so is a knitter who knits no more.
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
    return await createOrder(tx, {
      customerId: order.customerId,
      outletId: order.outletId,
      state: order.state === 'asked' ? 'asked' : 'agreed',
      createdDay: today,
      dueDay: order.dueDay !== null && order.dueDay >= today ? order.dueDay : null,
      address: order.address,
      lines,
    });
  });
}
