import type { Assignment } from '#core/schedule/assign.ts';
import { type Capacity, capacitiesOf, mostDays, type ScheduleOptions } from '#core/schedule/availability.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/** Days count from today. */
type Planned = {
  readonly pairKey: string;
  readonly minutes: number;
  readonly start: number;
  readonly finish: number;
  readonly due: number | null;
};

/** The last day on whose morning no more than some minutes of the calendar have passed. */
function lastDayWith(capacity: Capacity, minutes: number, from: number): number {
  const most = minutes + 1e-6;
  let low = from;
  let step = 32;
  while (low + step < mostDays && capacity.before(low + step) <= most) {
    low += step;
    step *= 2;
  }
  let high = Math.min(mostDays, low + step);
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (capacity.before(middle) <= most) low = middle;
    else high = middle - 1;
  }
  return low;
}

function latestStarts(
  row: readonly Planned[],
  capacity: Capacity,
  keep: (pairKey: string, latest: number) => void,
): void {
  // Backward in minutes of her own calendar: what comes after must still begin in time.
  let finishBy = Number.POSITIVE_INFINITY;
  let isLate = false;
  for (const { pairKey, minutes, start, finish, due } of row) {
    if (due !== null && finish > due) isLate = true;
    if (due !== null) finishBy = Math.min(finishBy, capacity.before(due + 1));
    finishBy -= minutes;
    if (isLate) keep(pairKey, start);
    else if (finishBy !== Number.POSITIVE_INFINITY) keep(pairKey, lastDayWith(capacity, finishBy, start));
  }
}

/**
 * How late each pair's yarn may come without making its order, or a later one of the same knitter, late: the last day
 * on which she can begin it, counted backward from the due days in the minutes of her own calendar. What is late
 * already, and all that comes before it, has nothing to spare: its planned start.
 *
 * @param assignments the layout, in planning order; one after another for each knitter
 * @param dueDayOf due day of a pair, by its key or its place in `assignments`; null for none
 * @param knitters the knitters of the assignments
 * @returns the last good day by pair key; pairs with nothing due behind them, or nobody to knit them, are missing
 */
export function neededBy(
  assignments: readonly Assignment[],
  dueDayOf: (pairKey: string, index: number) => Day | null,
  knitters: readonly Knitter[],
  options: ScheduleOptions,
): ReadonlyMap<string, Day> {
  const today = dayNumber(options.today);
  const capacities = capacitiesOf(assignments, knitters, options);
  const rows = new Map<number, Planned[]>();
  for (let index = 0; index < assignments.length; index += 1) {
    const { pairKey, knitterId, minutes, startDay, finishDay } = assignments[index]!;
    if (knitterId === null || startDay === null || finishDay === null) continue;
    const dueDay = dueDayOf(pairKey, index);
    const due = dueDay === null ? null : dayNumber(dueDay) - today;
    const planned = { pairKey, minutes, start: dayNumber(startDay) - today, finish: dayNumber(finishDay) - today, due };
    const row = rows.get(knitterId);
    if (row) row.push(planned);
    else rows.set(knitterId, [planned]);
  }
  const latest = new Map<string, Day>();
  for (const [knitterId, row] of rows) {
    const capacity = capacities.get(knitterId);
    if (!capacity) continue;
    // Stable, and turned round: of pairs planned on the same days the later one in the list is knitted later.
    const backward = row.reverse().sort((a, b) => b.start - a.start || b.finish - a.finish);
    latestStarts(backward, capacity, (key, day) => latest.set(key, dayFromNumber(today + day)));
  }
  return latest;
}
