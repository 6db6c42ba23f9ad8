import type { OrderMoney } from '#core/pricing/order-money.ts';
import type { CostParts, Outlet } from '#core/pricing/outlet.ts';
import { feeOf, hourWorth } from '#core/pricing/price.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';
import { sumCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** Some like pairs: what one costs and takes. */
export type PairsOfOrder = { readonly quantity: number; readonly cost: CostParts; readonly minutes: number };
/** Work and material of something added to the order. */
export type ExtraOfOrder = { readonly minutes: number; readonly materialCents: number };

/** What an order leaves, whole minor units. */
export type OrderWorth = {
  readonly feeCents: number;
  /** The total without tax, fees and postage. */
  readonly netCents: number;
  /** Yarn, materials and running costs of pairs and extras: all but labour. */
  readonly outlayCents: number;
  /** What is left for the work. */
  readonly leftCents: number;
  readonly pairMinutes: number;
  readonly extraMinutes: number;
  /** What an hour of it earns; null where there is no work. */
  readonly hourWorthCents: number | null;
};

/**
 * What an order leaves for the work, and what an hour of it earns: its total without tax, less fees, less postage, which is
 * passed on, less all costs but labour, over the minutes of pairs and extras together.
 *
 * @param money what the order comes to
 * @param pairs costs of one pair each, minutes of both slippers
 * @param extras minutes from 0 and material in whole minor units; an hour of theirs carries running costs like any other
 * @param outlet its fees count, the fixed one once
 * @param overheadCentsPerHour running costs of an hour, from 0
 * @returns whole minor units, half up
 * @throws {RangeError} when an argument is negative or not finite
 * Source: job costing, and the definition of what an hour earns: (net - all costs but labour) / hours
 * @example orderWorth({ totalCents: 5000, taxCents: 0, postageCents: 500 }, [{ quantity: 1, cost: { totalCents: 4600, labourCents: 3600 }, minutes: 150 }], [{ minutes: 30, materialCents: 200 }], { feeRatio: 0, feeFixedCents: 0 }, 0) // => { feeCents: 0, netCents: 4500, outlayCents: 1200, leftCents: 3300, pairMinutes: 150, extraMinutes: 30, hourWorthCents: 1100 }
 */
export function orderWorth(
  money: Pick<OrderMoney, 'totalCents' | 'taxCents' | 'postageCents'>,
  pairs: readonly PairsOfOrder[],
  extras: readonly ExtraOfOrder[],
  outlet: Pick<Outlet, 'feeRatio' | 'feeFixedCents'>,
  overheadCentsPerHour: number,
): OrderWorth {
  requireRange('orderWorth: overheadCentsPerHour', overheadCentsPerHour, 0);
  for (const { quantity } of pairs) requireWhole('orderWorth: quantity', quantity, 1);
  const extraMinutes = extras.reduce((sum, { minutes }) => sum + requireRange('orderWorth: minutes', minutes, 0), 0);
  const pairMinutes = pairs.reduce((sum, { quantity, minutes }) => sum + quantity * minutes, 0);
  const feeCents = feeOf(money.totalCents, outlet);
  const netCents = money.totalCents - money.taxCents - feeCents - money.postageCents;
  const outlayCents =
    sumCents(pairs.map(({ quantity, cost }) => quantity * (cost.totalCents - cost.labourCents))) +
    sumCents(extras.map(({ materialCents }) => materialCents)) +
    roundHalfUp((extraMinutes / 60) * overheadCentsPerHour);
  return {
    feeCents,
    netCents,
    outlayCents,
    leftCents: netCents - outlayCents,
    pairMinutes,
    extraMinutes,
    hourWorthCents: hourWorth(netCents, outlayCents, pairMinutes + extraMinutes),
  };
}
