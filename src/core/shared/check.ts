/**
 * Throws unless a number lies in its range; the guard at the door of core functions, so that no NaN ever leaves them.
 *
 * @param where function name and argument name, like `'castOnStitches: widthMm'`
 * @param value the number to check
 * @param least smallest value allowed; `above` true leaves the end itself out
 * @param most largest value allowed, included
 * @throws {RangeError} when the value is not finite or outside the range
 * @example requireRange('f: a', 3, 0) // => 3
 */
export function requireRange(
  where: string,
  value: number,
  least: number,
  most = Number.MAX_VALUE,
  above = false,
): number {
  if (!Number.isFinite(value) || value < least || value > most || (above && value === least)) {
    const lower = above ? `above ${least}` : `at least ${least}`;
    const upper = most === Number.MAX_VALUE ? '' : ` and at most ${most}`;
    throw new RangeError(`${where} must be ${lower}${upper}, got ${value}`);
  }
  return value;
}

/**
 * Throws unless a number is above 0 and finite.
 *
 * @example requireAbove0('f: a', 0.5) // => 0.5
 */
export function requireAbove0(where: string, value: number): number {
  return requireRange(where, value, 0, Number.MAX_VALUE, true);
}

/**
 * Throws unless a number is whole and at least `least`.
 *
 * @example requireWhole('f: n', 2) // => 2
 */
export function requireWhole(where: string, value: number, least = 0): number {
  if (!Number.isSafeInteger(value) || value < least) {
    throw new RangeError(`${where} must be a whole number from ${least}, got ${value}`);
  }
  return value;
}
