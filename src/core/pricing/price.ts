import { type Outlet, takenRatio } from '#core/pricing/outlet.ts';
import { shareHalfUp, shareWithin } from '#core/pricing/share.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';
import { type Figure, given, type Rule, rule, work } from '#core/shared/figure.ts';
import { formatPercent } from '#core/shared/format.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { ceilWhole, roundHalfUp } from '#core/shared/rounding.ts';

/** A price taken apart, whole minor units. */
export type PriceSplit = {
  /** On the tag. */
  readonly shownCents: number;
  /** What the buyer pays: with tax, whether it is in the shown price or added. */
  readonly paidCents: number;
  readonly taxCents: number;
  readonly feeCents: number;
  /** The price without tax. */
  readonly withoutTaxCents: number;
  /** What is left for the workshop: without tax, less the fees. */
  readonly netCents: number;
};

/** Less than this share of the price left after margin and fees counts as nothing: the price would be a thousand times the cost. */
const leastLeftRatio = 0.001;

const source = 'margin is a share of the price without tax; fees are taken from what the buyer pays';
const text = (name: string, words: string) => ({ name, unit: 'cents', mark: 'trade', source, words }) as const;

/** Price without tax at a margin: cost, fixed fee, margin, fee share, tax rate. */
const atMarginRule: Rule<[number, number, number, number, number]> = rule(
  text('price without tax', '({cost} + {fixed fee}) / (1 - {margin} - {fee share} x (1 + {tax rate}))'),
  (cost, fixedFee, margin, feeShare, taxRate) => (cost + fixedFee) / (1 - margin - feeShare * (1 + taxRate)),
);

/** Price without tax at a markup: cost, fixed fee, markup, fee share, tax rate. */
const atMarkupRule: Rule<[number, number, number, number, number]> = rule(
  text('price without tax', '({cost} + {fixed fee} + {cost} x {markup}) / (1 - {fee share} x (1 + {tax rate}))'),
  (cost, fixedFee, markup, feeShare, taxRate) => (cost * (1 + markup) + fixedFee) / (1 - feeShare * (1 + taxRate)),
);

const withTaxRule = rule(
  text('price with tax', '{price without tax} x (1 + {tax rate})'),
  (price: number, rate: number) => {
    return price * (1 + rate);
  },
);

function priceAbove(outlet: Outlet): number {
  return outlet.isTaxIncluded ? 1 + outlet.taxRatio : 1;
}

/**
 * The fees on a payment, whole minor units: the share of what is paid, half up, and the fixed amount. Nothing paid, no fee.
 *
 * @param paidCents what the buyer pays, whole minor units from 0
 * @param outlet its `feeRatio` (0 to 1), `feeFixedCents` and, on sale or return, `shopShareRatio` count
 * @throws {RangeError} when the amount is negative or not whole
 * @example feeOf(10330, { feeRatio: 0.029, feeFixedCents: 30 }) // => 330
 * @example feeOf(0, { feeRatio: 0.029, feeFixedCents: 30 }) // => 0
 */
export function feeOf(
  paidCents: number,
  outlet: Pick<Outlet, 'feeRatio' | 'feeFixedCents' | 'terms' | 'shopShareRatio'>,
): number {
  requireWhole('feeOf: paidCents', paidCents);
  return paidCents === 0 ? 0 : shareHalfUp(paidCents, takenRatio(outlet)) + roundHalfUp(outlet.feeFixedCents);
}

/**
 * A shown price taken apart: tax, fees, and what is left. Tax and fees are rounded half up; the parts add up to what is paid.
 *
 * @param shownCents the price on the tag, whole minor units from 0
 * @param outlet where it is sold
 * @throws {RangeError} when the price is negative or not whole
 * @example netOf(12000, { feeRatio: 0.02, feeFixedCents: 20, taxRatio: 0.2, isTaxIncluded: true }) // => { shownCents: 12000, paidCents: 12000, taxCents: 2000, feeCents: 260, withoutTaxCents: 10000, netCents: 9740 }
 * @example netOf(10000, { feeRatio: 0, feeFixedCents: 0, taxRatio: 0.05, isTaxIncluded: false }).paidCents // => 10500
 */
