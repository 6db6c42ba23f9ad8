import { asc, desc, eq, sql } from 'drizzle-orm';
import { pairColours, pairs } from '#db/schema/batch.ts';
import { placements, shopPayments } from '#db/schema/placements.ts';
import type { Reader } from '#db/store.ts';
import { listPairColours, listPairs, type PairColourRow, type PairRow } from '#db/stores/batch.ts';
import type { RowOf } from '#db/stores/record.ts';
import { type RowsQuery, rowsOf } from '#db/stores/rows.ts';

export type PlacementRow = RowOf<typeof placements>;
export type ShopPaymentRow = RowOf<typeof shopPayments>;

export const {
  list: listPlacements,
  find: findPlacement,
  create: createPlacement,
  change: changePlacement,
  remove: removePlacement,
} = rowsOf(placements, asc(placements.placedDay));

export const {
  list: listShopPayments,
  find: findShopPayment,
  create: createShopPayment,
  change: changeShopPayment,
  remove: removeShopPayment,
} = rowsOf(shopPayments, desc(shopPayments.day));

export function listPaymentsOfShop(from: Reader, outletId: number): RowsQuery<ShopPaymentRow> {
  return listShopPayments(from, eq(shopPayments.outletId, outletId));
}

const idsPlacedAt = (outletId: number) =>
  sql`(select ${placements.pairId} from ${placements} where ${placements.outletId} = ${outletId})`;

/** Pairs that stand in a shop or ever stood there, gone ones too. */
export function listPairsPlacedAt(from: Reader, outletId: number): RowsQuery<PairRow> {
  return listPairs(from, sql`${pairs.id} in ${idsPlacedAt(outletId)}`);
}

export function listColoursPlacedAt(from: Reader, outletId: number): RowsQuery<PairColourRow> {
  return listPairColours(from, sql`${pairColours.pairId} in ${idsPlacedAt(outletId)}`);
}
