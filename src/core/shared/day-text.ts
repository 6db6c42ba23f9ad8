import { type Day, dayFromNumber, isDay, weekdayOf } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';

/** Parts of a day as they were written; the year may be missing or short. */
type Parts = { readonly year: string; readonly month: number; readonly day: number };

const monthNames = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const monthsInFull =
  /^(jan(uary)?|feb(ruary)?|mar(ch)?|apr(il)?|may|june?|july?|aug(ust)?|sept?(ember)?|oct(ober)?|nov(ember)?|dec(ember)?)$/;
const weekdayNames = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
const leadingWeekday = /^(mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\s+/i;

const yearFirst = /^(\d{4})\s?[-./]\s?(\d{1,2})\s?[-./]\s?(\d{1,2})$/;
const numbers = /^(\d{1,2})\s?([-./])\s?(\d{1,2})(?:\s?\2\s?(\d{4}|\d{2})?)?$/;
const dayThenName = /^(\d{1,2})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?([a-z]{3,9})[.,]*\s*(\d{4}|\d{2})?$/i;
const nameThenDay = /^([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?[.,]*\s*(\d{4}|\d{2})?$/i;

function monthOf(name: string): number {
  const word = name.toLowerCase();
  return monthsInFull.test(word) ? monthNames.indexOf(word.slice(0, 3)) + 1 : 0;
}

/** Every way to read a text as a day, whether the calendar has it or not. */
function readingsOf(text: string): readonly Parts[] {
  const iso = yearFirst.exec(text);
  if (iso) return [{ year: iso[1]!, month: Number(iso[2]), day: Number(iso[3]) }];
  const numeric = numbers.exec(text);
  if (numeric) {
    const [first, second, year = ''] = [Number(numeric[1]), Number(numeric[3]), numeric[4]];
    const dayFirst = { year, month: second, day: first };
    // With points the day comes first everywhere; with strokes it depends on the country.
    if (numeric[2] === '.' || first === second || first > 12) return [dayFirst];
    const monthFirst = { year, month: first, day: second };
    return second > 12 ? [monthFirst] : [dayFirst, monthFirst];
  }
  const named = dayThenName.exec(text);
  if (named && monthOf(named[2]!) > 0) {
    return [{ year: named[3] ?? '', month: monthOf(named[2]!), day: Number(named[1]) }];
  }
  const american = nameThenDay.exec(text);
  if (american && monthOf(american[1]!) > 0) {
    return [{ year: american[3] ?? '', month: monthOf(american[1]!), day: Number(american[2]) }];
  }
  return [];
}

const written = (year: number, month: number, day: number): Day =>
  [String(year).padStart(4, '0'), String(month).padStart(2, '0'), String(day).padStart(2, '0')].join('-');

/** The likeliest day: a short year is of this century, a missing one makes it the next such day from today on. */
function likelyDay({ year, month, day }: Parts, today: Day): Day {
  if (year !== '') return written(year.length === 2 ? 2000 + Number(year) : Number(year), month, day);
  const thisYear = Number(today.slice(0, 4));
  const here = written(thisYear, month, day);
  return here >= today ? here : written(thisYear + 1, month, day);
}

/** The last day of a month that has not as many days; null where the month itself is none. */
function lastOfMonth({ month, day }: Parts, likely: Day): Day | null {
  if (month < 1 || month > 12 || day < 29 || day > 31) return null;
  return [30, 29, 28].map((last) => `${likely.slice(0, 8)}${last}`).find((each) => isDay(each)) ?? null;
}

// Days as spreadsheets count them, from the end of 1899: these are of the years 2009 to 2064.
const serial = /^[456]\d{4}$/;
const serialOfFirst = 25_569;

const how = (days: readonly Day[]) => days.map((day) => `${day} for ${formatDay(day)}`).join(', or ');

/**
 * A day as somebody typed it. Read are texts that say day, month and year in one way alone: 2026-12-04, 4.12.2026,
 * 4 Dec 2026, December 4, 2026. Anything else is refused, with the likeliest reading written out; nothing is guessed.
 *
 * @param text as typed; a weekday may lead it, and must then be the day's own
 * @param today the present day: a day without a year is offered as the next such one
 * @param path field that a problem belongs to
 * @returns the day, or the problem in a sentence
 * Source: ISO 8601 for the form that is stored; the readings are our own choice
 * @example readDayText('4.12.2026', '2026-11-25').value // => '2026-12-04'
 * @example readDayText('Fri 4 Dec 2026', '2026-11-25').value // => '2026-12-04'
 * @example readDayText('December 4, 2026', '2026-11-25').value // => '2026-12-04'
 * @example readDayText('13/12/2026', '2026-11-25').value // => '2026-12-13', there is no 13th month
 * @example readDayText('4/12/2026', '2026-11-25').problems[0].message // => '“4/12/2026” can be read in two ways. Write 2026-12-04 for Fri 4 Dec 2026, or 2026-04-12 for Sun 12 Apr 2026.'
 * @example readDayText('4.12.', '2026-11-25').problems[0].message // => '“4.12.” has no year. Write 2026-12-04 for Fri 4 Dec 2026.'
 * @example readDayText('2026-02-30', '2026-11-25').problems[0].message // => 'There is no day 30 in that month. Write 2026-02-28 for Sat 28 Feb 2026.'
 * @example readDayText('46360', '2026-11-25').problems[0].message // => '“46360” is a day as spreadsheets count them. Write 2026-12-04 for Fri 4 Dec 2026.'
 * @example readDayText('next week', '2026-11-25').problems[0].message // => '“next week” is not understood as a day. Write the year first, like 2026-12-04, or 4.12.2026.'
 */
export function readDayText(text: string, today: Day, path = 'day'): Result<Day> {
  const typed = text.trim().replace(/\s+/g, ' ');
  const shown = typed.length > 40 ? `${typed.slice(0, 40)}…` : typed;
  const refused = (code: string, message: string) => refuse({ code, path, message });
  const weekday = leadingWeekday.exec(typed)?.[1]?.toLowerCase();
  const bare = typed.replace(leadingWeekday, '');
  const readings = readingsOf(bare);
  if (serial.test(typed)) {
    const day = dayFromNumber(Number(typed) - serialOfFirst);
    return refused('daySerial', `“${typed}” is a day as spreadsheets count them. Write ${how([day])}.`);
  }
  if (readings.length === 0) {
    const message = `“${shown}” is not understood as a day. Write the year first, like 2026-12-04, or 4.12.2026.`;
    return refused('dayUnknown', message);
  }
  const days = readings.map((parts) => likelyDay(parts, today)).filter((day) => isDay(day));
  if (days.length === 0) {
    const last = lastOfMonth(readings[0]!, likelyDay(readings[0]!, today));
    if (last === null) return refused('noSuchDay', `The calendar has no day “${shown}”. Write it like 2026-12-04.`);
    return refused('noSuchDay', `There is no day ${readings[0]!.day} in that month. Write ${how([last])}.`);
  }
  if (days.length > 1) return refused('dayTwoWays', `“${shown}” can be read in two ways. Write ${how(days)}.`);
  const [day] = days as [Day];
  const { year } = readings[0]!;
  if (year.length < 4) {
    return refused('dayWithoutYear', `“${shown}” has ${year === '' ? 'no' : 'a short'} year. Write ${how([day])}.`);
  }
  if (weekday !== undefined && weekdayNames[weekdayOf(day) - 1] !== weekday) {
    return refused('otherWeekday', `That day is another weekday: ${formatDay(day)}. Write it without the weekday.`);
  }
  return succeed(day);
}
