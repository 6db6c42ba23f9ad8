import type { Problem } from '#core/shared/problem.ts';
import { childLengths } from '#core/sizing/ages.ts';
import type { Person } from '#core/sizing/foot.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

/** What a number that is no shoe size was most likely meant as. */
export type SizeSlip = 'foot in cm' | 'age';

// Grown-up feet of the survey of 6 068 are 19.8 to 32.3 cm long, and EU sizes begin at 33; a baby's foot is some 6 cm,
// a child's EU sizes begin at 16. Our own choice of where a slip is likely.
const grownCm = { from: 17, below: 33 };
const childCm = { from: 6, below: 16 };

/**
 * What somebody most likely meant who typed a number that is no size of the person: the foot in centimetres, or a
 * child's age. To be asked only once the number was refused as a size.
 *
 * @param text as typed
 * @param person whose foot
 * @returns null where nothing is likely
 * @example slipOf('24.5', 'woman') // => 'foot in cm'
 * @example slipOf('5', 'child') // => 'age'
 * @example slipOf('14,5', 'child') // => 'foot in cm'
 * @example slipOf('5', 'woman') // => null
 * @example slipOf('380', 'woman') // => null
 */
export function slipOf(text: string, person: Person): SizeSlip | null {
  const value = parseSizeNumber(text);
  if (value === null) return null;
  if (person === 'child' && childLengths.some(({ years }) => years === value)) return 'age';
  const { from, below } = person === 'child' ? childCm : grownCm;
  return value >= from && value < below ? 'foot in cm' : null;
}

/**
 * The same problems, each with one more sentence.
 *
 * @example withHint([{ code: 'c', path: 'p', message: 'No.' }], 'Try 5.') // => [{ code: 'c', path: 'p', message: 'No. Try 5.' }]
 */
export function withHint(problems: readonly Problem[], hint: string): Problem[] {
  return problems.map((problem) => ({ ...problem, message: `${problem.message} ${hint}` }));
}
