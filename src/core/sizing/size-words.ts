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

const inCm = (lengthMm: number) => Math.round(lengthMm) / 10;

function feetWords(leftMm: number, rightMm: number): string {
  if (inCm(leftMm) === inCm(rightMm)) return `foot ${inCm(leftMm)} cm`;
  return `feet ${inCm(leftMm)} and ${inCm(rightMm)} cm`;
}

/**
 * The words for a size, as on a card, a tag or in a list. Foot lengths are shown in cm to the millimetre.
 *
 * @example sizeWords({ by: 'label', person: 'woman', system: 'EU', label: '38' }) // => 'woman EU 38'
 * @example sizeWords({ by: 'foot', person: 'unknown', lengthMm: 245 }) // => 'foot 24.5 cm'
 * @example sizeWords({ by: 'foot', person: 'child', lengthMm: 170 }) // => 'child foot 17 cm'
 * @example sizeWords({ by: 'foot', person: 'man', lengthMm: 274, rightLengthMm: 268 }) // => 'man feet 27.4 and 26.8 cm'
 * @example sizeWords({ by: 'band', person: 'unknown', name: '39/40' }) // => '39/40'
 * @example sizeWords({ by: 'band', person: 'woman', name: 'M' }) // => 'woman M'
 * @example sizeWords({ by: 'age', years: 5 }) // => 'child of 5 years'
 */
export function sizeWords(size: SizeChoice): string {
  switch (size.by) {
    case 'label':
      return withPerson(size.person, `${size.system} ${size.label.trim()}`);
    case 'foot':
      return withPerson(size.person, feetWords(size.lengthMm, size.rightLengthMm ?? size.lengthMm));
    case 'band':
      return withPerson(size.person, size.name);
    case 'age':
      return `child of ${size.years} years`;
  }
}
