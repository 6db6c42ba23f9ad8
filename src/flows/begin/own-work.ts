import type { Workshop } from '#db/open.ts';
import { type ChangeMark, listChangesAfter } from '#db/stores/workshop.ts';

/** What somebody did in the sample season since it was loaded. */
export type OwnWork = {
  /** Orders entered that are still there. */
  readonly orders: number;
  /** Everything else that was done, each press of a button once. */
  readonly otherChanges: number;
};

// A list that a search found is nobody's work.
const unasked: readonly string[] = ['answers', 'sessions'];

/** What would be lost with the sample; null while it is as it was loaded. */
export async function ownWorkIn(workshop: Workshop): Promise<OwnWork | null> {
  const changes = (await workshop.store.read((db) => listChangesAfter(db, 'begin'))).filter(
    ({ table }) => !unasked.includes(table),
  );
  if (changes.length === 0) return null;
  const orders = new Set<number>();
  for (const { table, row, isNew, isGone } of changes) {
    if (table !== 'orders') continue;
    if (isNew) orders.add(row);
    if (isGone) orders.delete(row);
  }
  const pressOf = ({ atMs, flow }: ChangeMark) => `${atMs} ${flow}`;
  const isNewOrder = ({ table, isNew }: ChangeMark) => table === 'orders' && isNew;
  const withOrders = new Set(changes.filter(isNewOrder).map(pressOf));
  const others = new Set(changes.map(pressOf).filter((press) => !withOrders.has(press)));
  return { orders: orders.size, otherChanges: others.size };
}
