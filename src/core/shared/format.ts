import { type Day, isDay, weekdayOf } from '#core/shared/calendar.ts';
import type { Unit } from '#core/shared/figure.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

// One number, one formatter: building an Intl object for each cell costs more than the page.
const locale = 'en-GB';
const decimals = [0, 1, 2, 3].map(
  (digits) => new Intl.NumberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits }),
);
const moneyByCurrency = new Map<string, { format: Intl.NumberFormat; minorPerMajor: number }>();

const weekdays = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

// A number and its unit stay on one line.
const gap = '\u00a0';

function requireFinite(where: string, value: number): void {
  if (!Number.isFinite(value)) throw new RangeError(`${where}: value must be finite, got ${value}`);
}

function formatDecimals(where: string, value: number, digits: 0 | 1 | 2 | 3): string {
  requireFinite(where, value);
  const scale = 10 ** digits;
  return decimals[digits]!.format(roundHalfUp(value * scale) / scale).replace('-', '\u2212');
}

function moneyFormat(currency: string): { format: Intl.NumberFormat; minorPerMajor: number } {
  let money = moneyByCurrency.get(currency);
  if (!money) {
    const format = new Intl.NumberFormat(locale, { style: 'currency', currency, currencyDisplay: 'narrowSymbol' });
    money = { format, minorPerMajor: 10 ** (format.resolvedOptions().maximumFractionDigits ?? 2) };
    moneyByCurrency.set(currency, money);
  }
  return money;
}

/**
 * An amount of money in words of its currency.
 *
 * @param cents minor units, rounded half up to whole ones; negative allowed
 * @param currency ISO 4217 code, like `EUR`; it decides how many minor units make one
 * @throws {RangeError} when the amount is not finite or the code is not three letters
 * @example formatCents(123456, 'EUR') // => '€1,234.56'
 * @example formatCents(-50, 'GBP') // => '−£0.50'
 * @example formatCents(500, 'JPY') // => '¥500'
 */
export function formatCents(cents: number, currency: string): string {
  requireFinite('formatCents', cents);
  const { format, minorPerMajor } = moneyFormat(currency);
  return format.format(roundHalfUp(cents) / minorPerMajor).replace('-', '\u2212');
}

/**
 * The sign of a currency, to stand before or after a box where an amount is typed.
 *
 * @param currency ISO 4217 code
 * @example currencySign('GBP') // => '£'
 */
export function currencySign(currency: string): string {
  const sign = moneyFormat(currency)
    .format.formatToParts(0)
    .find((part) => part.type === 'currency');
  return sign?.value ?? currency;
}

const parts = ['', 'tenth', 'hundredth', 'thousandth'];
const coins: Readonly<Record<string, string>> = {
  EUR: 'cent',
  USD: 'cent',
  CAD: 'cent',
  AUD: 'cent',
  NZD: 'cent',
  GBP: 'penny',
};

/**
 * What an amount of a currency is rounded to, in a word: its smallest part.
 *
 * @param currency ISO 4217 code
 * @example smallestPart('EUR') // => 'cent'
 * @example smallestPart('JPY') // => 'yen'
 * @example smallestPart('SEK') // => 'hundredth of a krona'
 * @example smallestPart('KWD') // => 'thousandth of a dinar'
 */
export function smallestPart(currency: string): string {
  const coin = coins[currency];
  if (coin !== undefined) return coin;
  // With no decimals the name is that of one.
  const named = new Intl.NumberFormat(locale, {
    style: 'currency',
    currency,
    currencyDisplay: 'name',
    maximumFractionDigits: 0,
  });
  const name = named.formatToParts(1).find((part) => part.type === 'currency')?.value ?? currency;
  // "Swedish krona": which of them is seen at every amount. A code without a name stays whole.
  const unit = name.split(' ').at(-1)!;
  const part = parts[Math.round(Math.log10(moneyFormat(currency).minorPerMajor))];
  return part ? `${part} of a ${unit}` : unit;
}

/**
 * An amount as it is typed into a box: no sign, no grouping, a point.
 *
 * @param cents whole minor units
 * @param currency ISO 4217 code
 * @example formatCentsForInput(123450, 'EUR') // => '1234.50'
 * @example formatCentsForInput(500, 'JPY') // => '500'
 */
