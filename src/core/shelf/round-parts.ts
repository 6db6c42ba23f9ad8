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
export function roundParts(parts: readonly number[]): readonly number[] {
  const floors = parts.map((part) => {
    if (!Number.isFinite(part)) throw new RangeError(`roundParts: parts must be finite, got ${part}`);
    return Math.floor(part + 1e-9) + 0;
  });
  const total = roundHalfUp(parts.reduce((sum, part) => sum + part, 0));
  const missing = total - floors.reduce((sum, floor) => sum + floor, 0);
  const largest = parts
    .map((part, index) => ({ index, rest: part - floors[index]! }))
    .sort((a, b) => b.rest - a.rest || a.index - b.index)
    .slice(0, missing)
    .map(({ index }) => index);
  return floors.map((floor, index) => (largest.includes(index) ? floor + 1 : floor));
}
