import { requireRange } from '#core/shared/check.ts';

/** Feet we knit for, mm: from a new-born's to longer than any foot of the survey (323 mm). Our own choice. */
export const footLengthRangeMm = { least: 60, most: 360 } as const;

/**
 * Throws unless a foot length is one we knit for, 60 to 360 mm, both included.
 *
 * @param where function and argument, like `'footFrom: lengthMm'`
 * @param lengthMm foot length in mm
 * @throws {RangeError} when it is not finite or out of range
 * @example requireFootLength('f: lengthMm', 240) // => 240
 */
export function requireFootLength(where: string, lengthMm: number): number {
  return requireRange(where, lengthMm, footLengthRangeMm.least, footLengthRangeMm.most);
}
