import { mmInInch, type UnitSystem } from '#core/shared/measures.ts';
import type { Person } from '#core/sizing/foot.ts';
import type { SizeSystem } from '#core/sizing/label-rules.ts';

/** The way a size was given. */
export type SizeChoice =
  | { readonly by: 'label'; readonly person: Person; readonly system: SizeSystem; readonly label: string }
  | {
      readonly by: 'foot';
      readonly person: Person;
      readonly lengthMm: number;
      /** The right foot where it differs; `lengthMm` is then the left one. */
      readonly rightLengthMm?: number;
    }
  | { readonly by: 'band'; readonly person: Person; readonly name: string }
  | { readonly by: 'age'; readonly years: number };

function withPerson(person: Person, words: string): string {
  return person === 'unknown' ? words : `${person} ${words}`;
}

// Whole millimetres first, so that words kept in cm come out in inches as the foot itself would.
function tapeWords(lengthMm: number, system: UnitSystem): string {
  const wholeMm = Math.round(lengthMm);
  return system === 'metric' ? String(wholeMm / 10) : (wholeMm / mmInInch).toFixed(1);
}

function feetWords(leftMm: number, rightMm: number, system: UnitSystem): string {
  const unit = system === 'metric' ? 'cm' : 'in';
  const [left, right] = [tapeWords(leftMm, system), tapeWords(rightMm, system)];
  return left === right ? `foot ${left} ${unit}` : `feet ${left} and ${right} ${unit}`;
}

/**
 * The words for a size, as on a card, a tag or in a list. Foot lengths are shown in cm to the millimetre, or in
 * inches to a tenth.
 *
 * @param system what is kept with a pair, and in files, stays metric: `sizeWordsIn` shows it
 * @example sizeWords({ by: 'label', person: 'woman', system: 'EU', label: '38' }) // => 'woman EU 38'
 * @example sizeWords({ by: 'foot', person: 'unknown', lengthMm: 245 }) // => 'foot 24.5 cm'
 * @example sizeWords({ by: 'foot', person: 'child', lengthMm: 170 }) // => 'child foot 17 cm'
 * @example sizeWords({ by: 'foot', person: 'man', lengthMm: 274, rightLengthMm: 268 }) // => 'man feet 27.4 and 26.8 cm'
 * @example sizeWords({ by: 'foot', person: 'unknown', lengthMm: 245 }, 'imperial') // => 'foot 9.6 in'
 * @example sizeWords({ by: 'band', person: 'unknown', name: '39/40' }) // => '39/40'
 * @example sizeWords({ by: 'band', person: 'woman', name: 'M' }) // => 'woman M'
 * @example sizeWords({ by: 'age', years: 5 }) // => 'child of 5 years'
 */
export function sizeWords(size: SizeChoice, system: UnitSystem = 'metric'): string {
  switch (size.by) {
    case 'label':
      return withPerson(size.person, `${size.system} ${size.label.trim()}`);
    case 'foot':
      return withPerson(size.person, feetWords(size.lengthMm, size.rightLengthMm ?? size.lengthMm, system));
    case 'band':
      return withPerson(size.person, size.name);
    case 'age':
      return `child of ${size.years} years`;
  }
}

/**
 * Metric words for a size in the units of the workshop.
 *
 * @param words as `sizeWords` makes them, with or without a name before them
 * @example sizeWordsIn('man feet 27.4 and 26.8 cm', 'imperial') // => 'man feet 10.8 and 10.6 in'
 * @example sizeWordsIn('Ada, foot 24.5 cm', 'metric') // => 'Ada, foot 24.5 cm'
 * @example sizeWordsIn('woman EU 38', 'imperial') // => 'woman EU 38'
 */
export function sizeWordsIn(words: string, system: UnitSystem): string {
  if (system === 'metric') return words;
  return words.replace(/\b(?:foot|feet) ([\d.]+)(?: and ([\d.]+))? cm$/, (_, left: string, right?: string) =>
    feetWords(Number(left) * 10, Number(right ?? left) * 10, system),
  );
}
