/**
 * The nearest whole number, ties going up (toward plus infinity), the one rounding rule of the project.
 * A hair of 1e-9 is added first, so that 2.5 reached as 2.4999999999 by binary arithmetic still goes up.
 *
 * @param value any finite number
 * @returns a whole number, never -0
 * @throws {RangeError} when the value is not finite
 * @example roundHalfUp(2.5) // => 3
 * @example roundHalfUp(-2.5) // => -2
 * @example roundHalfUp(166.5) // => 167
 */
export function roundHalfUp(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`roundHalfUp: value must be finite, got ${value}`);
  return Math.floor(value + 0.5 + 1e-9) + 0;
}

/**
 * The smallest whole number not below a value, forgiving a binary hair: 3.0000000001 is 3, not 4.
 *
 * @example ceilWhole(3.0000000001) // => 3
 * @example ceilWhole(3.01) // => 4
 */
export function ceilWhole(value: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`ceilWhole: value must be finite, got ${value}`);
  return Math.ceil(value - 1e-9) + 0;
}
