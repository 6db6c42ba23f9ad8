import { AppError } from '#core/shared/app-error.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changeExtra,
  createExtra,
  createOrderExtra,
  type ExtraRow,
  findExtra,
  findOrderExtra,
  listExtras,
  type OrderExtraRow,
  removeExtra,
  removeOrderExtra,
} from '#db/stores/orders.ts';
import { requireOpenOrder } from '#flows/orders/open-order.ts';

/** Something added to an order: a wrap, a card, a rush, grip soles. */
export type ExtraEntry = {
  readonly name: string;
  readonly cents: number;
  readonly minutes: number;
  readonly materialCents: number;
};

/** What may be added, by name. */
export async function readUsualExtras(workshop: Workshop): Promise<readonly ExtraRow[]> {
  return await workshop.store.read((db) => listExtras(db));
}

/** Adds something to an order, at its price of today. @throws {AppError} `notFound` */
export async function addOrderExtra(
  workshop: Workshop,
  orderId: number,
  entry: ExtraEntry,
): Promise<Result<OrderExtraRow>> {
  return await workshop.store.write('orders: add an extra', async (tx) => {
    const order = await requireOpenOrder(tx, orderId, 'name');
    if (!order.ok) return order;
    const { name, cents, minutes, materialCents } = entry;
    return succeed(await createOrderExtra(tx, { orderId, name, cents, minutes, materialCents }));
  });
}

/** Adds one of the usual extras to an order. @throws {AppError} `notFound` */
export async function addUsualExtra(
  workshop: Workshop,
  orderId: number,
  extraId: number,
): Promise<Result<OrderExtraRow>> {
  const extra = await workshop.store.read((db) => findExtra(db, extraId));
  if (!extra) {
    const message = 'That extra is no longer among the usual ones. Choose another, or type it.';
    return refuse({ code: 'extraGone', path: 'name', message });
  }
  return await addOrderExtra(workshop, orderId, extra);
}

/** Takes an extra off an order again. @throws {AppError} `notFound`, `conflict` */
export async function dropOrderExtra(
  workshop: Workshop,
  orderId: number,
  extraId: number,
  version: number | undefined,
): Promise<OrderExtraRow> {
  return await workshop.store.write('orders: remove an extra', async (tx) => {
    const extra = await findOrderExtra(tx, extraId);
    if (extra?.orderId !== orderId) throw new AppError('notFound', 'That extra is not on this order any more.');
    return await removeOrderExtra(tx, extraId, version);
  });
}

async function checkName(tx: Tx, name: string, ownId: number | null): Promise<Result<null>> {
  const wanted = name.toLowerCase();
  const other = (await listExtras(tx)).find((each) => each.id !== ownId && each.name.toLowerCase() === wanted);
  if (!other) return succeed(null);
  return refuse({ code: 'nameTwice', path: 'name', message: `There is “${other.name}” already: choose another name.` });
}

/** Adds a usual extra. */
export async function addExtra(workshop: Workshop, entry: ExtraEntry): Promise<Result<ExtraRow>> {
  return await workshop.store.write('pricing: add a usual extra', async (tx) => {
    const isFree = await checkName(tx, entry.name, null);
    return isFree.ok ? succeed(await createExtra(tx, entry)) : isFree;
  });
}

/** Changes a usual extra; orders keep what they were given. @throws {AppError} `notFound`, `conflict` */
export async function saveExtra(
  workshop: Workshop,
  id: number,
  entry: ExtraEntry,
  version: number | undefined,
): Promise<Result<ExtraRow>> {
  return await workshop.store.write('pricing: change a usual extra', async (tx) => {
    const isFree = await checkName(tx, entry.name, id);
    return isFree.ok ? succeed(await changeExtra(tx, id, entry, version)) : isFree;
  });
}

/** Takes a usual extra away; orders keep theirs. @throws {AppError} `notFound`, `conflict` */
export async function dropExtra(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('pricing: remove a usual extra', (tx) => removeExtra(tx, id, version));
}
