import { formatMinutes } from '#core/shared/format.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

const shapes: readonly RegExp[] = [
  /^(?<minutes>\d{1,5})\s*(?:m|min|mins|minutes?)?$/i,
  /^(?<hours>\d{1,3}(?:[.,]\d{1,3})?|[.,]\d{1,3})\s*(?:h|hr|hrs|hours?)$/i,
  /^(?<hours>\d{1,3})\s*(?:h|hr|hrs|hours?|:)\s*(?<minutes>[0-5]?\d)\s*(?:m|min|mins|minutes?)?$/i,
];

/**
 * A time as people type it, in whole minutes: hours with `h`, hours and minutes, or minutes. A plain number is minutes.
 *
 * @returns null when it is not a time; a part of a minute is rounded half up
 * @example minutesFromText('3 h') // => 180
 * @example minutesFromText('1,5 h') // => 90
 * @example minutesFromText('1:30') // => 90
 * @example minutesFromText('1 h 05 min') // => 65
 * @example minutesFromText('90 min') // => 90
 * @example minutesFromText('90') // => 90
 * @example minutesFromText('1:75') // => null
 * @example minutesFromText('1.5') // => null, hours or minutes
 */
export function minutesFromText(text: string): number | null {
  const typed = text.trim();
  for (const shape of shapes) {
    const { hours = '0', minutes = '0' } = shape.exec(typed)?.groups ?? {};
    if (shape.test(typed)) return roundHalfUp(Number(hours.replace(',', '.')) * 60 + Number(minutes));
  }
  return null;
}

/**
 * Minutes for their box, as `minutesFromText` reads them back.
 *
 * @param minutes at least 0
 * @throws {RangeError} when negative or not finite
 * @example minutesForInput(185) // => '3 h 05'
 * @example minutesForInput(45) // => '45 min'
 */
export function minutesForInput(minutes: number): string {
  return formatMinutes(minutes).replaceAll('\u00a0', ' ').replaceAll(',', '');
}
