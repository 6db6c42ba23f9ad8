import { requireRange, requireWhole } from '#core/shared/check.ts';

/**
 * The margin on the price that a markup on the cost comes to: m / (1 + m).
 *
 * @param markupRatio at least 0
 * @throws {RangeError} when it is negative or not finite
 * @example marginOfMarkup(1) // => 0.5
 */
export function marginOfMarkup(markupRatio: number): number {
  requireRange('marginOfMarkup: markupRatio', markupRatio, 0);
  return markupRatio / (1 + markupRatio);
}

/**
 * The markup on the cost that a margin on the price comes to: g / (1 - g).
 *
 * @param marginRatio at least 0, below 1
 * @throws {RangeError} when it is out of range: no price has a margin of all of itself
 * @example markupOfMargin(0.5) // => 1
 */
export function markupOfMargin(marginRatio: number): number {
  requireRange('markupOfMargin: marginRatio', marginRatio, 0);
  if (marginRatio >= 1) throw new RangeError(`markupOfMargin: marginRatio must be below 1, got ${marginRatio}`);
  return marginRatio / (1 - marginRatio);
}

/**
 * The shop price of the trade's rule of thumb: twice the wholesale price.
 *
 * @param wholesaleCents whole minor units from 0
 * @throws {RangeError} when it is negative or not whole
 * Source: keystone pricing, Monash University Marketing Dictionary
 * @example keystone(1850) // => 3700
 */
export function keystone(wholesaleCents: number): number {
  return 2 * requireWhole('keystone: wholesaleCents', wholesaleCents);
}
