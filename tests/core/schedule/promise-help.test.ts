import { describe, expect, it } from 'vitest';
import { promisePairs } from '#core/schedule/promise.ts';
import { minutesMoreFor } from '#core/schedule/promise-help.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { dayAtTime, knitter, monday } from '#tests/support/schedule-cases.ts';

const options = Object.freeze({ today: monday, horizonDays: 60, knittingMinutesPerHour: 30 });

/** The day a pair of so many minutes is done by whoever is done first. */
const promise = (minutes: number) => (knitters: readonly Knitter[]) =>
  promisePairs(
    [{ key: 'new', readyDay: monday, dueDay: null }],
    [],
    () => null,
    knitters,
    () => minutes,
    options,
  ).pairs[0]!.finishDay;

describe('minutesMoreFor', () => {
  // 60 minutes by the clock are 30 of knitting here. 300 minutes in 6 days are 50 a day: 20 more, 140 a week.
  it('is the least that has it done in time, for each knitter alone', () => {
    const knitters = [knitter(1, 60), knitter(2, 80)];
    expect(minutesMoreFor(knitters, dayAtTime(6), promise(300), 30)).toEqual([
      { knitterId: 1, minutesAWeekMore: 140 },
      { knitterId: 2, minutesAWeekMore: 70 },
    ]);
  });

  it('is nothing where it is done in time already, and whole minutes a day', () => {
    expect(minutesMoreFor([knitter(1, 60)], dayAtTime(10), promise(300), 30)[0]!.minutesAWeekMore).toBe(0);
    // One minute of work more: 31 a day.
    expect(minutesMoreFor([knitter(1, 60)], dayAtTime(10), promise(301), 30)[0]!.minutesAWeekMore).toBe(7);
  });

  it('keeps caps and days off, and does not ask who gives pairs a month', () => {
    const capped = knitter(1, 60, { dailyCapMin: 45 });
    const away = knitter(2, 60, { daysOff: [{ fromDay: monday, toDay: dayAtTime(6) }] });
    const monthly = knitter(3, 0, { pairsAMonth: 2 });
    expect(minutesMoreFor([capped, away, monthly], dayAtTime(6), promise(300), 30)).toEqual([
      { knitterId: 1, minutesAWeekMore: null },
      { knitterId: 2, minutesAWeekMore: null },
    ]);
  });
});