export function netOf(
  shownCents: number,
  outlet: Pick<Outlet, 'feeRatio' | 'feeFixedCents' | 'taxRatio' | 'isTaxIncluded' | 'terms' | 'shopShareRatio'>,
): PriceSplit {
  requireWhole('netOf: shownCents', shownCents);
  const taxCents = (outlet.isTaxIncluded ? shareWithin : shareHalfUp)(shownCents, outlet.taxRatio);
  const paidCents = outlet.isTaxIncluded ? shownCents : shownCents + taxCents;
  const withoutTaxCents = paidCents - taxCents;
  const feeCents = feeOf(paidCents, outlet);
  return { shownCents, paidCents, taxCents, feeCents, withoutTaxCents, netCents: withoutTaxCents - feeCents };
}

/**
 * The smallest price with the wished ending that is not below a price.
 *
 * @param priceCents minor units from 0, may be a fraction
 * @param endingCents 0 to 99, the last two digits; null for no ending
 * @returns whole minor units
 * @throws {RangeError} when the price is negative or the ending is not a whole number to 99
 * Source: our own rule, always upward so that no ending eats the margin
 * @example applyEnding(2340, 99) // => 2399
 * @example applyEnding(2340, 0) // => 2400
 * @example applyEnding(2399, 99) // => 2399
 * @example applyEnding(2399.5, 99) // => 2499
 * @example applyEnding(2340.2, null) // => 2341
 */
export function applyEnding(priceCents: number, endingCents: number | null): number {
  const price = ceilWhole(requireRange('applyEnding: priceCents', priceCents, 0));
  if (endingCents === null) return price;
  requireRange('applyEnding: endingCents', requireWhole('applyEnding: endingCents', endingCents), 0, 99);
  return price + ((((endingCents - price) % 100) + 100) % 100);
}

function nothingLeft(outlet: Outlet, marginRatio: number): Problem {
  const fees = takenRatio(outlet) * (1 + outlet.taxRatio);
  const share = marginRatio > 0 ? `a margin of ${formatPercent(marginRatio)} and fees of` : 'fees of';
  const what = marginRatio > 0 ? 'the margin or the fees' : 'the fees';
  const message = `No price is high enough at ${outlet.name}: ${share} ${formatPercent(fees)} leave nothing of it for the pair. Lower ${what}.`;
  return { code: 'priceImpossible', path: marginRatio > 0 ? 'priceRatio' : 'feeRatio', message };
}

/**
 * The smallest whole shown price from which on every price is enough. Rounding of tax and fees moves what is left by
 * at most one minor unit each, so that the search has to look only that far around the exact price.
 */
function leastShown(exactCents: number, leftRatio: number, isEnough: (shownCents: number) => boolean): number {
  let price = Math.max(0, ceilWhole(exactCents + 2 / leftRatio) + 1);
  while (price > 0 && isEnough(price - 1)) price -= 1;
  return price;
}

/**
 * The smallest shown price from which on what is left covers an amount: one minor unit less does not.
 *
 * @param amountCents whole minor units from 0: the costs to cover
 * @param outlet where it is sold; its price rule and ending do not count
 * @returns whole minor units; a problem when the fees take everything
 * @throws {RangeError} when the amount is negative or not whole
 * @example leastPriceCovering(10000, { name: 'shop', feeRatio: 0.029, feeFixedCents: 30, taxRatio: 0, isTaxIncluded: true }).value // => 10330
 * @example leastPriceCovering(0, { name: 'shop', feeRatio: 0, feeFixedCents: 0, taxRatio: 0.2, isTaxIncluded: true }).value // => 0
 */
export function leastPriceCovering(amountCents: number, outlet: Outlet): Result<number> {
  requireWhole('leastPriceCovering: amountCents', amountCents);
  const leftRatio = 1 - takenRatio(outlet) * (1 + outlet.taxRatio);
  if (leftRatio < leastLeftRatio) return refuse(nothingLeft(outlet, 0));
  if (amountCents === 0 && outlet.feeFixedCents === 0) return succeed(0);
  const exact = ((amountCents + outlet.feeFixedCents) / leftRatio) * priceAbove(outlet);
  const slope = leftRatio / priceAbove(outlet);
  return succeed(leastShown(exact, slope, (shown) => netOf(shown, outlet).netCents >= amountCents));
}

