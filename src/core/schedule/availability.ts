import { type Day, dayNumber } from '#core/shared/calendar.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';
import type { Knitter } from '#core/timing/knitter.ts';

export type ScheduleOptions = {
  readonly today: Day;
  /** Days laid out at once, whole, at least 1; the calendar grows by itself, up to 20 years. */
  readonly horizonDays: number;
  /** Minutes of knitting in each hour by the clock: the rest is for hands and back. */
  readonly knittingMinutesPerHour: number;
  /** Minutes of an average pair, for knitters who give pairs a month; left out: the mean of the pairs at hand. */
  readonly averagePairMin?: number;
};

/** Knitting minutes of one knitter over the days from today; day 0 is today. */
export type Capacity = {
  readonly knitter: Knitter;
  /** Minutes on all days before day `index`; the calendar is grown as far as needed. */
  before(index: number): number;
  /** First day, not before `from`, by whose end `minutes` in all have passed; null when that is over 20 years away. */
  dayReaching(minutes: number, from: number): number | null;
  /** First day, not before `from`, with time left after `minutes` in all have passed; null when there is none. */
  dayAfter(minutes: number, from: number): number | null;
};

export const mostDays = 7305; // 20 years
const daysInMonth = 30.4;
const hairMin = 1e-6;

/**
 * Knitting minutes of one knitter on one day: the weekday's minutes by the clock, less the rest in each hour, at most
 * the daily cap; none on days off and after the last day. Pairs a month count as evenly spread: pairs x minutes of an
 * average pair / 30.4 each day, the daily cap and days off as usual.
 *
 * @param options `averagePairMin` is used for pairs a month only
 * @returns minutes, at least 0, not rounded
 * @throws {RangeError} when `knittingMinutesPerHour` is not above 0 and at most 60
 * Source: 30.4 days is a year's twelfth; 50 minutes in the hour and a cap of 240 are our own choice, both settings
 */
export function knittingMinutesOn(
  knitter: Knitter,
  day: Day,
  options: Pick<ScheduleOptions, 'knittingMinutesPerHour' | 'averagePairMin'>,
): number {
  return minutesByNumber(knitter, options)(dayNumber(day));
}

function minutesByNumber(
  knitter: Knitter,
  options: Pick<ScheduleOptions, 'knittingMinutesPerHour' | 'averagePairMin'>,
): (day: number) => number {
  requireRange('knittingMinutesOn: knittingMinutesPerHour', options.knittingMinutesPerHour, 0, 60, true);
  const ratio = options.knittingMinutesPerHour / 60;
  const even =
    knitter.pairsAMonth === null ? null : (knitter.pairsAMonth * (options.averagePairMin ?? 0)) / daysInMonth;
  const byWeekday = Array.from({ length: 7 }, (_, weekday) =>
    Math.max(0, Math.min(even ?? (knitter.minutesByWeekday[weekday] ?? 0) * ratio, knitter.dailyCapMin)),
  );
  const off = knitter.daysOff.map(({ fromDay, toDay }) => [dayNumber(fromDay), dayNumber(toDay)] as const);
  const last = knitter.lastDay === null ? Number.POSITIVE_INFINITY : dayNumber(knitter.lastDay);
  return (day) => {
    if (day > last) return 0;
    for (const [from, to] of off) if (day >= from && day <= to) return 0;
    return byWeekday[(((day + 3) % 7) + 7) % 7]!; // day 0, 1 January 1970, was a Thursday
  };
}

/**
 * The knitting calendar of one knitter as running sums, so that the day a queue ends is found by stepping on.
 *
 * @example capacityOf({ id: 1, name: 'Mia', handKey: '', rates: {}, minutesByWeekday: [60, 60, 60, 60, 60, 60, 60], dailyCapMin: 240, pairsAMonth: null, daysOff: [], lastDay: null }, { today: '2026-11-02', horizonDays: 10, knittingMinutesPerHour: 50 }).dayReaching(101, 0) // => 2
 */
export function capacityOf(knitter: Knitter, options: ScheduleOptions): Capacity {
  requireWhole('capacityOf: horizonDays', options.horizonDays, 1);
  const minutesOf = minutesByNumber(knitter, options);
  const first = dayNumber(options.today);
  const sums = [0];
  const growTo = (index: number): void => {
    for (let day = sums.length - 1; day < index; day += 1) sums.push(sums[day]! + minutesOf(first + day));
  };
  growTo(Math.min(mostDays, options.horizonDays));
  const grownPast = (day: number): number => {
    if (sums.length < day + 2) growTo(Math.min(mostDays, 2 * day + 2));
    return sums[day + 1]!;
  };
  return {
    knitter,
    before(index) {
      const day = Math.min(mostDays, Math.max(0, index));
      if (sums.length < day + 1) growTo(day);
      return sums[day]!;
    },
    // Two loops and not one with a test handed in: they are the innermost of every plan.
    dayReaching(minutes, from) {
      for (let day = Math.max(0, from); day < mostDays; day += 1) if (grownPast(day) >= minutes - hairMin) return day;
      return null;
    },
    dayAfter(minutes, from) {
      for (let day = Math.max(0, from); day < mostDays; day += 1) if (grownPast(day) > minutes + hairMin) return day;
      return null;
    },
  };
}

/** Calendars by knitter; pairs a month count by the mean of the assignments unless an average pair is given. */
export function capacitiesOf(
  assignments: readonly { readonly knitterId: number | null; readonly minutes: number }[],
  knitters: readonly Knitter[],
  options: ScheduleOptions,
): ReadonlyMap<number, Capacity> {
  const given = assignments.filter((each) => each.knitterId !== null);
  const averagePairMin =
    options.averagePairMin ?? given.reduce((total, each) => total + each.minutes, 0) / Math.max(1, given.length);
  return new Map(knitters.map((knitter) => [knitter.id, capacityOf(knitter, { ...options, averagePairMin })]));
}
