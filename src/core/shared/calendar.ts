// Single functions, since the whole library takes a tenth of a second to load.
import { getISODay } from 'date-fns/getISODay';
import { isValid } from 'date-fns/isValid';
import { parse } from 'date-fns/parse';

/** A calendar day as `YYYY-MM-DD`, free of time and time zone; such texts sort as days do. */
export type Day = string;

/** Monday is 1, Sunday is 7 (ISO 8601). */
export type Weekday = 1 | 2 | 3 | 4 | 5 | 6 | 7;

const dayShape = /^\d{4}-\d{2}-\d{2}$/;

const msInDay = 86_400_000;

function dateOf(day: Day): Date {
  return parse(day, 'yyyy-MM-dd', new Date(2000, 0, 1));
}

// What was worked out for a day is kept, since a plan asks for the same ones thousands of times.
const knownDays = new Set<Day>();
const dayTexts = new Map<number, Day>();
const dayNumbers = new Map<Day, number>();

/**
 * Whether a text is a day of the calendar.
 *
 * @example isDay('2026-02-28') // => true
 * @example isDay('2026-02-29') // => false
 * @example isDay('28.2.2026') // => false
 */
export function isDay(text: string): text is Day {
  if (knownDays.has(text)) return true;
  const isGood = dayShape.test(text) && isValid(dateOf(text));
  if (isGood) knownDays.add(text);
  return isGood;
}

/**
 * The day some days later (earlier when negative).
 *
 * @param day a day
 * @param days whole days
 * @throws {RangeError} when `day` is not a day or `days` is not whole
 * @example addDays('2026-02-28', 1) // => '2026-03-01'
 * @example addDays('2026-01-01', -1) // => '2025-12-31'
 */
export function addDays(day: Day, days: number): Day {
  if (!isDay(day)) throw new RangeError(`addDays: day must be YYYY-MM-DD, got ${day}`);
  if (!Number.isSafeInteger(days)) throw new RangeError(`addDays: days must be whole, got ${days}`);
  return dayFromNumber(dayNumber(day) + days);
}

/**
 * Whole days from one day to another; negative when the second comes first.
 *
 * @example daysBetween('2026-11-25', '2026-12-05') // => 10
 */
export function daysBetween(from: Day, to: Day): number {
  if (!isDay(from) || !isDay(to)) throw new RangeError(`daysBetween: both must be YYYY-MM-DD, got ${from} and ${to}`);
  return dayNumber(to) - dayNumber(from);
}

/**
 * The weekday of a day, Monday 1 to Sunday 7.
 *
 * @example weekdayOf('2026-11-25') // => 3
 */
export function weekdayOf(day: Day): Weekday {
  if (!isDay(day)) throw new RangeError(`weekdayOf: day must be YYYY-MM-DD, got ${day}`);
  return getISODay(dateOf(day)) as Weekday;
}

/**
 * A day as a whole number, days since 1970-01-01: for loops that step through thousands of days.
 *
 * @param day a day, trusted to be one
 * @example dayNumber('1970-01-02') // => 1
 */
export function dayNumber(day: Day): number {
  let number = dayNumbers.get(day);
  if (number === undefined) {
    number = Date.UTC(Number(day.slice(0, 4)), Number(day.slice(5, 7)) - 1, Number(day.slice(8, 10))) / msInDay;
    dayNumbers.set(day, number);
  }
  return number;
}

/**
 * The day of a day number.
 *
 * @example dayFromNumber(1) // => '1970-01-02'
 */
export function dayFromNumber(number: number): Day {
  let text = dayTexts.get(number);
  if (text === undefined) {
    text = new Date(number * msInDay).toISOString().slice(0, 10);
    dayTexts.set(number, text);
  }
  return text;
}
