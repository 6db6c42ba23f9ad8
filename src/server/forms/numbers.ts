import { formatCentsForInput } from '#core/shared/format.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

const plainDecimal = /^[-\u2212]?\d{1,15}([.,]\d{1,9})?$|^[-\u2212]?[.,]\d{1,9}$/;

/**
 * A number as people type it: a decimal point or comma, blanks around, nothing else. No exponents, no grouping, so that
 * `1,200` is 1.2 and never a thousand.
 *
 * @returns null when it is not a number
 */
export function numberFrom(text: string): number | null {
  const trimmed = text.trim();
  if (!plainDecimal.test(trimmed)) return null;
  const value = Number(trimmed.replace('\u2212', '-').replace(',', '.'));
  return Number.isFinite(value) ? value + 0 : null;
}

// Thousands are set apart by one and the same sign, and a fraction by the other one.
const moneyShapes = [
  /^(?<sign>-?)(?<whole>\d{1,12})(?:[.,](?<fraction>\d{1,3}))?$/,
  /^(?<sign>-?)(?<whole>[1-9]\d{0,2}(?<mark>[., '\u00a0\u202f’])\d{3}(?:\k<mark>\d{3})*)(?:(?!\k<mark>)[.,](?<fraction>\d{1,3}))?$/,
];
const twoWays = /^-?([1-9]\d{0,2})([.,])(\d{3})$/;

/** An amount without the sign of its currency, which may stand before or after it. */
function bareAmount(text: string): string {
  return text
    .trim()
    .replace('\u2212', '-')
    .replace(/^(-?)[^\d-.,]{1,4}/, '$1')
    .replace(/[^\d.,]{1,4}$/, '')
    .replace(/^(-?)[.,]/, '$10.');
}

/**
 * The two ways to write plainly what can be read in two: `13.005` may be thirteen thousand and five, or thirteen and a
 * fraction. The currency decides where it can: without minor units there are only thousands, and with three a point
 * begins the fraction, as in a box.
 *
 * @returns null when the text can be read in one way alone, or in none
 */
export function twoReadings(text: string, currency: string): readonly [string, string] | null {
  const digits = minorDigits(currency);
  const [, whole, sign, rest] = twoWays.exec(bareAmount(text)) ?? [];
  if (whole === undefined || digits === 0 || (digits === 3 && sign === '.')) return null;
  return [`${whole}${rest}`, formatCentsForInput(Number(`${whole}.${rest}`) * 10 ** digits, currency)];
}

/** Asks which of the two was meant. */
export function twoReadingsWords(text: string, [one, other]: readonly [string, string]): string {
  return `“${text.trim()}” can be read in two ways. Write ${one} or ${other}.`;
}

/**
 * An amount of money in whole minor units. A sign of the currency around it is passed over; both `4.80` and `4,80` are
 * understood, and `1,234.50` or `1.234,50` too.
 *
 * @param currency ISO 4217 code: it says how many decimals there are
 * @returns null when it is not an amount, has more decimals than the currency, or could be read in two ways
 */
export function centsFrom(text: string, currency: string): number | null {
  const digits = minorDigits(currency);
  const amount = bareAmount(text);
  if (twoReadings(amount, currency)) return null;
  for (const shape of moneyShapes) {
    const { sign, whole = '', fraction = '' } = shape.exec(amount)?.groups ?? {};
    if (whole === '' || fraction.length > digits) continue;
    const value = Number(`${whole.replace(/\D/g, '')}.${fraction || '0'}`);
    return roundHalfUp(value * 10 ** digits) * (sign ? -1 : 1) + 0;
  }
  return null;
}

const digitWords = ['no', 'one', 'two', 'three'];

/**
 * What to say of an amount with more digits after its point than its money has; null where that is not what is wrong.
 */
export function tooManyDigitsWords(text: string, currency: string): string | null {
  const digits = minorDigits(currency);
  const fraction = /^-?[\d., '\u00a0\u202f’]*\d?[.,](\d+)$/.exec(bareAmount(text))?.[1] ?? '';
  if (fraction.length <= digits || centsFrom(text, currency) !== null || twoReadings(text, currency)) return null;
  const like = moneyForInput(digits === 0 ? 3000 : 495, currency);
  const most =
    digits === 0 ? 'Write a whole amount, with no digits' : `Write at most ${digitWords[digits] ?? digits} digits`;
  return `${most} after the point, like ${like}.`;
}

/**
 * A share typed as a percentage, with or without its sign: `30`, `12,5 %`.
 *
 * @returns the ratio, 0.3 for 30; null when it is not a number
 */
export function ratioFrom(text: string): number | null {
  const value = numberFrom(text.replace(/\s*%\s*$/, ''));
  return value === null ? null : value / 100;
}

function minorDigits(currency: string): number {
  return (formatCentsForInput(0, currency).split('.')[1] ?? '').length;
}

/** A number for its box: a point, no grouping, no zeros at its end, as `numberFrom` reads it back. */
export function numberForInput(value: number | null | undefined, digits = 3): string {
  if (value === null || value === undefined) return '';
  const scale = 10 ** digits;
  return String(roundHalfUp(value * scale) / scale);
}

/** A ratio as the percentage for its box. */
export function percentForInput(ratio: number | null | undefined): string {
  return ratio === null || ratio === undefined ? '' : numberForInput(ratio * 100, 3);
}

/** An amount for its box; empty for none. */
export function moneyForInput(cents: number | null | undefined, currency: string): string {
  return cents === null || cents === undefined ? '' : formatCentsForInput(cents, currency);
}
