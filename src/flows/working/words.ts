import type { WantedPair } from '#core/batch/net-to-make.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** "Heather, Harbour Bulky" */
export function colourName(rows: Pick<WorkshopRows, 'yarnColours' | 'yarns'>, id: number): string {
  const colour = rows.yarnColours.find((each) => each.id === id);
  if (!colour) return 'a colour';
  const yarn = rows.yarns.find((each) => each.id === colour.yarnId);
  return yarn ? `${colour.name}, ${yarn.name}` : colour.name;
}

export function supplierName(rows: Pick<WorkshopRows, 'suppliers'>, id: number): string {
  return rows.suppliers.find((each) => each.id === id)?.name ?? 'a shop';
}

/** "Mrs Alder, woman EU 38": who it is for, else where it goes, and the size. */
export function lineWords({ rows, footOfLine }: WorkshopPlan, lineId: number): string {
  const line = rows.lines.find((each) => each.id === lineId);
  const order = rows.orders.find((each) => each.id === line?.orderId);
  const customer = rows.customers.find((each) => each.id === order?.customerId)?.name;
  const outlet = rows.outlets.find((each) => each.id === order?.outletId)?.name;
  return [customer ?? outlet, footOfLine.get(lineId)?.words].filter(Boolean).join(', ');
}

/** A pair to make, in words. */
export function pairWords(current: WorkshopPlan, pair: WantedPair): string {
  if (pair.lineId !== null) return lineWords(current, pair.lineId);
  return pair.isSpare ? 'a spare pair' : 'a pair begun, for stock';
}
