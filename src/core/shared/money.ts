import { requireWhole } from '#core/shared/check.ts';

/**
 * Shares an amount over weights in whole minor units, so that the shares add up to the amount.
 * Each share is its exact part rounded down; the cents left go to the largest remainders, ties to the first.
 *
 * @param totalCents whole minor units, may be negative or 0
 * @param weights one per share, each at least 0, at least one share; all zero means equal shares
 * @returns whole minor units, one per weight, adding up to `totalCents`
 * @throws {RangeError} when the total is not whole, there are no weights, or a weight is negative or not finite
 * Source: largest-remainder apportionment (Hamilton's method), a general rule
 * @example splitCents(100, [1, 1, 1]) // => [34, 33, 33]
 * @example splitCents(1003, [50, 50]) // => [502, 501]
 * @example splitCents(5, [0, 0]) // => [3, 2]
 */
export function splitCents(totalCents: number, weights: readonly number[]): number[] {
  if (!Number.isSafeInteger(totalCents))
    throw new RangeError(`splitCents: totalCents must be whole, got ${totalCents}`);
  if (weights.length === 0) throw new RangeError('splitCents: weights must not be empty');
  if (weights.some((weight) => !Number.isFinite(weight) || weight < 0)) {
    throw new RangeError(`splitCents: weights must be at least 0, got ${weights.join(', ')}`);
  }
  const sign = totalCents < 0 ? -1 : 1;
  const amount = Math.abs(totalCents);
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const exact = weights.map((weight) => (sum === 0 ? amount / weights.length : (amount * weight) / sum));
  const shares = exact.map((share) => Math.floor(share + 1e-9));
  let left = amount - shares.reduce((total, share) => total + share, 0);
  const byRemainder = exact
    .map((share, index) => ({ index, remainder: share - shares[index]! }))
    .sort((a, b) => b.remainder - a.remainder || a.index - b.index);
  for (const { index } of byRemainder) {
    if (left <= 0) break;
    shares[index] = shares[index]! + 1;
    left -= 1;
  }
  return shares.map((share) => share * sign + 0);
}

/**
 * The sum of whole minor units.
 *
 * @example sumCents([199, 1]) // => 200
 * @example sumCents([]) // => 0
 */
export function sumCents(amounts: readonly number[]): number {
  return amounts.reduce((total, cents) => total + requireWhole('sumCents: amounts', cents, Number.MIN_SAFE_INTEGER), 0);
}
