import { roundHalfUp } from '#core/shared/rounding.ts';

/**
 * Parts as whole numbers that add up to their total, which is rounded half up: a printed account must add up by what
 * stands on the paper. Each part is rounded down, and what is missing goes to the largest fractions, ties to the first.
 *
 * @param parts any finite numbers, below 0 too
 * @returns whole numbers, same order, each less than 1 from its part; none for no parts
 * @throws {RangeError} when a part is not finite
 * Source: largest remainder method
 * @example roundParts([1.4, 1.4, 1.4]) // => [2, 1, 1], 4.2 is 4
 * @example roundParts([10.5, -0.5]) // => [11, -1], 10 in all
 * @example roundParts([]) // => []
 */
export function roundParts(parts: readonly number[]): number[] {
  const whole: number[] = [];
  let sum = 0;
  let wholeSum = 0;
  for (const part of parts) {
    if (!Number.isFinite(part)) throw new RangeError(`roundParts: parts must be finite, got ${part}`);
    const floor = Math.floor(part + 1e-9) + 0;
    whole.push(floor);
    sum += part;
    wholeSum += floor;
  }
  // A loop and no sorting, since a plan rounds the cost of thousands of pairs.
  for (let missing = roundHalfUp(sum) - wholeSum; missing > 0; missing -= 1) {
    let largest = 0;
    for (let index = 1; index < parts.length; index += 1) {
      if (parts[index]! - whole[index]! > parts[largest]! - whole[largest]!) largest = index;
    }
    whole[largest]! += 1;
  }
  return whole;
}
