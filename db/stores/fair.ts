import { asc, desc } from 'drizzle-orm';
import { asked, fairDays, fairPairs, fairs, saleLines, sales } from '#db/schema/fair.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type FairRow = RowOf<typeof fairs>;
export type FairDayRow = RowOf<typeof fairDays>;
export type FairPairRow = RowOf<typeof fairPairs>;
export type AskedRow = RowOf<typeof asked>;
export type SaleRow = RowOf<typeof sales>;
export type SaleLineRow = RowOf<typeof saleLines>;

export const { list: listFairs, find: findFair, create: createFair, change: changeFair } = rowsOf(fairs);

/** The newest first. */
export const {
  list: listFairDays,
  find: findFairDay,
  create: createFairDay,
  change: changeFairDay,
} = rowsOf(fairDays, desc(fairDays.day));

export const {
  list: listFairPairs,
  create: createFairPair,
  change: changeFairPair,
  remove: removeFairPair,
} = rowsOf(fairPairs);

export const { list: listAsked, create: createAsked, change: changeAsked, remove: removeAsked } = rowsOf(asked);

/** A sale is never removed: one typed wrongly is reversed. */
export const { list: listSales, find: findSale, create: createSale } = rowsOf(sales, asc(sales.day), asc(sales.atMs));

export const {
  list: listSaleLines,
  find: findSaleLine,
  create: createSaleLine,
  change: changeSaleLine,
} = rowsOf(saleLines);
