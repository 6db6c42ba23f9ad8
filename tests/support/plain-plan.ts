import type { PairToKnit } from '#core/schedule/assign.ts';
import { capacityOf, type ScheduleOptions } from '#core/schedule/availability.ts';
import { dayNumber } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';

export type Lateness = { readonly pairs: number; readonly days: number; readonly most: number };

export function sumOf(daysLate: readonly number[]): Lateness {
  return {
    pairs: daysLate.length,
    days: daysLate.reduce((sum, days) => sum + days, 0),
    most: Math.max(0, ...daysLate),
  };
}

export const noLater = (one: Lateness, other: Lateness): boolean =>
  one.pairs <= other.pairs && one.days <= other.days && one.most <= other.most;

/**
 * How late the list rule alone is: by due day to whoever is done first, then each knitter takes, of what is there, the
 * one due first. Written as simply as can be; every pair is finished.
 */
export function plainPlan(
  pairs: readonly PairToKnit[],
  knitters: readonly Knitter[],
  minutesOf: (key: string, knitterId: number) => number,
  options: ScheduleOptions,
): Lateness {
  const today = dayNumber(options.today);
  const dueOf = ({ dueDay }: PairToKnit) => (dueDay === null ? 1e6 : dayNumber(dueDay) - today);
  const readyOf = ({ readyDay }: PairToKnit) => dayNumber(readyDay) - today;
  const byDue = [...pairs].sort((a, b) => dueOf(a) - dueOf(b));
  const rows = knitters.map((knitter) => ({
    id: knitter.id,
    capacity: capacityOf(knitter, options),
    end: 0,
    given: 0,
    own: [] as PairToKnit[],
  }));
  for (const pair of byDue) {
    const options = rows.map((row) => {
      const minutes = minutesOf(pair.key, row.id);
      const end = Math.max(row.end, row.capacity.before(readyOf(pair))) + minutes;
      return { row, minutes, end, day: row.capacity.dayReaching(end, readyOf(pair))! };
    });
    const best = options.reduce((one, other) =>
      other.day < one.day || (other.day === one.day && other.row.given < one.row.given) ? other : one,
    );
    best.row.end = best.end;
    best.row.given += best.minutes;
    best.row.own.push(pair);
  }
  const late: number[] = [];
  for (const { id, capacity, own } of rows) {
    let reached = 0;
    let left = [...own];
    while (left.length > 0) {
      const there = left.filter((pair) => capacity.before(readyOf(pair)) <= reached);
      if (there.length === 0) {
        reached = Math.min(...left.map((pair) => capacity.before(readyOf(pair))));
        continue;
      }
      const pair = there[0]!;
      left = left.filter((other) => other !== pair);
      reached += minutesOf(pair.key, id);
      const days = capacity.dayReaching(reached, readyOf(pair))! - dueOf(pair);
      if (days > 0) late.push(days);
    }
  }
  return sumOf(late);
}
