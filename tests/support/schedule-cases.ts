import type { PairToKnit } from '#core/schedule/assign.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/** A Monday. */
export const monday: Day = '2026-11-02';

export function knitter(id: number, minutesADay: number, change: Partial<Knitter> = {}): Knitter {
  return Object.freeze({
    id,
    name: `Knitter ${id}`,
    handKey: 'usual',
    rates: {
      stitchesPerMin: 25,
      castOnPerMin: 12,
      twoTogetherPerMin: 12,
      bindOffPerMin: 15,
      turnMin: 0.05,
      seamMinPer10Cm: 2.5,
      endMin: 1.5,
      colourChangeMin: 1,
      drawUpMin: 1.5,
      setUpMin: 2,
    },
    minutesByWeekday: Array.from({ length: 7 }, () => minutesADay),
    dailyCapMin: 240,
    pairsAMonth: null,
    daysOff: [],
    lastDay: null,
    ...change,
  });
}

/** The day by whose end so many days have passed: with one minute a day, a job that ends at time t ends on this day. */
export function dayAtTime(time: number): Day {
  return addDays(monday, time - 1);
}

export function pair(key: string, dueDay: Day | null = null, change: Partial<PairToKnit> = {}): PairToKnit {
  return Object.freeze({ key, dueDay, readyDay: monday, pinnedKnitterId: null, ...change });
}

/** One minute of knitting a day, all of each hour: days stand for the time units of textbook cases. */
export const oneADay = Object.freeze({ today: monday, horizonDays: 400, knittingMinutesPerHour: 60 });
