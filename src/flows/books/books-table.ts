import type { sumBookings } from '#core/pricing/books.ts';
import { formatCentsForInput } from '#core/shared/format.ts';
import type { Books } from '#flows/books/read-books.ts';

type Cell = string | { readonly amount: string };

/** The books as a table for whoever does the accounts: a row a booking, and after each month its sums, without a day. */
export function booksTable({ bookings, months, sums, fromDay, toDay }: Books, currency: string): Cell[][] {
  const money = (cents: number) => ({ amount: formatCentsForInput(cents, currency) });
  const blank = (cents: number) => (cents === 0 ? '' : money(cents));
  const sumRow = (words: string, { inCents, outCents, taxCents }: ReturnType<typeof sumBookings>) => [
    '',
    words,
    '',
    money(inCents),
    money(outCents),
    money(taxCents),
  ];
  return [
    ['day', 'what', 'outlet', 'in', 'out', 'tax within'],
    ...months.flatMap((month) => [
      ...bookings
        .filter(({ day }) => day.startsWith(month.month))
        .map(({ day, what, outlet, inCents, outCents, taxCents }) => [
          day,
          what,
          outlet ?? '',
          blank(inCents),
          blank(outCents),
          blank(taxCents),
        ]),
      sumRow(`sum of ${month.month}`, month),
    ]),
    sumRow(`sum of ${fromDay} to ${toDay}, ${currency}`, sums),
  ];
}
