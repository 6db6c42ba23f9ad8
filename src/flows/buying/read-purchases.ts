import { landedByLine, onWayLotId } from '#core/buying/purchases.ts';
import { AppError } from '#core/shared/app-error.ts';
import { type Day, daysBetween } from '#core/shared/calendar.ts';
import type { PurchaseLineRow, PurchaseRow, SupplierRow } from '#db/stores/buying.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

export type PurchaseLineView = {
  readonly line: PurchaseLineRow;
  readonly colour: NamedColour;
  /** Packs still to come. */
  readonly missing: number;
  /** What all of it costs with its share of the postage. */
  readonly landedCents: number;
};

/** An order whose pairs wait for a purchase. */
export type WaitingOrder = {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  readonly dueDay: Day | null;
  /** As planned, with this purchase here on its day. */
  readonly isLate: boolean;
};

export type PurchaseView = {
  readonly purchase: PurchaseRow;
  readonly shop: SupplierRow;
  readonly lines: readonly PurchaseLineView[];
  readonly goodsCents: number;
  readonly totalCents: number;
  readonly arrivedPacks: number;
  readonly missingPacks: number;
  /** How many days past its day it is; 0 when it is not, or when it is closed. */
  readonly daysOverdue: number;
  readonly waitingPairs: number;
  readonly waitingOrders: readonly WaitingOrder[];
};

/** Pairs that are planned from what is on its way, by purchase. */
function waitingOf({ plan, rows }: WorkshopPlan): ReadonlyMap<number, ReadonlySet<string>> {
  const purchaseOf = new Map(rows.purchaseLines.map((line) => [onWayLotId(line.id), line.purchaseId]));
  const waiting = new Map<number, Set<string>>();
  const mixed = [...plan.placed.mixedOf].flatMap(([key, parts]) => parts.map(({ lotId }) => [key, lotId] as const));
  for (const [key, lotId] of [...plan.placed.lotOf, ...mixed]) {
    const purchaseId = purchaseOf.get(lotId);
    if (purchaseId === undefined) continue;
    const pairs = waiting.get(purchaseId) ?? new Set<string>();
    waiting.set(purchaseId, pairs.add(key.slice(0, key.lastIndexOf('/'))));
  }
  return waiting;
}

function waitingOrders(pairKeys: ReadonlySet<string>, { plan, rows }: WorkshopPlan): WaitingOrder[] {
  const orderIds = new Set(plan.wanted.pairs.filter(({ key }) => pairKeys.has(key)).map(({ orderId }) => orderId));
  const latePairs = plan.late.latePairs.filter(({ pairKey }) => pairKeys.has(pairKey));
  const lateIds = new Set(latePairs.map(({ orderId }) => orderId));
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const outlets = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.name]));
  return rows.orders
    .filter((order) => orderIds.has(order.id))
    .map(({ id, number, customerId, outletId, dueDay }) => {
      const customer = customerId === null ? undefined : customers.get(customerId);
      return { id, number, name: customer ?? outlets.get(outletId) ?? '', dueDay, isLate: lateIds.has(id) };
    });
}

function viewOf(
  row: PurchaseRow,
  workshopPlan: WorkshopPlan,
  named: ReadonlyMap<number, NamedColour>,
  waiting: ReadonlyMap<number, ReadonlySet<string>>,
): PurchaseView {
  const { rows, today } = workshopPlan;
  const own = rows.purchaseLines.filter((line) => line.purchaseId === row.id);
  const landed = landedByLine(own, row.shippingCents, row.offCents);
  const lines = own.map((line, i) => {
    const offer = rows.offers.find((each) => each.id === line.offerId)!;
    const missing = line.packs - line.arrivedPacks;
    return { line, colour: named.get(offer.yarnColourId)!, missing, landedCents: landed[i]! };
  });
  const goodsCents = own.reduce((sum, line) => sum + line.packs * line.priceCents, 0);
  const pairKeys = waiting.get(row.id) ?? new Set<string>();
  return {
    purchase: row,
    shop: rows.suppliers.find((shop) => shop.id === row.supplierId)!,
    lines,
    goodsCents,
    totalCents: goodsCents - row.offCents + row.shippingCents,
    arrivedPacks: own.reduce((sum, line) => sum + line.arrivedPacks, 0),
    missingPacks: lines.reduce((sum, line) => sum + line.missing, 0),
    daysOverdue: row.state === 'ordered' ? Math.max(0, daysBetween(row.expectedDay, today)) : 0,
    waitingPairs: pairKeys.size,
    waitingOrders: waitingOrders(pairKeys, workshopPlan),
  };
}

/** Every purchase: what is on its way by its day, then what is closed, latest first. */
export function readPurchases(workshopPlan: WorkshopPlan): {
  readonly onTheirWay: readonly PurchaseView[];
  readonly closed: readonly PurchaseView[];
} {
  const { rows } = workshopPlan;
  const named = coloursOf(rows);
  const waiting = waitingOf(workshopPlan);
  const views = rows.purchases.map((row) => viewOf(row, workshopPlan, named, waiting));
  const byDay = (a: PurchaseView, b: PurchaseView) =>
    a.purchase.expectedDay < b.purchase.expectedDay ? -1 : +(a.purchase.expectedDay > b.purchase.expectedDay);
  return {
    onTheirWay: views.filter(({ purchase }) => purchase.state === 'ordered').sort(byDay),
    closed: views.filter(({ purchase }) => purchase.state !== 'ordered').sort((a, b) => b.purchase.id - a.purchase.id),
  };
}

/** @throws {AppError} `notFound` */
export function findPurchaseView(workshopPlan: WorkshopPlan, id: number): PurchaseView {
  const row = workshopPlan.rows.purchases.find((each) => each.id === id);
  if (!row) throw new AppError('notFound', 'This purchase is not here; it may have been removed.');
  return viewOf(row, workshopPlan, coloursOf(workshopPlan.rows), waitingOf(workshopPlan));
}

/** What of a list one shop would be asked for, as an order of it begins. */
export type BasketToOrder = {
  readonly packs: ReadonlyMap<number, { readonly packs: number; readonly priceCents: number }>;
  readonly shippingCents: number;
  readonly offCents: number;
};

/** The basket of a list at a shop; null when the list buys nothing there. */
export function basketToOrder(
  { plan }: WorkshopPlan,
  listName: 'likely' | 'safe',
  supplierId: number,
): BasketToOrder | null {
  const basket = plan.lists[listName].baskets.find((each) => each.supplierId === supplierId);
  if (!basket) return null;
  const { shippingCents, offCents } = basket;
  const packs = basket.lines.map(
    ({ offerId, packs: count, goodsCents }) => [offerId, { packs: count, priceCents: goodsCents / count }] as const,
  );
  return { packs: new Map(packs), shippingCents, offCents };
}
