import type { Day } from '#core/shared/calendar.ts';

const formatters = new Map<string, Intl.DateTimeFormat>();

/** The day it is at an instant in a time zone. */
export function todayIn(now: Date, timeZone: string): Day {
  let formatter = formatters.get(timeZone);
  if (!formatter) {
    // The Canadian form of a date is YYYY-MM-DD.
    formatter = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' });
    formatters.set(timeZone, formatter);
  }
  return formatter.format(now);
}
