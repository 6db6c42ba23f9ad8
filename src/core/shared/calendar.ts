import { addDays as addDaysToDate, differenceInCalendarDays, getISODay, isValid, parse } from 'date-fns';

/** A calendar day as `YYYY-MM-DD`, free of time and time zone; such texts sort as days do. */
export type Day = string;

/** Monday is 1, Sunday is 7 (ISO 8601). */
export type Weekday = 1 | 2 | 3 | 4 | 5 | 6 | 7;

const dayShape = /^\d{4}-\d{2}-\d{2}$/;

// Local noon keeps every step a whole calendar day, whatever the machine's clock changes do.
function dateOf(day: Day): Date {
  return parse(`${day} 12`, 'yyyy-MM-dd HH', new Date(2000, 0, 1));
}

function dayOf(date: Date): Day {
  const pad = (value: number, width: number) => String(value).padStart(width, '0');
  return `${pad(date.getFullYear(), 4)}-${pad(date.getMonth() + 1, 2)}-${pad(date.getDate(), 2)}`;
}

/**
 * Whether a text is a day of the calendar.
 *
 * @example isDay('2026-02-28') // => true
 * @example isDay('2026-02-29') // => false
 * @example isDay('28.2.2026') // => false
 */
export function isDay(text: string): text is Day {
  return dayShape.test(text) && isValid(dateOf(text)) && dayOf(dateOf(text)) === text;
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
  return dayOf(addDaysToDate(dateOf(day), days));
}

/**
 * Whole days from one day to another; negative when the second comes first.
 *
 * @example daysBetween('2026-11-25', '2026-12-05') // => 10
 */
export function daysBetween(from: Day, to: Day): number {
  if (!isDay(from) || !isDay(to)) throw new RangeError(`daysBetween: both must be YYYY-MM-DD, got ${from} and ${to}`);
  return differenceInCalendarDays(dateOf(to), dateOf(from));
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

const msInDay = 86_400_000;

/**
 * A day as a whole number, days since 1970-01-01: for loops that step through thousands of days.
 *
 * @param day a day, trusted to be one
 * @example dayNumber('1970-01-02') // => 1
 */
export function dayNumber(day: Day): number {
  return Date.UTC(Number(day.slice(0, 4)), Number(day.slice(5, 7)) - 1, Number(day.slice(8, 10))) / msInDay;
}

const dayTexts = new Map<number, Day>();

/**
 * The day of a day number. Texts are kept, since a plan asks for the same days thousands of times.
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
