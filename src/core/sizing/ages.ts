import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';

/** Foot length of children by completed years, girls and boys together. */
export type ChildLength = {
  readonly years: number;
  readonly meanMm: number;
  readonly sdMm: number;
  /** Children measured. */
  readonly count: number;
};

const source =
  'Snyder and others, Anthropometry of Infants, Children, and Youths to Age 18, UM-HSRI-77-17, 1977; girls and boys together';

export const childLengths: readonly ChildLength[] = [
  { years: 2, meanMm: 142.9, sdMm: 10.3, count: 109 },
  { years: 3, meanMm: 155.5, sdMm: 9.4, count: 219 },
  { years: 4, meanMm: 166.6, sdMm: 9.8, count: 250 },
  { years: 5, meanMm: 174.4, sdMm: 10.3, count: 235 },
  { years: 6, meanMm: 184.5, sdMm: 11.4, count: 215 },
  { years: 7, meanMm: 193.2, sdMm: 10.9, count: 218 },
  { years: 8, meanMm: 203.2, sdMm: 11.9, count: 209 },
  { years: 9, meanMm: 212.4, sdMm: 12.4, count: 268 },
  { years: 10, meanMm: 220.9, sdMm: 13.2, count: 257 },
  { years: 11, meanMm: 227.9, sdMm: 13.1, count: 284 },
  { years: 12, meanMm: 236.7, sdMm: 13.5, count: 309 },
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
  return succeed(withSd(work(ageRule, given('age', years, 'count', 'yours')), entry.sdMm));
}
