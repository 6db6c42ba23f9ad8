import type { Day } from '#core/shared/calendar.ts';
import { requireRange } from '#core/shared/check.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/** How much more one knitter alone would have to knit; null minutes: her hours alone cannot do it. */
export type MoreMinutes = { readonly knitterId: number; readonly minutesAWeekMore: number | null };

const daysInWeek = 7;
/** More than two hours a day on top is no help that can be asked for. Our own choice. */
const mostMinADay = 120;

/** A knitter who knits so many minutes more on every day that is not off; her daily cap holds. */
function withMore(knitter: Knitter, minutesADay: number, knittingMinutesPerHour: number): Knitter {
  const clockMin = (minutesADay * 60) / knittingMinutesPerHour;
  return { ...knitter, minutesByWeekday: knitter.minutesByWeekday.map((minutes) => minutes + clockMin) };
}

/**
 * The least minutes of knitting a week more that would have something done by a day, for each knitter alone: spread
 * evenly over the days, whole minutes a day, found by halving. Days off and daily caps hold; who gives pairs a month is
 * not asked.
 *
 * @param promiseDayWith the day it would be done with other hours; null when never
 * @param knittingMinutesPerHour above 0, at most 60
 * @returns one a knitter with hours, in their order; null where two hours a day more do not do
 * @throws {RangeError} when `knittingMinutesPerHour` is out of range
 * @example minutesMoreFor([], '2026-12-01', () => null, 50) // => []
 */
export function minutesMoreFor(
  knitters: readonly Knitter[],
  wishedDay: Day,
  promiseDayWith: (knitters: readonly Knitter[]) => Day | null,
  knittingMinutesPerHour: number,
): readonly MoreMinutes[] {
  requireRange('minutesMoreFor: knittingMinutesPerHour', knittingMinutesPerHour, 0, 60, true);
  return knitters
    .filter((knitter) => knitter.pairsAMonth === null)
    .map((knitter) => {
      const isEnough = (minutesADay: number) => {
        const more = withMore(knitter, minutesADay, knittingMinutesPerHour);
        const day = promiseDayWith(knitters.map((each) => (each.id === knitter.id ? more : each)));
        return day !== null && day <= wishedDay;
      };
      if (!isEnough(mostMinADay)) return { knitterId: knitter.id, minutesAWeekMore: null };
      let [tooFew, enough] = [-1, mostMinADay];
      while (enough - tooFew > 1) {
        const middle = Math.floor((tooFew + enough) / 2);
        if (isEnough(middle)) enough = middle;
        else tooFew = middle;
      }
      return { knitterId: knitter.id, minutesAWeekMore: enough * daysInWeek };
    });
}
