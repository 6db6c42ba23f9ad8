import { describe, expect, it } from 'vitest';
import { capacityOf, knittingMinutesOn } from '#core/schedule/availability.ts';
import { addDays } from '#core/shared/calendar.ts';
import { knitter, monday } from '#tests/support/schedule-cases.ts';

const usual = { knittingMinutesPerHour: 50 };

describe('knittingMinutesOn', () => {
  it('takes 50 of each 60 minutes, weekday by weekday', () => {
    const mia = knitter(1, 0, { minutesByWeekday: [60, 0, 30, 0, 0, 120, 6] });
    const week = [0, 1, 2, 3, 4, 5, 6].map((day) => knittingMinutesOn(mia, addDays(monday, day), usual));
    expect(week).toEqual([50, 0, 25, 0, 0, 100, 5]);
  });

  it('caps a day at the knitting minutes allowed', () => {
    expect(knittingMinutesOn(knitter(1, 288), monday, usual)).toBe(240); // 288 x 50 / 60 is 240 exactly
    expect(knittingMinutesOn(knitter(1, 600), monday, usual)).toBe(240);
    expect(knittingMinutesOn(knitter(1, 600, { dailyCapMin: 0 }), monday, usual)).toBe(0);
  });

  it('is nothing on days off, both ends included, and after the last day', () => {
    const mia = knitter(1, 60, { daysOff: [{ fromDay: '2026-11-03', toDay: '2026-11-04' }], lastDay: '2026-11-06' });
    const days = ['2026-11-02', '2026-11-03', '2026-11-04', '2026-11-05', '2026-11-06', '2026-11-07'];
    expect(days.map((day) => knittingMinutesOn(mia, day, usual))).toEqual([50, 0, 0, 50, 50, 0]);
  });

  it('spreads pairs a month evenly over 30.4 days', () => {
    const hobby = knitter(1, 0, { pairsAMonth: 2 });
    // Two pairs of 228 minutes: 456 minutes in 30.4 days are 15 a day.
    expect(knittingMinutesOn(hobby, monday, { ...usual, averagePairMin: 228 })).toBeCloseTo(15, 9);
    expect(knittingMinutesOn(knitter(1, 0, { pairsAMonth: 0 }), monday, { ...usual, averagePairMin: 228 })).toBe(0);
  });

  it('refuses hours with no, or more than 60, minutes', () => {
    expect(() => knittingMinutesOn(knitter(1, 60), monday, { knittingMinutesPerHour: 0 })).toThrow(RangeError);
    expect(() => knittingMinutesOn(knitter(1, 60), monday, { knittingMinutesPerHour: 61 })).toThrow(RangeError);
  });
});

describe('capacityOf', () => {
  const options = { today: monday, horizonDays: 2, knittingMinutesPerHour: 60 };

  it('finds the day a sum is reached, exactly and just over, beyond the first horizon', () => {
    const calendar = capacityOf(knitter(1, 60), options);
    expect(calendar.before(0)).toBe(0);
    expect(calendar.before(3)).toBe(180);
    expect(calendar.dayReaching(60, 0)).toBe(0);
    expect(calendar.dayReaching(60.1, 0)).toBe(1);
    expect(calendar.dayAfter(60, 0)).toBe(1);
    expect(calendar.dayReaching(6000, 0)).toBe(99);
  });

  it('agrees with the single days over three years with clock changes and a leap year', () => {
    const mia = knitter(1, 0, {
      minutesByWeekday: [1, 2, 3, 4, 5, 6, 7],
      daysOff: [{ fromDay: '2027-03-01', toDay: '2027-03-31' }],
    });
    const calendar = capacityOf(mia, options);
    let sum = 0;
    for (let day = 0; day < 1100; day += 1) {
      expect(calendar.before(day)).toBeCloseTo(sum, 6);
      sum += knittingMinutesOn(mia, addDays(monday, day), options);
    }
  });

  it('says null when the time never comes', () => {
    expect(capacityOf(knitter(1, 0), options).dayReaching(1, 0)).toBeNull();
    expect(capacityOf(knitter(1, 60, { lastDay: '2026-11-03' }), options).dayReaching(121, 0)).toBeNull();
  });
});