/**
 * Where the share that is taken of a price comes from, for its working.
 *
 * @example feeSource({ name: 'Corner shop', feeRatio: 0, terms: 'sale or return', shopShareRatio: 0.35 }) // => 'Corner shop, with the share that the shop keeps'
 */
export function feeSource(outlet: Pick<Outlet, 'name' | 'feeRatio' | 'terms' | 'shopShareRatio'>): string {
  return takenRatio(outlet) > outlet.feeRatio ? `${outlet.name}, with the share that the shop keeps` : outlet.name;
}

function priceBefore(cost: Figure, outlet: Outlet): Result<Figure> {
  requireRange('priceFigure: cost', cost.value, 0);
  requireRange('priceFigure: priceRatio', outlet.priceRatio, 0);
  const isMargin = outlet.priceRule === 'margin';
  const margin = isMargin ? outlet.priceRatio : 0;
  const taken = takenRatio(outlet);
  if (1 - margin - taken * (1 + outlet.taxRatio) < leastLeftRatio) return refuse(nothingLeft(outlet, margin));
  const fixedFee = given('fixed fee', outlet.feeFixedCents, 'cents', 'yours', outlet.name);
  const ratio = given(isMargin ? 'margin' : 'markup', outlet.priceRatio, 'ratio', 'yours', outlet.name);
  const feeShare = given('fee share', taken, 'ratio', 'yours', feeSource(outlet));
  const taxRate = given('tax rate', outlet.taxRatio, 'ratio', 'yours', outlet.name);
  const withoutTax = work(isMargin ? atMarginRule : atMarkupRule, cost, fixedFee, ratio, feeShare, taxRate);
  return succeed(outlet.isTaxIncluded ? work(withTaxRule, withoutTax, taxRate) : withoutTax);
}

/** The smallest shown price from which on the margin or markup is really left, whatever tax and fees round to. */
function leastKeeping(exactCents: number, costCents: number, outlet: Outlet): number {
  const isMargin = outlet.priceRule === 'margin';
  const left = 1 - (isMargin ? outlet.priceRatio : 0) - takenRatio(outlet) * (1 + outlet.taxRatio);
  const wanted = (split: PriceSplit) =>
    isMargin ? costCents + outlet.priceRatio * split.withoutTaxCents : costCents * (1 + outlet.priceRatio);
  const isEnough = (shown: number) => {
    const split = netOf(shown, outlet);
    return split.netCents >= wanted(split) - 1e-6;
  };
  return Math.max(ceilWhole(exactCents), leastShown(exactCents, left / priceAbove(outlet), isEnough));
}

function roundedPrice(before: Figure, costCents: number, outlet: Outlet, endingCents: number | null): Figure {
  const ending =
    endingCents === null ? '' : `, then up to the next that ends in ${String(endingCents).padStart(2, '0')}`;
  const name = before.rule.name;
  const words = `{${name}}, up to the next cent that still leaves the ${outlet.priceRule}${ending}`;
  const rounding = rule(
    {
      name: 'price',
      unit: 'cents',
      mark: 'ours',
      source: 'always upward, so that rounding never eats the margin',
      words,
    },
    (exact: number) => applyEnding(leastKeeping(exact, costCents, outlet), endingCents),
  );
  return work(rounding, before);
}

/**
 * The price of a pair at an outlet, by the outlet's own rule and with its ending, as a figure with its whole working.
 * Margin: (cost + fixed fee) / (1 - margin - fee share x (1 + tax)), markup: (cost x (1 + markup) + fixed fee) /
 * (1 - fee share x (1 + tax)), both without tax; tax is put on when the shown price contains it; then up to the whole
 * minor unit that really leaves the margin, then up to the ending. A fixed price is taken as it is; a gift costs 0.
 *
 * @param cost what the pair costs: minor units from 0, or the cost's own figure
 * @param outlet where it is sold
 * @returns a figure, whole minor units; a problem when margin and fees leave nothing, or the fixed price is missing
 * @throws {RangeError} when the cost or the outlet's ratio is negative or not finite
 * Source: definitions of margin and markup; the upward rounding is our own choice
 * @example priceFigure(4000, { name: 'shop', kind: 'shop', priceRule: 'markup', priceRatio: 0.5, feeRatio: 0, feeFixedCents: 0, taxRatio: 0, isTaxIncluded: true, endingCents: null }).value.value // => 6000
 * @example priceFigure(4000, { name: 'shop', kind: 'shop', priceRule: 'margin', priceRatio: 1, feeRatio: 0, feeFixedCents: 0, taxRatio: 0, isTaxIncluded: true, endingCents: null }).ok // => false
 */
