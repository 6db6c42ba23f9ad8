import {
  type Booking,
  type BookSums,
  inPeriod,
  type StyleSums,
  sumBookings,
  sumsByMonth,
  sumsByOutlet,
  sumsByStyle,
} from '#core/pricing/books.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { BookRows } from '#flows/books/book-rows.ts';
import { bookingsOf } from '#flows/books/bookings.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

export type Period = { readonly fromDay: Day; readonly toDay: Day };

/** Money in and out in a period, and who and what brought it. */
export type Books = Period & {
  readonly bookings: readonly Booking[];
  readonly sums: BookSums;
  readonly months: readonly (BookSums & { readonly month: string })[];
  readonly outlets: readonly (BookSums & { readonly outlet: string | null })[];
  readonly styles: readonly StyleSums[];
  /** Income without tax and fees: the styles' net amounts sum to it. */
  readonly netCents: number;
};

/** The books of a period, both ends included. */
export function readBooks(plan: WorkshopPlan, rows: BookRows, { fromDay, toDay }: Period): Books {
  const entries = inPeriod(bookingsOf(plan, rows), fromDay, toDay);
  const bookings = entries.map(({ shares: _, ...booking }) => booking);
  const styles = sumsByStyle(
    entries.flatMap(({ shares }) => shares),
    plan.input.settings.overheadCentsPerHour,
  );
  return {
    fromDay,
    toDay,
    bookings,
    sums: sumBookings(bookings),
    // From the first month in which anything was booked to the last.
    months: sumsByMonth(bookings, bookings[0]?.day ?? fromDay, bookings.at(-1)?.day ?? fromDay),
    outlets: sumsByOutlet(bookings),
    styles,
    netCents: styles.reduce((sum, { netCents }) => sum + netCents, 0),
  };
}
