import { asc, desc } from 'drizzle-orm';
import { placements, shopPayments } from '#db/schema/placements.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

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
