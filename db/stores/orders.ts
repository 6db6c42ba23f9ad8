import { and, asc, count, eq, getTableColumns, max, ne, sql } from 'drizzle-orm';
import {
  customers,
  extras,
  imports,
  lineColours,
  orderExtras,
  orderLines,
  orders,
  payments,
} from '#db/schema/orders.ts';
import type { Reader, Tx } from '#db/store.ts';
import { insert, insertAll, type NewRowOf, type RowOf, remove, update } from '#db/stores/record.ts';
import { type RowsQuery, rowsOf } from '#db/stores/rows.ts';

export type CustomerRow = RowOf<typeof customers>;
export type ImportRow = RowOf<typeof imports>;
export type OrderRow = RowOf<typeof orders>;
export type OrderLineRow = RowOf<typeof orderLines>;
export type LineColourRow = RowOf<typeof lineColours>;
export type ExtraRow = RowOf<typeof extras>;
export type OrderExtraRow = RowOf<typeof orderExtras>;
export type PaymentRow = RowOf<typeof payments>;

/** A line's colour in one role and strand; strand 0 is the first. */
export type NewLineColour = { readonly role: string; readonly strand: number; readonly yarnColourId: number };
export type NewLine = Omit<NewRowOf<typeof orderLines>, 'orderId'> & { readonly colours: readonly NewLineColour[] };
export type NewOrder = Omit<NewRowOf<typeof orders>, 'number'> & { readonly lines: readonly NewLine[] };

export const {
  list: listCustomers,
  find: findCustomer,
  create: createCustomer,
  change: changeCustomer,
  remove: removeCustomer,
} = rowsOf(customers, asc(customers.name));

// Orders without a due day come last; due days sort as texts.
const byDueDay = [sql`${orders.dueDay} is null`, asc(orders.dueDay), asc(orders.number)];

/** `change` is for an order's own columns; a cancelled order is one in state `cancelled`, never a removed one. */
export const { list: listOrders, find: findOrder, change: changeOrder } = rowsOf(orders, ...byDueDay);

export function listOpenOrders(from: Reader): RowsQuery<OrderRow> {
  return listOrders(from, ne(orders.state, 'cancelled'));
}

/** How many orders there are, cancelled ones too. */
export async function countOrders(from: Reader): Promise<number> {
  const [row] = await from.select({ orders: count() }).from(orders);
  return row!.orders;
}

/** The ids of all orders, or of those of one import, by due day. */
export async function listOrderIds(from: Reader, importId: number | null): Promise<number[]> {
  const rows = await from
    .select({ id: orders.id })
    .from(orders)
    .where(importId === null ? undefined : eq(orders.importId, importId))
    .orderBy(...byDueDay, orders.id);
  return rows.map(({ id }) => id);
}

const { list: listLinesWhere, find: findLine } = rowsOf(orderLines);
const { list: listColoursWhere } = rowsOf(lineColours, asc(lineColours.role), asc(lineColours.strand));

export { findLine };

export function listLines(from: Reader, orderId: number): RowsQuery<OrderLineRow> {
  return listLinesWhere(from, eq(orderLines.orderId, orderId));
}

/** The colours of all lines of an order, by role and strand. */
export function listLineColours(from: Reader, orderId: number): RowsQuery<LineColourRow> {
  return listColoursWhere(
    from,
    sql`${lineColours.lineId} in (select ${orderLines.id} from ${orderLines} where ${orderLines.orderId} = ${orderId})`,
  );
}

/** The lines of all orders that are not cancelled. */
export function listOpenLines(from: Reader) {
  return from
    .select(getTableColumns(orderLines))
    .from(orderLines)
    .innerJoin(orders, eq(orderLines.orderId, orders.id))
    .where(ne(orders.state, 'cancelled'))
    .orderBy(asc(orderLines.orderId), asc(orderLines.id));
}

/** The colours of those lines. */
export function listOpenLineColours(from: Reader) {
  return from
    .select(getTableColumns(lineColours))
    .from(lineColours)
    .innerJoin(orderLines, eq(lineColours.lineId, orderLines.id))
    .innerJoin(orders, eq(orderLines.orderId, orders.id))
    .where(ne(orders.state, 'cancelled'))
    .orderBy(asc(lineColours.lineId), asc(lineColours.role), asc(lineColours.strand));
}

