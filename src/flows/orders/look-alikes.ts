import { groupBy } from '#core/shared/group-by.ts';
import { ageSystem } from '#core/sizing/stored-size.ts';
import type { LineColourRow, OrderLineRow, OrderRow } from '#db/stores/orders.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { FootRow } from '#db/stores/sizing.ts';
import type { LineEntry, SizeEntry } from '#flows/orders/entries.ts';
import { sameName } from '#flows/orders/known-names.ts';
import type { ParsedOrder } from '#flows/orders/read-order-csv.ts';
import { footEntryOf, footKey } from '#flows/orders/stored-line.ts';

/** An order about to be imported, and the one that is there already with the same lines. */
export type LookAlike = { readonly parsed: ParsedOrder; readonly stored: OrderRow };

function sizeKey(size: SizeEntry): string {
  switch (size.by) {
    case 'label':
      return `${size.person} ${size.system} ${sameName(size.label).replace(',', '.')}`;
    case 'age':
      return `child ${ageSystem} ${size.years}`;
    case 'band':
      return `band ${size.bandId}`;
    case 'foot':
      return `foot ${footKey(size)}`;
  }
}

type Comparable = Pick<LineEntry, 'styleId' | 'fit' | 'cuffHeightMm' | 'quantity'>;

function lineKey(line: Comparable, size: string, colours: LineEntry['colours']): string {
  const places = colours.map(({ role, strand, yarnColourId }) => `${role} ${strand} ${yarnColourId}`).sort();
  return [line.styleId, size, line.fit, line.cuffHeightMm, line.quantity, ...places].join('|');
}

function storedLineKey(
  line: OrderLineRow,
  feet: ReadonlyMap<number, FootRow>,
  colours: readonly LineColourRow[],
): string {
  const foot = line.footId === null ? undefined : feet.get(line.footId);
  const size = foot
    ? sizeKey(footEntryOf(foot))
    : line.bandId !== null
      ? `band ${line.bandId}`
      : `${line.person} ${line.sizeSystem} ${sameName(line.sizeLabel ?? '').replace(',', '.')}`;
  return lineKey(line, size, colours);
}

/** Orders without a reference whose customer and lines are those of an order that is there already. */
export function findLookAlikes(parsed: readonly ParsedOrder[], rows: WorkshopRows): readonly LookAlike[] {
  const linesOf = groupBy(rows.lines, (line) => line.orderId);
  const coloursOf = groupBy(rows.lineColours, (colour) => colour.lineId);
  const feet = new Map(rows.feet.map((foot) => [foot.id, foot]));
  const nameOf = new Map(rows.customers.map((customer) => [customer.id, sameName(customer.name)]));
  const orderKey = (customer: string, lines: readonly string[]) => [customer, ...[...lines].sort()].join('\n');
  const stored = new Map<string, OrderRow>();
  for (const order of rows.orders) {
    const lines = linesOf.get(order.id) ?? [];
    if (lines.length === 0) continue;
    const keys = lines.map((line) => storedLineKey(line, feet, coloursOf.get(line.id) ?? []));
    stored.set(orderKey(order.customerId === null ? '' : nameOf.get(order.customerId)!, keys), order);
  }
  return parsed.flatMap((order) => {
    if (order.reference !== null) return [];
    const keys = order.lines.map((line) => lineKey(line, sizeKey(line.size), line.colours));
    const same = stored.get(orderKey(sameName(order.customerName ?? ''), keys));
    return same ? [{ parsed: order, stored: same }] : [];
  });
}
