import { addDays, type Day, daysBetween } from '#core/shared/calendar.ts';

/** Warn so many days before the shop's last day. Our own choice: a week to decide and to go there. */
export const warnDaysBefore = 7;

/**
 * Lots whose last day at the shop is near: from a week before until the day itself, soonest first, then by id.
 *
 * @param lots with what is left of each; used up ones have nothing to bring back
 * @param today the day it is
 * @example lotsDueAtShop([{ id: 1, returnableUntilDay: '2026-12-02', massMg: 5 }], '2026-11-25').length // => 1, seven days before
 * @example lotsDueAtShop([{ id: 1, returnableUntilDay: '2026-12-03', massMg: 5 }], '2026-11-25').length // => 0
 * @example lotsDueAtShop([{ id: 1, returnableUntilDay: '2026-11-24', massMg: 5 }], '2026-11-25').length // => 0, too late
 */
export function lotsDueAtShop<
  T extends { readonly id: number; readonly returnableUntilDay: Day | null; readonly massMg: number },
>(lots: readonly T[], today: Day): readonly T[] {
  const last = addDays(today, warnDaysBefore);
  return lots
    .filter(({ massMg, returnableUntilDay: day }) => massMg > 0 && day !== null && day >= today && day <= last)
    .sort((a, b) => daysBetween(b.returnableUntilDay!, a.returnableUntilDay!) || a.id - b.id);
}
