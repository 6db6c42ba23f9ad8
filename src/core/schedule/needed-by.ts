import type { Assignment } from '#core/schedule/assign.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';

/**
 * How late each pair's yarn may come without making its order, or a later one of the same knitter, late: its planned
 * start plus the least slack from here to the end of her row; no slack where something is late already.
 *
 * @param assignments the first layout, in planning order
 * @param dueDayOf due day of a pair; null for none
 * @returns the last good day by pair key; pairs with nothing due behind them, or nobody to knit them, are missing
 */
export function neededBy(
  assignments: readonly Assignment[],
  dueDayOf: (pairKey: string) => Day | null,
): ReadonlyMap<string, Day> {
  const rows = new Map<number, { pairKey: string; start: number; finish: number }[]>();
  for (const { pairKey, knitterId, startDay, finishDay } of assignments) {
    if (knitterId === null || startDay === null || finishDay === null) continue;
    const row = rows.get(knitterId) ?? [];
    row.push({ pairKey, start: dayNumber(startDay), finish: dayNumber(finishDay) });
    rows.set(knitterId, row);
  }
  const latest = new Map<string, Day>();
  for (const row of rows.values()) {
    row.sort((a, b) => b.start - a.start || b.finish - a.finish);
    let slack = Number.POSITIVE_INFINITY;
    for (const { pairKey, start, finish } of row) {
      const due = dueDayOf(pairKey);
      if (due !== null) slack = Math.min(slack, Math.max(0, dayNumber(due) - finish));
      if (slack !== Number.POSITIVE_INFINITY) latest.set(pairKey, dayFromNumber(start + slack));
    }
  }
  return latest;
}