export function formatCentsForInput(cents: number, currency: string): string {
  requireFinite('formatCentsForInput', cents);
  const { minorPerMajor } = moneyFormat(currency);
  return (roundHalfUp(cents) / minorPerMajor).toFixed(Math.round(Math.log10(minorPerMajor)));
}

/**
 * A whole number with its thousands set apart.
 *
 * @param count any finite number, rounded half up
 * @example formatCount(2864) // => '2,864'
 * @example formatCount(0) // => '0'
 */
export function formatCount(count: number): string {
  return formatDecimals('formatCount', count, 0);
}

/**
 * A number and the right word for it.
 *
 * @param count how many; 1 takes the first word, everything else the second
 * @example countOf(1, 'pair', 'pairs') // => '1 pair'
 * @example countOf(3, 'pair', 'pairs') // => '3 pairs'
 * @example countOf(0, 'pair', 'pairs') // => '0 pairs'
 */
export function countOf(count: number, one: string, many: string): string {
  return `${formatCount(count)} ${count === 1 ? one : many}`;
}

/**
 * A number with as many decimals as asked for and no zeros at its end; what a box shows when a value is edited.
 *
 * @param value any finite number
 * @param digits most decimals, 0 to 3
 * @example formatNumber(12.5, 2) // => '12.5'
 * @example formatNumber(1200, 2) // => '1,200'
 */
