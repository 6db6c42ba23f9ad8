import type { CostParts, Outlet } from '#core/pricing/outlet.ts';
import { hourWorth, leastPriceCovering, netOf, priceFigure } from '#core/pricing/price.ts';
import type { Problem, Result } from '#core/shared/problem.ts';

/** A line of the price sheet, whole minor units. */
export type PriceSheetRow = {
  /** The price on the tag; null when none can be made, `problems` says why. */
  readonly priceCents: number | null;
  readonly paidCents: number | null;
  readonly taxCents: number | null;
  readonly feeCents: number | null;
  /** What is left without tax and fees. */
  readonly netCents: number | null;
  /** From this shown price on all costs but labour are covered; null for a gift, or when fees take everything. */
  readonly getsMoneyBackCents: number | null;
  /** From this shown price on the wage is paid too; null also when there is no wage. */
  readonly paysWageCents: number | null;
  /** What an hour earns at the price; null for a gift, without work, or without a price. */
  readonly hourWorthCents: number | null;
  readonly isBelowMoneyBack: boolean;
  readonly isBelowWage: boolean;
  readonly problems: readonly Problem[];
};

function valueOr<T>(result: Result<T>): T | null {
  return result.ok ? result.value : null;
}

const nothing = { paidCents: null, taxCents: null, feeCents: null, netCents: null };

/**
 * The price of a pair at an outlet, with tax, fees and what is left, and the two lines below which money or wage is
 * lost. Both lines are the smallest shown price from which on the costs are covered: one minor unit less does not.
 * A gift has the price 0 and no lines: its cost and its worth are what counts.
 *
 * @param cost what the pair costs, at the wage
 * @param minutes work on the pair, at least 0
 * @param outlet where it is sold
 * @param wageCentsPerHour the wage wished; 0 means the work is not to be paid, and there is no wage line
 * @returns whole minor units
 * @throws {RangeError} when an argument is negative or not finite
 * @example priceFor({ yarnCents: 700, materialsCents: 100, labourCents: 3600, overheadCents: 200, totalCents: 4600 }, 180, { name: 'fair', kind: 'fair', priceRule: 'fixed', fixedPriceCents: 4000, feeRatio: 0, feeFixedCents: 0, taxRatio: 0, isTaxIncluded: true }, 1200) // => { priceCents: 4000, paidCents: 4000, taxCents: 0, feeCents: 0, netCents: 4000, getsMoneyBackCents: 1000, paysWageCents: 4600, hourWorthCents: 1000, isBelowMoneyBack: false, isBelowWage: true, problems: [] }
 */
export function priceFor(cost: CostParts, minutes: number, outlet: Outlet, wageCentsPerHour: number): PriceSheetRow {
  const withoutLabour = cost.totalCents - cost.labourCents;
  const price = priceFigure(cost.totalCents, outlet);
  const split = price.ok ? netOf(price.value.value, outlet) : null;
  const isGift = outlet.kind === 'gift';
  const moneyBack = leastPriceCovering(withoutLabour, outlet);
  return {
    ...(split
      ? { paidCents: split.paidCents, taxCents: split.taxCents, feeCents: split.feeCents, netCents: split.netCents }
      : nothing),
    priceCents: split?.shownCents ?? null,
    getsMoneyBackCents: isGift ? null : valueOr(moneyBack),
    paysWageCents: isGift || wageCentsPerHour === 0 ? null : valueOr(leastPriceCovering(cost.totalCents, outlet)),
    hourWorthCents: isGift || !split ? null : hourWorth(split.netCents, withoutLabour, minutes),
    isBelowMoneyBack: !isGift && split !== null && split.netCents < withoutLabour,
    isBelowWage: !isGift && split !== null && wageCentsPerHour > 0 && split.netCents < cost.totalCents,
    problems: price.ok ? [] : price.problems,
  };
}

/**
 * The line of the price sheet for a pair of which neither the yarn's price nor an hour's worth is known: a fixed price
 * stands, a price made of the cost does not, and what it leaves cannot be said.
 *
 * @param outlet where it goes
 * @example priceWithoutCost({ kind: 'order', priceRule: 'markup', priceRatio: 0, taxRatio: 0, isTaxIncluded: true, feeRatio: 0, feeFixedCents: 0, endingCents: null, fixedPriceCents: null }).priceCents // => null
 * @example priceWithoutCost({ kind: 'fair', priceRule: 'fixed', priceRatio: 0, taxRatio: 0, isTaxIncluded: true, feeRatio: 0, feeFixedCents: 0, endingCents: null, fixedPriceCents: 4500 }).netCents // => 4500
 */
export function priceWithoutCost(outlet: Outlet): PriceSheetRow {
  const none = { yarnCents: 0, materialsCents: 0, labourCents: 0, overheadCents: 0, totalCents: 0 };
  const row = priceFor(none, 0, outlet, 0);
  const unknown = {
    ...{ getsMoneyBackCents: null, paysWageCents: null, hourWorthCents: null },
    ...{ isBelowMoneyBack: false, isBelowWage: false },
  };
  if (outlet.kind === 'gift' || outlet.priceRule === 'fixed') return { ...row, ...unknown };
  const message = 'not known yet';
  return {
    ...row,
    ...nothing,
    priceCents: null,
    ...unknown,
    problems: [{ code: 'costUnknown', path: 'yarn', message }],
  };
}