/** An order that is not cancelled, of this customer under this reference of theirs. */
export async function findOrderByReference(
  from: Reader,
  customerId: number,
  reference: string,
): Promise<OrderRow | null> {
  const found = await listOrders(
    from,
    and(eq(orders.customerId, customerId), eq(orders.reference, reference), ne(orders.state, 'cancelled')),
  );
  return found[0] ?? null;
}

/** Adds orders with their lines and colours, numbered on from the last, in the order given. */
export async function createOrders(tx: Tx, newOrders: readonly NewOrder[]): Promise<OrderRow[]> {
  const [last] = await tx.select({ number: max(orders.number) }).from(orders);
  const first = (last?.number ?? 0) + 1;
  const added = await insertAll(
    tx,
    orders,
    newOrders.map(({ lines, ...order }, index) => ({ ...order, number: first + index })),
  );
  const newLines = newOrders.flatMap(({ lines }, index) => lines.map((line) => ({ line, orderId: added[index]!.id })));
  await createLinesOf(tx, newLines);
  return added;
}

/** Adds one order with its lines; it gets the next number. */
export async function createOrder(tx: Tx, order: NewOrder): Promise<OrderRow> {
  const [added] = await createOrders(tx, [order]);
  return added!;
}

async function createLinesOf(tx: Tx, newLines: readonly { readonly line: NewLine; readonly orderId: number }[]) {
  const added = await insertAll(
    tx,
    orderLines,
    newLines.map(({ line: { colours, ...line }, orderId }) => ({ ...line, orderId })),
  );
  const colours = newLines.flatMap(({ line }, index) =>
    line.colours.map((colour) => ({ ...colour, lineId: added[index]!.id })),
  );
  await insertAll(tx, lineColours, colours);
  return added;
}

export async function createLine(tx: Tx, orderId: number, line: NewLine): Promise<OrderLineRow> {
  const [added] = await createLinesOf(tx, [{ line, orderId }]);
  return added!;
}

/** Changes a line, and its colours when they are given: those given become the line's only ones. */
export async function changeLine(
  tx: Tx,
  id: number,
  { colours, ...values }: Partial<NewLine>,
  version?: number,
): Promise<OrderLineRow> {
  const line = await update(tx, orderLines, id, values, version);
  if (colours) await setColours(tx, id, colours);
  return line;
}

async function setColours(tx: Tx, lineId: number, colours: readonly NewLineColour[]): Promise<void> {
  const isSame = (a: NewLineColour, b: NewLineColour) =>
    a.role === b.role && a.strand === b.strand && a.yarnColourId === b.yarnColourId;
  const there = await listColoursWhere(tx, eq(lineColours.lineId, lineId));
  for (const row of there) {
    if (!colours.some((colour) => isSame(colour, row))) await remove(tx, lineColours, row.id);
  }
  const added = colours.filter((colour) => !there.some((row) => isSame(colour, row)));
  await insertAll(
    tx,
    lineColours,
    added.map((colour) => ({ ...colour, lineId })),
  );
}

/** Takes a line and its colours away; a line that a batch or a pair points to stays, with a `conflict`. */
export async function removeLine(tx: Tx, id: number, version?: number): Promise<OrderLineRow> {
  await setColours(tx, id, []);
  return await remove(tx, orderLines, id, version);
}

export async function findImport(from: Reader, contentHash: string): Promise<ImportRow | null> {
  const { list } = rowsOf(imports);
  return (await list(from, eq(imports.contentHash, contentHash)))[0] ?? null;
}

export async function createImport(tx: Tx, row: { contentHash: string; fileName: string }): Promise<ImportRow> {
  return await insert(tx, imports, { ...row, atMs: tx.atMs });
}

/** What may be added to an order. */
export const {
  list: listExtras,
  find: findExtra,
  create: createExtra,
  change: changeExtra,
  remove: removeExtra,
} = rowsOf(extras, asc(extras.name));

export const {
  list: listOrderExtras,
  find: findOrderExtra,
  create: createOrderExtra,
  change: changeOrderExtra,
  remove: removeOrderExtra,
} = rowsOf(orderExtras);

/** Payments are never removed: one typed wrongly is reversed by another. */
export const { list: listPayments, find: findPayment, create: createPayment } = rowsOf(payments, asc(payments.day));
