import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, dayFromNumber, dayNumber, daysBetween, isDay, weekdayOf } from '#core/shared/calendar.ts';

const msInDay = 86_400_000;

/** A second method: days counted in UTC milliseconds. */
const utcDay = (count: number) => new Date(count * msInDay).toISOString().slice(0, 10);
// 1900-03-01 to 2199-12-31
const counts = fc.integer({ min: -25_508, max: 84_004 });

describe('isDay', () => {
  it.each(['2026-02-28', '2024-02-29', '2000-02-29', '2026-12-31', '1999-01-01'])('takes %s', (text) => {
    expect(isDay(text)).toBe(true);
  });

  it.each([
    '2026-02-29',
    '1900-02-29',
    '2026-13-01',
    '2026-00-10',
    '2026-04-31',
    '26-04-01',
    '2026-4-1',
    '2026-04-01 ',
    '',
    'today',
  ])('does not take “%s”', (text) => {
    expect(isDay(text)).toBe(false);
  });
});

describe('addDays', () => {
  it('steps over the days on which clocks change, as over any other', () => {
    // Clocks change on 29 March and 25 October 2026 in Europe, on 8 March and 1 November 2026 in North America.
    for (const [day, next] of [
      ['2026-03-28', '2026-03-29'],
      ['2026-03-29', '2026-03-30'],
      ['2026-10-25', '2026-10-26'],
      ['2026-03-08', '2026-03-09'],
      ['2026-11-01', '2026-11-02'],
    ] as const) {
      expect(addDays(day, 1)).toBe(next);
      expect(daysBetween(day, next)).toBe(1);
    }
  });

  it('equals counting in UTC', () => {
    fc.assert(
      fc.property(counts, fc.integer({ min: -2000, max: 2000 }), (count, step) => {
        expect(addDays(utcDay(count), step)).toBe(utcDay(count + step));
        expect(daysBetween(utcDay(count), utcDay(count + step))).toBe(step);
      }),
    );
  });

  it('refuses parts of a day and texts that are no day', () => {
    expect(() => addDays('2026-01-01', 0.5)).toThrow(RangeError);
    expect(() => addDays('2026-02-30', 1)).toThrow(RangeError);
    expect(() => daysBetween('2026-01-01', 'soon')).toThrow(RangeError);
  });
});

describe('weekdayOf', () => {
  it('is 1 on a Monday and 7 on a Sunday', () => {
    expect(weekdayOf('2026-11-23')).toBe(1);
    expect(weekdayOf('2026-11-29')).toBe(7);
    expect(() => weekdayOf('2026-11-31')).toThrow(RangeError);
  });

  it('equals the weekday of the UTC day', () => {
    fc.assert(
      fc.property(counts, (count) => weekdayOf(utcDay(count)) === (new Date(count * msInDay).getUTCDay() || 7)),
    );
  });
});

describe('dayNumber and dayFromNumber', () => {
  it('are each other’s way back, and count like daysBetween', () => {
    expect(dayNumber('1970-01-01')).toBe(0);
    fc.assert(
      fc.property(counts, (count) => {
        expect(dayFromNumber(count)).toBe(utcDay(count));
        expect(dayNumber(utcDay(count))).toBe(count);
        expect(daysBetween('1970-01-01', utcDay(count))).toBe(count);
      }),
    );
  });
});