export function formatNumber(value: number, digits: 0 | 1 | 2 | 3): string {
  const text = formatDecimals('formatNumber', value, digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/**
 * Grams: whole, with one decimal below 10 g, where it matters.
 *
 * @param massG grams
 * @example formatGrams(1310.4) // => '1,310\u00a0g'
 * @example formatGrams(4.25) // => '4.3\u00a0g'
 * @example formatGrams(0) // => '0\u00a0g'
 */
export function formatGrams(massG: number): string {
  return withUnit('formatGrams', massG, 'g');
}

/**
 * Metres: whole, with one decimal below 10 m.
 *
 * @param lengthM metres
 * @example formatMetres(98.6) // => '99\u00a0m'
 * @example formatMetres(9.6) // => '9.6\u00a0m'
 */
export function formatMetres(lengthM: number): string {
  return withUnit('formatMetres', lengthM, 'm');
}

// One decimal below 10 and none from there; 9.96 is already 10.
function withUnit(where: string, value: number, unit: string): string {
  const isWhole = Number.isInteger(value) || Math.abs(value) >= 9.95;
  return `${formatDecimals(where, value, isWhole ? 0 : 1)}${gap}${unit}`;
}

/**
 * Millimetres as the centimetres on a tape, to one decimal.
 *
 * @param lengthMm millimetres
 * @example formatMmAsCm(228) // => '22.8\u00a0cm'
 * @example formatMmAsCm(200) // => '20.0\u00a0cm'
 */
export function formatMmAsCm(lengthMm: number): string {
  return `${formatDecimals('formatMmAsCm', lengthMm / 10, 1)}${gap}cm`;
}

/**
 * Minutes as hours and minutes, whole minutes, half up.
 *
 * @param minutes at least 0
 * @throws {RangeError} when negative or not finite
 * @example formatMinutes(185) // => '3\u00a0h\u00a005'
 * @example formatMinutes(45) // => '45\u00a0min'
 * @example formatMinutes(59.6) // => '1\u00a0h\u00a000'
 */
export function formatMinutes(minutes: number): string {
  requireFinite('formatMinutes', minutes);
  if (minutes < 0) throw new RangeError(`formatMinutes: minutes must be at least 0, got ${minutes}`);
  const whole = roundHalfUp(minutes);
  if (whole < 60) return `${whole}${gap}min`;
  return `${formatCount(Math.floor(whole / 60))}${gap}h${gap}${String(whole % 60).padStart(2, '0')}`;
}

/**
 * A day as it stands in a diary.
 *
 * @param day a day
 * @throws {RangeError} when it is not a day
 * @example formatDay('2026-12-04') // => 'Fri 4 Dec 2026'
 */
export function formatDay(day: Day): string {
  return `${withoutYear(day)} ${day.slice(0, 4)}`;
}

/**
 * A day for a table: its year stands there only where it is not the present one.
 *
 * @param day a day
 * @param today the present day
 * @throws {RangeError} when `day` is not a day
 * @example formatDayShort('2026-09-01', '2026-11-25') // => 'Tue 1 Sep'
 * @example formatDayShort('2027-01-05', '2026-11-25') // => 'Tue 5 Jan 2027'
 */
export function formatDayShort(day: Day, today: Day): string {
  return day.slice(0, 4) === today.slice(0, 4) ? withoutYear(day) : formatDay(day);
}

function withoutYear(day: Day): string {
  if (!isDay(day)) throw new RangeError(`formatDay: day must be YYYY-MM-DD, got ${day}`);
  return `${weekdays[weekdayOf(day) - 1]} ${Number(day.slice(8))} ${months[Number(day.slice(5, 7)) - 1]}`;
}

/**
 * How far a value may lie to either side, to stand small beside it: rounded up, so that nothing is said too surely.
 *
 * @param spread one standard deviation or what else is said beside it; its sign is dropped; one decimal below 2
 * @example formatRange(8.2) // => '±9'
 * @example formatRange(0.42) // => '±0.5'
 */
export function formatRange(spread: number): string {
  const size = Math.abs(spread);
  const digits = size < 2 && !Number.isInteger(size) ? 1 : 0;
  return `±${formatDecimals('formatRange', Math.ceil(size * 10 ** digits - 1e-9) / 10 ** digits, digits)}`;
}

/**
 * A share as a percentage, one decimal where it has one.
 *
 * @param ratio 0.25 for a quarter
 * @example formatPercent(0.25) // => '25%'
 * @example formatPercent(0.125) // => '12.5%'
 */
export function formatPercent(ratio: number): string {
  return `${formatNumber(ratio * 100, 1)}%`;
}

const unitWords: Partial<Record<Unit, { one: string; many: string; digits: 0 | 1 | 2 | 3 }>> = {
  cm: { one: 'cm', many: 'cm', digits: 2 },
  tex: { one: 'tex', many: 'tex', digits: 1 },
  h: { one: 'h', many: 'h', digits: 2 },
  stitches: { one: 'stitch', many: 'stitches', digits: 1 },
  rows: { one: 'row', many: 'rows', digits: 1 },
  loops: { one: 'stitch', many: 'stitches', digits: 0 },
  'per 10 cm': { one: 'in 10 cm', many: 'in 10 cm', digits: 1 },
  'per min': { one: 'a minute', many: 'a minute', digits: 1 },
  days: { one: 'day', many: 'days', digits: 1 },
  'per cm2': { one: 'in a square centimetre', many: 'in a square centimetre', digits: 2 },
};

/**
 * Any figure of a working, with as many digits as its unit is worth.
 *
 * @param value the value, in the unit
 * @param unit its unit
 * @param currency ISO 4217 code, for the units of money
 * @throws {RangeError} when the value is not finite
 * @example formatFigure(228, 'mm', 'EUR') // => '22.8\u00a0cm'
 * @example formatFigure(28, 'stitches', 'EUR') // => '28 stitches'
 * @example formatFigure(1, 'rows', 'EUR') // => '1 row'
 * @example formatFigure(1.3, 'ratio', 'EUR') // => '1.3'
 * @example formatFigure(780, 'cents per h', 'GBP') // => '£7.80 an hour'
 */
export function formatFigure(value: number, unit: Unit, currency: string): string {
  switch (unit) {
    case 'mm':
      return formatMmAsCm(value);
    case 'm':
      return formatMetres(value);
    case 'g':
      return formatGrams(value);
    case 'min':
      return value < 0 ? `\u2212${formatMinutes(-value)}` : formatMinutes(value);
    case 'percent':
      return `${formatNumber(value, 1)}%`;
    case 'cents':
      return formatCents(value, currency);
    case 'cents per h':
      return `${formatCents(value, currency)} an hour`;
    // Yarn costs a few cents a gram: by the 100 g it keeps its digits.
    case 'cents per g':
      return `${formatCents(value * 100, currency)} for 100${gap}g`;
    case 'ratio':
      return formatNumber(value, 3);
    case 'count':
    case 'size':
      return formatNumber(value, 2);
    default: {
      const words = unitWords[unit];
      if (!words) return formatNumber(value, 3);
      return `${formatNumber(value, words.digits)} ${value === 1 ? words.one : words.many}`;
    }
  }
}
