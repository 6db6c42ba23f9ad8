import { requireRange } from '#core/shared/check.ts';

/** So many times off, a price looks like a slip of the key. Our own choice: bargains and dear wishes stay well within. */
const farOff = 10;

/**
 * Whether an agreed price looks mistyped: a tenth of what the pair costs or less, or ten times the usual price or more.
 *
 * @param agreedCents what was agreed for a pair, 0 or more; 0 is a gift and never odd
 * @param costCents what the pair costs, 0 or more
 * @param usualCents what it is sold for where it goes; null where no price can be made
 * @returns null for a price that is not odd
 * @throws {RangeError} when an amount is below 0
 * @example oddPrice(200, 6200, 8900) // => 'far below cost'
 * @example oddPrice(123_450, 6200, 8900) // => 'far above usual'
 * @example oddPrice(4000, 6200, 8900) // => null
 */
export function oddPrice(
  agreedCents: number,
  costCents: number,
  usualCents: number | null,
): 'far below cost' | 'far above usual' | null {
  requireRange('oddPrice: agreedCents', agreedCents, 0);
  requireRange('oddPrice: costCents', costCents, 0);
  if (agreedCents === 0) return null;
  if (agreedCents * farOff <= costCents) return 'far below cost';
  return usualCents !== null && usualCents > 0 && agreedCents >= usualCents * farOff ? 'far above usual' : null;
}
