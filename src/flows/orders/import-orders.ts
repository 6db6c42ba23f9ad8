import { createHash } from 'node:crypto';
import type { Problem } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { customers } from '#db/schema/orders.ts';
import type { Tx } from '#db/store.ts';
import {
  createImport,
  createOrders,
  findImport,
  type ImportRow,
  listCustomers,
  type OrderRow,
} from '#db/stores/orders.ts';
import { insertAll } from '#db/stores/record.ts';
import { knownNamesOf, sameName } from '#flows/orders/known-names.ts';
import { findLookAlikes, type LookAlike } from '#flows/orders/look-alikes.ts';
import { type ParsedOrder, readOrderCsv } from '#flows/orders/read-order-csv.ts';
import { lineColumns, storeFeet } from '#flows/orders/stored-line.ts';
import { readPlan } from '#flows/read-plan.ts';

export type ImportOutcome =
  | {
      readonly kind: 'imported';
      readonly importId: number;
      readonly orders: readonly OrderRow[];
      /** Plain numbers among the sizes that were read as EU. */
      readonly readAsEu: number;
    }
  /** The very same content was imported before. */
  | { readonly kind: 'earlier'; readonly earlier: ImportRow }
  | { readonly kind: 'faulty'; readonly problems: readonly Problem[] }
  /** Orders that are there already, as it seems, and odd days and feet; imported only when that is confirmed. */
  | { readonly kind: 'question'; readonly lookAlikes: readonly LookAlike[]; readonly odd: readonly Problem[] };

/** A name for a table's content: the same whatever its line ends and byte-order mark. */
export function contentHashOf(text: string): string {
  const plain = text
    .replace(/^\ufeff/, '')
    .replace(/\r\n?/g, '\n')
    .trim();
  return createHash('sha256').update(plain).digest('hex');
}

/** Imports a table of orders, all of it or nothing. */
export async function importOrders(
  workshop: Workshop,
  table: {
    readonly text: string;
    readonly fileName: string;
    /** The content, by its hash, that somebody said is right as it is. */
    readonly confirmedHash: string;
  },
  now: Date,
): Promise<ImportOutcome> {
  const contentHash = contentHashOf(table.text);
  const earlier = await workshop.store.read((db) => findImport(db, contentHash));
  if (earlier) return { kind: 'earlier', earlier };
  const { rows, today } = await readPlan(workshop, now);
  const read = readOrderCsv(table.text, knownNamesOf(rows), today);
  if (!read.ok) return { kind: 'faulty', problems: read.problems };
  if (table.confirmedHash !== contentHash) {
    const lookAlikes = findLookAlikes(read.value, rows);
    const odd = read.value.flatMap((order) => order.odd);
    if (lookAlikes.length + odd.length > 0) return { kind: 'question', lookAlikes, odd };
  }
  const stored = await workshop.store.write('orders: import a table', async (tx) => {
    const row = await createImport(tx, { contentHash, fileName: table.fileName });
    return { importId: row.id, orders: await storeOrders(tx, read.value, row.id, today) };
  });
  const readAsEu = read.value.reduce((sum, order) => sum + order.readAsEu.length, 0);
  return { kind: 'imported', ...stored, readAsEu };
}

async function customerIds(tx: Tx, orders: readonly ParsedOrder[]): Promise<ReadonlyMap<string, number>> {
  const ids = new Map((await listCustomers(tx)).map((customer) => [sameName(customer.name), customer.id]));
  const missing = new Map<string, string>();
  for (const { customerName } of orders) {
    if (customerName === null || ids.has(sameName(customerName))) continue;
    if (!missing.has(sameName(customerName))) missing.set(sameName(customerName), customerName);
  }
  const added = await insertAll(
    tx,
    customers,
    [...missing.values()].map((name) => ({ name })),
  );
  for (const customer of added) ids.set(sameName(customer.name), customer.id);
  return ids;
}

async function storeOrders(tx: Tx, orders: readonly ParsedOrder[], importId: number, today: string) {
  const ids = await customerIds(tx, orders);
  const customerOf = (name: string | null) => (name === null ? null : ids.get(sameName(name))!);
  const footIdOf = await storeFeet(
    tx,
    orders.flatMap(({ customerName, lines }) =>
      lines.flatMap(({ size }) => (size.by === 'foot' ? [{ customerId: customerOf(customerName), foot: size }] : [])),
    ),
  );
  return await createOrders(
    tx,
    orders.map(({ customerName, lines, rows: _, odd: __, readAsEu: ___, ...details }) => {
      const customerId = customerOf(customerName);
      const newLines = lines.map((line) =>
        lineColumns(line, line.size.by === 'foot' ? footIdOf(customerId, line.size) : null),
      );
      return { ...details, customerId, createdDay: today, importId, lines: newLines };
    }),
  );
}
