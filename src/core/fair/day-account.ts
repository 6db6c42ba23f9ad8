import type { Outlet } from '#core/pricing/outlet.ts';
import { feeOf } from '#core/pricing/price.ts';
import { roundCash, type TaxRounding, taxOfLines } from '#core/pricing/tax.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';
import { sumCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

export type PaidHow = 'cash' | 'card' | 'other';

/** What an outlet takes of a sale. */
export type SaleTerms = Pick<Outlet, 'feeRatio' | 'feeFixedCents' | 'taxRatio' | 'isTaxIncluded'> & {
  readonly rounding: TaxRounding;
  /** The smallest coin, from 1. */
  readonly cashStepCents: number;
};

/** A sale in money, whole minor units. */
export type SaleAmounts = {
  /** What the buyer paid. */
  readonly paidCents: number;
  /** Tax in it. */
  readonly taxCents: number;
  /** What the card took of it. */
  readonly feeCents: number;
  /** What is left without tax and fee. */
  readonly netCents: number;
};

/**
 * What a sale at the table brings: the prices shown, with the tax added where it is not in them; cash is rounded to the
 * smallest coin; the fee is taken of what is paid by card, and of nothing else.
 *
 * @param pricesCents a price for each pair of the sale, as shown on the tag, whole minor units from 0
 * @throws {RangeError} when a price is negative or not whole
 * Source: VAT and rounding as `taxOfLines`; fees of a card are taken by the payment
 * @example amountsOfSale([4500], 'card', { feeRatio: 0.0175, feeFixedCents: 0, taxRatio: 0, isTaxIncluded: true, rounding: 'line', cashStepCents: 1 }) // => { paidCents: 4500, taxCents: 0, feeCents: 79, netCents: 4421 }
 * @example amountsOfSale([1000], 'cash', { feeRatio: 0.0175, feeFixedCents: 0, taxRatio: 0.0625, isTaxIncluded: false, rounding: 'line', cashStepCents: 5 }) // => { paidCents: 1065, taxCents: 63, feeCents: 0, netCents: 1002 }
 */
export function amountsOfSale(pricesCents: readonly number[], how: PaidHow, terms: SaleTerms): SaleAmounts {
  const { totalCents: taxCents } = taxOfLines(pricesCents, terms.taxRatio, terms.isTaxIncluded, terms.rounding);
  const totalCents = sumCents(pricesCents) + (terms.isTaxIncluded ? 0 : taxCents);
  const paidCents = how === 'cash' ? roundCash(totalCents, terms.cashStepCents) : totalCents;
  const feeCents = how === 'card' ? feeOf(paidCents, terms) : 0;
  return { paidCents, taxCents, feeCents, netCents: paidCents - taxCents - feeCents };
}

/**
 * The sales that stand: neither taken back nor the taking back of another.
 *
 * @example standingSales([{ id: 1, reversesId: null }, { id: 2, reversesId: null }, { id: 3, reversesId: 1 }]).map((sale) => sale.id) // => [2]
 */
export function standingSales<T extends { readonly id: number; readonly reversesId: number | null }>(
  sales: readonly T[],
): readonly T[] {
  const reversed = new Set(sales.map(({ reversesId }) => reversesId));
  return sales.filter(({ id, reversesId }) => reversesId === null && !reversed.has(id));
}

/** A pair that was sold: its price, what went into it, and the time it took. */
export type SoldPair = {
  readonly priceCents: number;
  readonly yarnCents: number;
  readonly materialsCents: number;
  readonly minutes: number;
};

export type DayInput = {
  /** Sales that stand. */
  readonly sales: readonly { readonly how: PaidHow; readonly pairs: readonly SoldPair[] }[];
  readonly terms: SaleTerms;
  /** Change in the box in the morning. */
  readonly floatCents: number;
  /** Counted in the evening; null until then. */
  readonly countedCents: number | null;
  /** The day's share of what the table costs. */
  readonly tableFeeCents: number;
  /** Hours at the table; null when not said. */
  readonly openMinutes: number | null;
  readonly overheadCentsPerHour: number;
};

/** A day's selling in money, whole minor units. */
export type DayAccount = {
  readonly pairs: number;
  readonly cashCents: number;
  readonly cardCents: number;
  /** Nobody noted how it was paid. */
  readonly otherCents: number;
  readonly takingsCents: number;
  readonly taxCents: number;
  readonly cardFeeCents: number;
  readonly tableFeeCents: number;
  readonly yarnCents: number;
  readonly materialsCents: number;
  /** Takings less tax, fees, and what went into the pairs. */
  readonly earnedCents: number;
  /** What should be in the box: float and cash. */
  readonly boxCents: number;
  /** Counted less what should be there; null until counted. */
  readonly differenceCents: number | null;
  readonly knittingMinutes: number;
  /** What an hour at the table earned; null when the hours were not said. */
  readonly tableHourCents: number | null;
  /** What an hour earned with the knitting in it, running costs of its hours paid; null as above. */
  readonly workHourCents: number | null;
};

/**
 * The account of a day's selling: takings by how they were paid, what is to be taken off them, what should be in the
 * cash box, and what the day and its hours earned.
 * Earned = takings - tax - card fees - the day's share of the table - yarn and materials of what was sold. An hour at
 * the table = earned / hours open; an hour with the knitting = (earned - running costs of the knitting hours) /
 * (hours open + knitting hours).
 *
 * @param input amounts in whole minor units from 0, minutes from 0
 * @returns whole minor units, hours' worth half up
 * @throws {RangeError} when an amount is negative or not whole, or minutes are not finite
 * Source: job costing; the parts sum to the takings by construction
 * @example dayAccount({ sales: [{ how: 'cash', pairs: [{ priceCents: 4500, yarnCents: 600, materialsCents: 100, minutes: 180 }] }], terms: { feeRatio: 0, feeFixedCents: 0, taxRatio: 0, isTaxIncluded: true, rounding: 'line', cashStepCents: 1 }, floatCents: 5000, countedCents: 9400, tableFeeCents: 1800, openMinutes: 120, overheadCentsPerHour: 100 }).earnedCents // => 2000
 */
export function dayAccount(input: DayInput): DayAccount {
  const { sales, terms, floatCents, countedCents, tableFeeCents, openMinutes, overheadCentsPerHour } = input;
  for (const [name, cents] of Object.entries({ floatCents, tableFeeCents, countedCents: countedCents ?? 0 })) {
    requireWhole(`dayAccount: ${name}`, cents);
  }
  requireRange('dayAccount: overheadCentsPerHour', overheadCentsPerHour, 0);
  const amounts = sales.map(({ how, pairs }) => ({
    how,
    ...amountsOfSale(
      pairs.map(({ priceCents }) => priceCents),
      how,
      terms,
    ),
  }));
  const paidBy = (how: PaidHow) => sumCents(amounts.filter((sale) => sale.how === how).map((sale) => sale.paidCents));
  const sold = sales.flatMap(({ pairs }) => pairs);
  const [cashCents, cardCents, otherCents] = [paidBy('cash'), paidBy('card'), paidBy('other')];
  const takingsCents = cashCents + cardCents + otherCents;
  const taxCents = sumCents(amounts.map((sale) => sale.taxCents));
  const cardFeeCents = sumCents(amounts.map((sale) => sale.feeCents));
  const yarnCents = sumCents(sold.map((pair) => pair.yarnCents));
  const materialsCents = sumCents(sold.map((pair) => pair.materialsCents));
  const knittingMinutes = sold.reduce((sum, pair) => sum + requireRange('dayAccount: minutes', pair.minutes, 0), 0);
  const earnedCents = takingsCents - taxCents - cardFeeCents - tableFeeCents - yarnCents - materialsCents;
  const boxCents = floatCents + cashCents;
  const runningCents = (overheadCentsPerHour * knittingMinutes) / 60;
  return {
    pairs: sold.length,
    cashCents,
    cardCents,
    otherCents,
    takingsCents,
    taxCents,
    cardFeeCents,
    tableFeeCents,
    yarnCents,
    materialsCents,
    earnedCents,
    boxCents,
    differenceCents: countedCents === null ? null : countedCents - boxCents,
    knittingMinutes,
    tableHourCents: openMinutes ? roundHalfUp((earnedCents * 60) / openMinutes) : null,
    workHourCents: openMinutes
      ? roundHalfUp(((earnedCents - runningCents) * 60) / (openMinutes + knittingMinutes))
      : null,
  };
}
