import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';
import { formatLength, type UnitSystem } from '#core/shared/measures.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

/** Foot length of children by completed years, girls and boys together. */
export type ChildLength = {
  readonly years: number;
  readonly meanMm: number;
  readonly sdMm: number;
  /** Half of the children lie between these. */
  readonly lowerQuarterMm: number;
  readonly upperQuarterMm: number;
  /** Children measured. */
  readonly count: number;
};

const source =
  'Snyder and others, Anthropometry of Infants, Children, and Youths to Age 18, UM-HSRI-77-17, 1977; girls and boys together';

export const childLengths: readonly ChildLength[] = [
  { years: 2, meanMm: 142.9, sdMm: 10.3, lowerQuarterMm: 136, upperQuarterMm: 150, count: 109 },
  { years: 3, meanMm: 155.5, sdMm: 9.4, lowerQuarterMm: 149.5, upperQuarterMm: 161, count: 219 },
  { years: 4, meanMm: 166.6, sdMm: 9.8, lowerQuarterMm: 160, upperQuarterMm: 172, count: 250 },
  { years: 5, meanMm: 174.4, sdMm: 10.3, lowerQuarterMm: 168, upperQuarterMm: 180, count: 235 },
  { years: 6, meanMm: 184.5, sdMm: 11.4, lowerQuarterMm: 177, upperQuarterMm: 190.5, count: 215 },
  { years: 7, meanMm: 193.2, sdMm: 10.9, lowerQuarterMm: 186.2, upperQuarterMm: 200.8, count: 218 },
  { years: 8, meanMm: 203.2, sdMm: 11.9, lowerQuarterMm: 195, upperQuarterMm: 211, count: 209 },
  { years: 9, meanMm: 212.4, sdMm: 12.4, lowerQuarterMm: 203, upperQuarterMm: 221, count: 268 },
  { years: 10, meanMm: 220.9, sdMm: 13.2, lowerQuarterMm: 213, upperQuarterMm: 231, count: 257 },
  { years: 11, meanMm: 227.9, sdMm: 13.1, lowerQuarterMm: 218, upperQuarterMm: 236, count: 284 },
  { years: 12, meanMm: 236.7, sdMm: 13.5, lowerQuarterMm: 228, upperQuarterMm: 245, count: 309 },
];

const ageRule = rule(
  { name: 'foot length', unit: 'mm', mark: 'published', source, words: 'mean of children of {age} completed years' },
  (years: number) => childLengths.find((entry) => entry.years === Math.floor(years))?.meanMm ?? Number.NaN,
);

/**
 * The mean foot length of children of an age, when no size is known; one child in three is off by more than the spread.
 *
 * @param years age in years, 2 up to but not including 13; a part of a year is left out
 * @param path field that a problem belongs to
 * @returns a figure in mm whose `sd` is the spread between children; or the problem in a sentence
 * Source: Snyder and others, UM-HSRI-77-17, 1977 (US children; those of today may be slightly larger)
 * @example footLengthFromAge(5).value.value // => 174.4
 * @example footLengthFromAge(5.9).value.sd // => 10.3
 * @example footLengthFromAge(1).ok // => false
 * @example footLengthFromAge(13).ok // => false
 */
export function footLengthFromAge(years: number, path = 'age'): Result<Figure> {
  const entry = childLengths.find((each) => each.years === Math.floor(years));
  if (!entry) {
    const message = 'Enter an age from 2 to 12 years, like 5. For anyone else, enter the foot length or the shoe size.';
    return refuse({ code: 'ageOutOfRange', path, message });
  }
  return succeed(withSd(work(ageRule, given('age', years, 'count', 'yours', 'on the order')), entry.sdMm));
}

const agePattern = /^(?:child\b)?\s*(?:of\b)?\s*(?:aged?\b)?\s*([\d.,½/ ]+?)\s*(?:years?|yrs?)?(?:\s*old)?$/i;
const ageWords = /\baged?\b|\b(?:years?|yrs?)\b/i;

/**
 * Whether a size was written as an age, well or badly.
 *
 * @example isAgeText('age 5') // => true
 * @example isAgeText('child of 5 years') // => true
 * @example isAgeText('38') // => false
 */
export function isAgeText(text: string): boolean {
  return ageWords.test(text);
}

/**
 * An age as somebody wrote it, in completed years; a part of a year would change nothing, so it is refused rather than
 * left out unsaid.
 *
 * @param text like `5`, `age 5`, `5 years`
 * @param path field that a problem belongs to
 * @returns whole years from 2 to 12, or the problem in a sentence
 * @example ageFromText('age 5').value // => 5
 * @example ageFromText('5,5 years').problems[0].message // => 'Feet are known by completed years: enter 5. You typed “5,5 years”.'
 * @example ageFromText('five').ok // => false
 * @example ageFromText('13').ok // => false
 */
export function ageFromText(text: string, path = 'age'): Result<number> {
  const found = agePattern.exec(text.trim());
  const years = parseSizeNumber(found?.[1] ?? '');
  const length = footLengthFromAge(years ?? Number.NaN, path);
  const seen = text.trim() === '' ? '' : ` You typed “${text.trim().slice(0, 30)}”.`;
  if (length.ok && Number.isInteger(years)) return succeed(years!);
  if (length.ok) {
    const message = `Feet are known by completed years: enter ${Math.floor(years!)}.${seen}`;
    return refuse({ code: 'agePart', path, message });
  }
  return refuse(...length.problems.map((problem) => ({ ...problem, message: `${problem.message}${seen}` })));
}

/**
 * How far feet of an age lie apart, in a sentence.
 *
 * @param years completed years, 2 to 12
 * @throws {RangeError} when the table has no such age
 * @example ageSpreadWords(5) // => 'Half of the children of 5 years have feet between 16.8\u00a0cm and 18.0\u00a0cm, and a quarter longer ones: measure if you can.'
 */
export function ageSpreadWords(years: number, system: UnitSystem = 'metric'): string {
  const entry = childLengths.find((each) => each.years === Math.floor(years));
  if (!entry) throw new RangeError(`ageSpreadWords: years must be from 2 to 12, got ${years}`);
  const [from, to] = [formatLength(entry.lowerQuarterMm, system), formatLength(entry.upperQuarterMm, system)];
  return `Half of the children of ${entry.years} years have feet between ${from} and ${to}, and a quarter longer ones: measure if you can.`;
}
