import { requireRange } from '#core/shared/check.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

// Rates are entered with few digits; as whole millionths the products below are exact, and a tie is a real tie.
const million = 1_000_000;

function requireCents(where: string, cents: number): number {
  if (!Number.isSafeInteger(cents)) throw new RangeError(`${where} must be whole minor units, got ${cents}`);
  return cents;
}

/** Whole minor units of amount x numerator / denominator, halves up; exact while the products are safe integers. */
function divideHalfUp(amountCents: number, numerator: number, denominator: number): number {
  const doubled = 2 * amountCents * numerator + denominator;
  if (!Number.isSafeInteger(doubled)) return roundHalfUp((amountCents * numerator) / denominator);
  return Math.floor(doubled / (2 * denominator)) + 0;
}

/**
 * A share of an amount in whole minor units, half up.
 *
 * @param amountCents whole minor units; exact up to 10 million units of money at usual rates
 * @param ratio the share, 0 to 10, up to six digits after the point
 * @throws {RangeError} when the amount is not whole or the ratio out of range
 * @example shareHalfUp(1099, 0.0625) // => 69, 68.6875
 * @example shareHalfUp(10, 0.05) // => 1, half a cent goes up
 */
export function shareHalfUp(amountCents: number, ratio: number): number {
  requireCents('shareHalfUp: amountCents', amountCents);
  requireRange('shareHalfUp: ratio', ratio, 0, 10);
  return divideHalfUp(amountCents, Math.round(ratio * million), million);
}

/**
 * The part of an amount that is a tax contained in it, in whole minor units, half up: amount x rate / (1 + rate).
 *
 * @param paidCents amount with the tax, whole minor units
 * @param taxRatio rate on the amount without tax, 0 to 10, up to six digits after the point
 * @throws {RangeError} when the amount is not whole or the rate out of range
 * Source: the VAT fraction; HMRC, VAT-inclusive and VAT-exclusive prices; half a penny or more rounds up (VATREC12030)
 * @example shareWithin(12000, 0.2) // => 2000, one sixth
 * @example shareWithin(999, 0.2) // => 167, 166.5
 */
export function shareWithin(paidCents: number, taxRatio: number): number {
  requireCents('shareWithin: paidCents', paidCents);
  requireRange('shareWithin: taxRatio', taxRatio, 0, 10);
  const millionths = Math.round(taxRatio * million);
  return divideHalfUp(paidCents, millionths, million + millionths);
}
