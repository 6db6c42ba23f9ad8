import type { Day } from '#core/shared/calendar.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { LineEntry, OrderEntry } from '#flows/orders/entries.ts';
import { footColumns, sizeColumns } from '#flows/orders/stored-line.ts';
import { planRows, type WorkshopPlan } from '#flows/read-plan.ts';

type OrderRow = WorkshopRows['orders'][number];
type LineRow = WorkshopRows['lines'][number];
type LineColourRow = WorkshopRows['lineColours'][number];
type FootRow = WorkshopRows['feet'][number];
type CustomerRow = WorkshopRows['customers'][number];

/** What an order that was only typed says nothing of. */
export const noDetails = {
  arriveByDay: null,
  validUntilDay: null,
  promisedDay: null,
  address: null,
  depositCents: null,
  holds: false,
  postageCents: null,
  postDays: null,
  postedDay: null,
  cancelledDay: null,
  remarks: null,
  importId: null,
  version: 1,
};

function footOf(entry: LineEntry, id: number): FootRow | null {
  const { size } = entry;
  if (size.by !== 'foot') return null;
  return { id, customerId: null, name: null, version: 1, ...footColumns(size) };
}

/**
 * Plans a list of orders with a workshop's yarn, knitters, shops and settings, as if they were its only orders. Nothing
 * is stored; pairs already begun stay in their knitters' hands.
 *
 * @param rows the workshop
 * @param orders orders as they were read, in the order of the list; their lines are numbered from 1
 */
export function planOrders(rows: WorkshopRows, orders: readonly OrderEntry[], today: Day): WorkshopPlan {
  const orderRows: OrderRow[] = [];
  const lineRows: LineRow[] = [];
  const lineColours: LineColourRow[] = [];
  const customers: CustomerRow[] = [];
  const feet: FootRow[] = [...rows.feet];
  const firstFootId = 1 + Math.max(0, ...rows.feet.map((foot) => foot.id));
  orders.forEach((entry, index) => {
    const orderId = index + 1;
    if (entry.customerName !== null)
      customers.push({ id: orderId, name: entry.customerName, contact: null, version: 1 });
    orderRows.push({
      ...noDetails,
      id: orderId,
      number: orderId,
      customerId: entry.customerName === null ? null : orderId,
      outletId: entry.outletId,
      state: 'agreed',
      createdDay: today,
      dueDay: entry.dueDay,
      reference: entry.reference,
    });
    for (const line of entry.lines) {
      const lineId = lineRows.length + 1;
      const foot = footOf(line, firstFootId + lineId);
      if (foot) feet.push(foot);
      lineRows.push({
        id: lineId,
        orderId,
        styleId: line.styleId,
        ...sizeColumns(line.size, firstFootId + lineId),
        fit: line.fit,
        cuffHeightMm: line.cuffHeightMm,
        quantity: line.quantity,
        agreedCents: line.agreedCents,
        knitterId: line.knitterId,
        version: 1,
      });
      for (const colour of line.colours) lineColours.push({ id: lineColours.length + 1, lineId, ...colour });
    }
  });
  return planRows({ ...rows, customers, orders: orderRows, lines: lineRows, lineColours, feet }, today);
}
