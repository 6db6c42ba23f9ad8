import { shareHalfUp, shareWithin } from '#core/pricing/share.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';
import { splitCents, sumCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

export type TaxRounding = 'line' | 'invoice';
export type TaxOfLines = { readonly totalCents: number; readonly byLineCents: readonly number[] };

/**
 * The share of a price that is the tax contained in it: rate / (1 + rate).
 *
 * @param taxRatio rate on the price without tax, at least 0
 * Source: HMRC, VAT-inclusive and VAT-exclusive prices
 * @example vatFraction(0.2) // => 0.1666666667, one sixth
 * @example vatFraction(0) // => 0
 */
export function vatFraction(taxRatio: number): number {
  requireRange('vatFraction: taxRatio', taxRatio, 0);
  return taxRatio / (1 + taxRatio);
}

/**
 * The tax contained in an amount paid, whole minor units, half up.
 *
 * @throws {RangeError} when the amount is not whole or the rate is not from 0 to 10
 * @example taxIncludedIn(8000, 0.05) // => 381
 */
export function taxIncludedIn(paidCents: number, taxRatio: number): number {
  return shareWithin(paidCents, taxRatio);
}

/**
 * The tax to add to an amount without tax, whole minor units, half up.
 *
 * @throws {RangeError} when the amount is not whole or the rate is not from 0 to 10
 * @example taxAddedTo(10000, 0.2) // => 2000
 */
export function taxAddedTo(netCents: number, taxRatio: number): number {
  return shareHalfUp(netCents, taxRatio);
}

/**
 * The tax of an invoice and of each of its lines; the lines add up to the total either way.
 * By line: each line is rounded and the total is their sum. By invoice: the total is rounded once and shared out.
 *
 * @param amountsCents a line each, whole minor units from 0, as shown (with or without tax)
 * @param taxRatio rate on the amount without tax, 0 to 10
 * @param isTaxIncluded whether the amounts contain the tax
 * @param rounding `line` or `invoice`; which one is allowed is a matter of the country
 * @throws {RangeError} when an amount is not whole or negative, or the rate is out of range
 * Source: HMRC internal manual VATREC12010 to 12030 (rounding level is the trader's choice)
 * @example taxOfLines([999, 999, 999], 0.2, true, 'line') // => { totalCents: 501, byLineCents: [167, 167, 167] }
 * @example taxOfLines([999, 999, 999], 0.2, true, 'invoice') // => { totalCents: 500, byLineCents: [167, 167, 166] }
 * @example taxOfLines([], 0.2, true, 'line') // => { totalCents: 0, byLineCents: [] }
 */
export function taxOfLines(
  amountsCents: readonly number[],
  taxRatio: number,
  isTaxIncluded: boolean,
  rounding: TaxRounding,
): TaxOfLines {
  for (const amount of amountsCents) requireWhole('taxOfLines: amountsCents', amount);
  const taxOf = isTaxIncluded ? shareWithin : shareHalfUp;
  const byLineCents = amountsCents.map((amount) => taxOf(amount, taxRatio));
  if (rounding === 'line' || amountsCents.length === 0) return { totalCents: sumCents(byLineCents), byLineCents };
  const totalCents = taxOf(sumCents(amountsCents), taxRatio);
  return { totalCents, byLineCents: splitCents(totalCents, amountsCents) };
}

/**
 * A total paid in cash where the smallest coins are gone: the nearest step, halves up; a card pays the exact total.
 *
 * @param totalCents whole minor units, tax already in it
 * @param stepCents smallest coin, a whole number from 1
 * @throws {RangeError} when an argument is not whole
 * Source: Government of Canada, Budget 2012: endings 1, 2, 6, 7 down and 3, 4, 8, 9 up
 * @example roundCash(492) // => 490
 * @example roundCash(493) // => 495
 */
export function roundCash(totalCents: number, stepCents = 5): number {
  requireWhole('roundCash: totalCents', totalCents, Number.MIN_SAFE_INTEGER);
  requireWhole('roundCash: stepCents', stepCents, 1);
  return roundHalfUp(totalCents / stepCents) * stepCents;
}