export function priceFigure(cost: number | Figure, outlet: Outlet): Result<Figure> {
  return priceEndingIn(cost, outlet, outlet.endingCents);
}

function priceEndingIn(cost: number | Figure, outlet: Outlet, endingCents: number | null): Result<Figure> {
  const costFigure = typeof cost === 'number' ? given('cost', cost, 'cents', 'ours') : cost;
  if (outlet.kind === 'gift') return succeed(given('price', 0, 'cents', 'ours', 'a gift'));
  if (outlet.priceRule === 'fixed') {
    if (outlet.fixedPriceCents !== null)
      return succeed(given('price', outlet.fixedPriceCents, 'cents', 'yours', outlet.name));
    const message = `Enter the price at ${outlet.name}, or choose a margin or a markup.`;
    return refuse({ code: 'priceMissing', path: 'fixedPrice', message });
  }
  const before = priceBefore(costFigure, outlet);
  return before.ok ? succeed(roundedPrice(before.value, costFigure.value, outlet, endingCents)) : before;
}

function priceByRule(costCents: number, outlet: Outlet, priceRule: 'margin' | 'markup'): Result<number> {
  const figure = priceEndingIn(costCents, { ...outlet, priceRule }, null);
  return figure.ok ? succeed(figure.value.value) : figure;
}

/**
 * The shown price that leaves at least the outlet's `priceRatio` of the price without tax, after fees; no ending yet.
 *
 * @param costCents minor units from 0
 * @returns whole minor units, rounded up; a problem when margin and fees leave nothing
 * @throws {RangeError} when the cost or the ratio is negative or not finite
 * @example priceAtMargin(6000, { name: 'fair', kind: 'fair', priceRatio: 0.4, feeRatio: 0, feeFixedCents: 0, taxRatio: 0.2, isTaxIncluded: true }).value // => 12000
 */
export function priceAtMargin(costCents: number, outlet: Outlet): Result<number> {
  return priceByRule(costCents, outlet, 'margin');
}

/**
 * The shown price that leaves at least cost x (1 + the outlet's `priceRatio`) after tax and fees; no ending yet.
 *
 * @param costCents minor units from 0
 * @returns whole minor units, rounded up; a problem when the fees leave nothing
 * @throws {RangeError} when the cost or the ratio is negative or not finite
 * @example priceAtMarkup(4000, { name: 'fair', kind: 'fair', priceRatio: 0.5, feeRatio: 0, feeFixedCents: 0, taxRatio: 0, isTaxIncluded: true }).value // => 6000
 */
export function priceAtMarkup(costCents: number, outlet: Outlet): Result<number> {
  return priceByRule(costCents, outlet, 'markup');
}

/**
 * What an hour of the work earns at a price: (net - all costs but labour) / hours.
 *
 * @param netCents what is left of the price without tax and fees
 * @param costsWithoutLabourCents yarn, materials and overhead
 * @param minutes work on the pair, at least 0
 * @returns whole minor units per hour, half up, negative when the costs are not covered; null when there is no work
 * @throws {RangeError} when an argument is not finite or the minutes are negative
 * @example hourWorth(31000, 11700, 180) // => 6433
 * @example hourWorth(1000, 1000, 0) // => null
 */
export function hourWorth(netCents: number, costsWithoutLabourCents: number, minutes: number): number | null {
  requireRange('hourWorth: netCents', netCents, -Number.MAX_VALUE);
  requireRange('hourWorth: costsWithoutLabourCents', costsWithoutLabourCents, 0);
  requireRange('hourWorth: minutes', minutes, 0);
  return minutes === 0 ? null : roundHalfUp(((netCents - costsWithoutLabourCents) * 60) / minutes);
}
