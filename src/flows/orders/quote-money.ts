import type { Kind } from '#core/batch/lines.ts';
import { orderMoney } from '#core/pricing/order-money.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import { type PriceSheetRow, priceFor } from '#core/pricing/price-sheet.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { type PairPrice, priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** The price of one pair of a quote's line, and what it leaves. */
export type QuotedPrice = {
  /** What is asked for the pair; null where no price can be made and none was typed. */
  readonly eachCents: number | null;
  /** The price of the outlet's price sheet today. */
  readonly sheet: PairPrice;
  /** What the price that is asked leaves: hour, lines, tax and fees. */
  readonly row: PriceSheetRow;
  /** Asked for is not what the price sheet says: typed by hand, or costs have changed since. */
  readonly isOwn: boolean;
  readonly minutes: number;
  readonly cost: CostParts;
  /** The price of its yarn is not known, so that the cost is too low. */
  readonly isYarnPriceUnknown: boolean;
};

/** The price of a pair at the quote's outlet, or the one that is agreed. */
export function quotedPrice(
  plan: WorkshopPlan,
  kind: Kind,
  outlet: OutletRow,
  agreedCents: number | null,
): QuotedPrice {
  const sheet = priceOfPair(plan, kind, outlet.id);
  const { cost, minutes, paidMinutes, isYarnPriceUnknown } = priceOfKind(plan, kind);
  const eachCents = agreedCents ?? sheet.priceCents;
  const isOwn = agreedCents !== null && agreedCents !== sheet.priceCents;
  const asked = { ...outlet, priceRule: 'fixed' as const, fixedPriceCents: agreedCents, endingCents: null };
  const row = isOwn ? priceFor(cost, paidMinutes, asked, plan.settings.wageCentsPerHour) : sheet;
  return { eachCents, sheet, row, isOwn, minutes, cost, isYarnPriceUnknown };
}

/** The deposit of a quote that is not stored yet: the outlet's share of what is made, postage left out. */
export function depositOf(
  outlet: OutletRow,
  lines: readonly { readonly quantity: number; readonly eachCents: number | null }[],
  extras: readonly { readonly cents: number }[],
): number {
  const { taxRatio, isTaxIncluded, rounding, depositRatio } = outlet;
  return orderMoney({
    state: 'asked',
    lines: lines.map(({ quantity, eachCents }) => ({ quantity, agreedCents: eachCents, outletCents: null })),
    extras,
    postageCents: null,
    ...{ taxRatio, isTaxIncluded, rounding, depositRatio },
    depositCents: null,
    payments: [],
    cashStepCents: 1,
  }).depositCents;
}
