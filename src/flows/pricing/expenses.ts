import { addDays, type Day } from '#core/shared/calendar.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Workshop } from '#db/open.ts';
import { createExpense, type ExpenseRow, removeExpense } from '#db/stores/pricing.ts';

/** Notes what was paid that belongs to no pair. */
export async function addExpense(
  workshop: Workshop,
  entry: { readonly day: Day; readonly kind: string; readonly cents: number },
): Promise<void> {
  await workshop.store.write('pricing: add a running cost', (tx) => createExpense(tx, entry));
}

/** @throws {AppError} `notFound`, `conflict` */
export async function dropExpense(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('pricing: take a running cost away', (tx) => removeExpense(tx, id, version));
}

const daysInYear = 365;

/** What the running costs noted in the last year come to in a month; 0 without any. */
export function expensesAMonth(expenses: readonly ExpenseRow[], today: Day): number {
  const from = addDays(today, -daysInYear);
  const sum = expenses
    .filter((expense) => expense.day > from && expense.day <= today)
    .reduce((total, expense) => total + expense.cents, 0);
  return roundHalfUp(sum / 12);
}
