import type { Figure } from '#core/shared/figure.ts';
import { formatLength, type UnitSystem } from '#core/shared/measures.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { ageFromText, footLengthFromAge, isAgeText } from '#core/sizing/ages.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthFromText } from '#core/sizing/foot-text.ts';
import { footLengthFromLabel, isTwoSizes, type SizeSystem, sizeSystems } from '#core/sizing/labels.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';
import { slipOf, withHint } from '#core/sizing/size-slips.ts';
import type { SizeChoice } from '#core/sizing/size-words.ts';

/** A size as somebody typed it: the way it was meant, and the length of the foot. */
export type TypedSize = {
  readonly choice: Extract<SizeChoice, { by: 'label' } | { by: 'foot' } | { by: 'age' }>;
  /** A child's where an age was typed, whoever was meant. */
  readonly person: Person;
  readonly length: Figure;
};

/** Up to here a bare number could be of any system; from here to `lastEu` only EU has such numbers. */
const mostOtherSystems = 15;
const lastEu = 55;
/** No grown-up's foot in the survey of 6 068 was shorter than 198 mm; below this it is a slip of the unit. Our own choice. */
const leastGrownFootMm = 170;
const withSystem = new RegExp(`^(${sizeSystems.join('|')})\\s*(.+)$`, 'i');

/**
 * A shoe size or a foot length in one field. A system may lead (`UK 5`); a unit means a measured foot (`24.5 cm`); a
 * bare number from 16 to 55 is an EU size, from 60 on millimetres; smaller ones are asked for their system. `age 5` is a
 * child's, whoever was meant.
 *
 * @param text as typed
 * @param person whose foot
 * @param usWomenOffset sizes a US woman's label is above the UK one, 2 or 2.5
 * @param path field that a problem belongs to
 * @param system what a bare length of the foot is in, and a problem's example
 * @example readSizeText('38', 'woman', 2).value.length.value // => 240
 * @example readSizeText('24,5 cm', 'man', 2).value.length.value // => 245
 * @example readSizeText('uk 5.5', 'woman', 2).value.choice.system // => 'UK'
 * @example readSizeText('age 5', 'woman', 2).value.choice // => { by: 'age', years: 5 }
 * @example readSizeText('6', 'woman', 2).ok // => false
 * @example readSizeText('M', 'woman', 2).problems[0].message // => '“M” is not understood. Enter one shoe size, like 38 or 38.5, or the length of the foot, like 24.5 cm.'
 * @example readSizeText('38/39', 'woman', 2).problems[0].message // => '“38/39” is two sizes. Enter one shoe size, like 38 or 38.5, or the length of the foot, like 24.5 cm.'
 * @example readSizeText('24.5', 'woman', 2).problems[0].message // => 'Enter an EU size between 33 and 52, like 38. You typed “24.5”. If that is the foot in centimetres, add the unit: 24.5 cm.'
 */
export function readSizeText(
  text: string,
  person: Person,
  usWomenOffset: number,
  path = 'size',
  system: UnitSystem = 'metric',
): Result<TypedSize> {
  const foot = system === 'imperial' ? '9.6 in' : '24.5 cm';
  const typed = text.trim().replace(/\s+/g, ' ');
  if (isAgeText(typed)) return readAge(typed, path);
  const named = withSystem.exec(typed);
  const value = parseSizeNumber(typed);
  const shoes = named
    ? sizeSystems.find((each) => each.toLowerCase() === named[1]!.toLowerCase())
    : value !== null && value > mostOtherSystems && value <= lastEu
      ? 'EU'
      : undefined;
  if (shoes) return readLabel(shoes, named ? named[2]! : typed, person, usWomenOffset, path);
  if (value !== null && value <= mostOtherSystems) {
    const age = slipOf(typed, person) === 'age' ? `; for a child of ${typed} years write age ${typed}` : '';
    const message = `Say which system “${typed}” is, like UK ${typed} or US ${typed}${age}; or enter the foot with its unit, like ${foot}.`;
    return refuse({ code: 'systemMissing', path, message });
  }
  if (typed === '') {
    const message = `Enter a shoe size, like 38 or UK 5, the length of the foot, like ${foot}, or a child’s age, like age 5.`;
    return refuse({ code: 'sizeMissing', path, message });
  }
  const length = footLengthFromText(typed, path, system);
  if (!length.ok && value === null) {
    const what = isTwoSizes(typed) ? `“${typed}” is two sizes.` : `“${typed}” is not understood.`;
    const message = `${what} Enter one shoe size, like 38 or 38.5, or the length of the foot, like ${foot}.`;
    return refuse({ code: 'sizeUnknown', path, message });
  }
  if (!length.ok) return length;
  const isGrown = person === 'woman' || person === 'man';
  if (isGrown && length.value.value < leastGrownFootMm) {
    const message = `That is ${formatLength(length.value.value, system)} of foot, a small child’s. Choose a child, or enter the foot with its unit, like ${foot}.`;
    return refuse({ code: 'footTooShort', path, message });
  }
  return succeed({ choice: { by: 'foot', person, lengthMm: length.value.value }, person, length: length.value });
}

function readAge(text: string, path: string): Result<TypedSize> {
  const years = ageFromText(text, path);
  if (!years.ok) return years;
  const length = footLengthFromAge(years.value, path);
  if (!length.ok) return length;
  return succeed({ choice: { by: 'age', years: years.value }, person: 'child', length: length.value });
}

function readLabel(
  system: SizeSystem,
  label: string,
  person: Person,
  usWomenOffset: number,
  path: string,
): Result<TypedSize> {
  const length = footLengthFromLabel({ person, system, label, usWomenOffset }, path);
  if (!length.ok) {
    if (slipOf(label, person) !== 'foot in cm') return length;
    return refuse(...withHint(length.problems, `If that is the foot in centimetres, add the unit: ${label} cm.`));
  }
  return succeed({ choice: { by: 'label', person, system, label }, person, length: length.value });
}
