import type { Figure } from '#core/shared/figure.ts';
import { type Result, refuse } from '#core/shared/problem.ts';
import { footLengthFromAge } from '#core/sizing/ages.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthFromLabel, type SizeSystem, sizeSystems } from '#core/sizing/labels.ts';
import type { SizeChoice } from '#core/sizing/size-words.ts';

/** The system that a child's age is kept under, beside those of shoe sizes: it stays an age, and its spread is said. */
export const ageSystem = 'age';

/** A size as it is kept: whose foot, a system or `age`, and the label in it. */
export type StoredSize = { readonly person: Person; readonly system: string; readonly label: string };

/**
 * The choice that a kept size was.
 *
 * @returns null when the system is none that is known, or the age is not a number
 * @example choiceOfStored({ person: 'woman', system: 'EU', label: '38' }).by // => 'label'
 * @example choiceOfStored({ person: 'child', system: 'age', label: '5' }) // => { by: 'age', years: 5 }
 * @example choiceOfStored({ person: 'child', system: 'age', label: 'big' }) // => null
 */
export function choiceOfStored(
  size: StoredSize,
): Extract<SizeChoice, { readonly by: 'label' } | { readonly by: 'age' }> | null {
  if (size.system === ageSystem) {
    const years = Number(size.label);
    return size.label.trim() !== '' && Number.isFinite(years) ? { by: 'age', years } : null;
  }
  const system = sizeSystems.find((each): each is SizeSystem => each === size.system);
  return system ? { by: 'label', person: size.person, system, label: size.label } : null;
}

/**
 * The foot length of a kept size: a shoe size's, or the mean of children of an age with its spread.
 *
 * @param usWomenOffset US women's size less UK size, 2 or 2.5
 * @param path field that a problem belongs to
 * @example footLengthOfStored({ person: 'child', system: 'age', label: '5' }, 2).value.value // => 174.4
 * @example footLengthOfStored({ person: 'woman', system: 'EU', label: '38' }, 2).value.value // => 240
 * @example footLengthOfStored({ person: 'woman', system: 'hat', label: '6' }, 2).ok // => false
 */
export function footLengthOfStored(size: StoredSize, usWomenOffset: number, path = 'label'): Result<Figure> {
  const choice = choiceOfStored(size);
  if (choice === null) {
    return refuse({ code: 'sizeUnknown', path, message: 'This size is not understood: choose one again.' });
  }
  if (choice.by === 'age') return footLengthFromAge(choice.years, path);
  const { person, system, label } = choice;
  return footLengthFromLabel({ person, system, label, usWomenOffset }, path);
}
