import { asc, desc } from 'drizzle-orm';
import { expenses, outlets } from '#db/schema/pricing.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type OutletRow = RowOf<typeof outlets>;
export type ExpenseRow = RowOf<typeof expenses>;

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
