import { requireRange, requireWhole } from '#core/shared/check.ts';

/**
 * Pairs to make on top, so that enough are left when a share of them spoils: started = count / (1 - share), up to the
 * next whole pair. Count x share would be too few: of 120 started, a fifth spoilt leaves 96, not 100.
 *
 * @param count pairs wanted, whole, at least 0
 * @param spareRatio share that spoils, from 0 to 0.9
 * @returns whole pairs on top of the count
 * @throws {RangeError} when an argument is outside its range
 * Source: identity, good = started x (1 - share)
 * @example sparesFor(100, 0.2) // => 25
 * @example sparesFor(3, 0.05) // => 1
 * @example sparesFor(10, 0) // => 0
 */
export function sparesFor(count: number, spareRatio: number): number {
  requireWhole('sparesFor: count', count);
  requireRange('sparesFor: spareRatio', spareRatio, 0, 0.9);
  // A hair off, so that 100 / 0.8 reached as 125.00000000000001 does not become 126.
  return Math.max(0, Math.ceil(count / (1 - spareRatio) - 1e-9) - count);
}
