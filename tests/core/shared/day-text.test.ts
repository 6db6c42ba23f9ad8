import { describe, expect, it } from 'vitest';
import { readDayText } from '#core/shared/day-text.ts';

const today = '2026-11-25';

/** Every day of the leap year 2028 and the year before it, by the clock of the machine. */
const days = Array.from({ length: 731 }, (_, index) => new Date(Date.UTC(2027, 0, 1 + index)));
const wordsOf = (date: Date, locale: string, options: Intl.DateTimeFormatOptions) =>
  date.toLocaleDateString(locale, { timeZone: 'UTC', ...options });

describe('readDayText', () => {
  it.each([
    ['as it is stored', 'sv-SE', {}],
    ['with points', 'de-DE', {}],
    ['in British words', 'en-GB', { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' }],
    ['in American words', 'en-US', { day: 'numeric', month: 'long', year: 'numeric' }],
    ['in short', 'en-GB', { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' }],
  ] as const)('reads every day %s', (_, locale, options) => {
    for (const date of days) {
      const text = wordsOf(date, locale, options);
      expect([text, readDayText(text, today)]).toEqual([text, { ok: true, value: date.toISOString().slice(0, 10) }]);
    }
  });

  it('reads strokes where the two countries agree, and asks where they do not', () => {
    for (const date of days) {
      const [iso, british, american] = [
        date.toISOString().slice(0, 10),
        wordsOf(date, 'en-GB', {}),
        wordsOf(date, 'en-US', {}),
      ];
      const isOneWay = date.getUTCDate() > 12 || date.getUTCDate() === date.getUTCMonth() + 1;
      for (const text of [british, american]) {
        const read = readDayText(text, today);
        if (isOneWay) expect([text, read]).toEqual([text, { ok: true, value: iso }]);
        else expect(read.ok ? '' : read.problems[0]!.message).toContain(iso);
      }
    }
  });

  it.each([
    // The day is still to come this year, is today, or was: then it is next year's.
    ['4 Dec', '2026-12-04'],
    ['25.11.', '2026-11-25'],
    ['24 November', '2027-11-24'],
    ['Jan 5', '2027-01-05'],
    ['29 Feb 28', '2028-02-29'],
    ['4.12.26', '2026-12-04'],
  ])('offers %s as %s and does not take it', (text, day) => {
    const read = readDayText(text, today, 'due');
    expect(read).toMatchObject({ ok: false, problems: [{ code: 'dayWithoutYear', path: 'due' }] });
    expect(read.ok ? '' : read.problems[0]!.message).toContain(`Write ${day} for`);
  });

  it.each([
    '',
    'soon',
    '2026',
    '4',
    '12.2026',
    '2026-13-01',
    '0.0.2026',
    'Mar',
    '5 Brumaire 2026',
    '1e5',
    '99/99/9999',
  ])('says that “%s” is no day', (text) => {
    expect(readDayText(text, today).ok).toBe(false);
  });

  it('does not take a day with another weekday before it', () => {
    const read = readDayText('Mon 4 Dec 2026', today);
    expect(read).toMatchObject({ ok: false, problems: [{ code: 'otherWeekday' }] });
    expect(read.ok ? '' : read.problems[0]!.message).toContain('Fri 4 Dec 2026');
  });
});
