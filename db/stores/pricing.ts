import { asc, desc } from 'drizzle-orm';
import { expenses, outlets, postageBands, priceGroups, pricesSeen } from '#db/schema/pricing.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type OutletRow = RowOf<typeof outlets>;
export type ExpenseRow = RowOf<typeof expenses>;
export type PostageBandRow = RowOf<typeof postageBands>;
export type PriceGroupRow = RowOf<typeof priceGroups>;
export type PriceSeenRow = RowOf<typeof pricesSeen>;

export const {
  list: listOutlets,
  find: findOutlet,
  create: createOutlet,
  change: changeOutlet,
  remove: removeOutlet,
} = rowsOf(outlets, asc(outlets.rank));

export const {
  list: listExpenses,
  find: findExpense,
  create: createExpense,
  change: changeExpense,
  remove: removeExpense,
} = rowsOf(expenses, desc(expenses.day));

/** By where the parcel goes, lightest first. */
export const {
  list: listPostageBands,
  find: findPostageBand,
  create: createPostageBand,
  change: changePostageBand,
  remove: removePostageBand,
} = rowsOf(postageBands, asc(postageBands.name), asc(postageBands.upToG));

export const {
  list: listPriceGroups,
  find: findPriceGroup,
  create: createPriceGroup,
  change: changePriceGroup,
  remove: removePriceGroup,
} = rowsOf(priceGroups, asc(priceGroups.fromMm));

export const {
  list: listPricesSeen,
  find: findPriceSeen,
  create: createPriceSeen,
  change: changePriceSeen,
  remove: removePriceSeen,
} = rowsOf(pricesSeen, desc(pricesSeen.day));
