export type OutletKind = 'fair' | 'order' | 'shop' | 'gift';
export type PriceRule = 'margin' | 'markup' | 'fixed';

/** A way out for pairs: how a price is made there and what is taken from it. */
export type Outlet = {
  readonly id: number;
  readonly name: string;
  readonly kind: OutletKind;
  readonly rank: number;
  readonly priceRule: PriceRule;
  /** Margin of the price without tax (0.3), or markup on cost (0.5); unused for `fixed`. */
  readonly priceRatio: number;
  /** The price itself for `fixed`; null otherwise. */
  readonly fixedPriceCents: number | null;
  /** Taken from what the buyer pays: a share and a fixed amount (card fee, commission). */
  readonly feeRatio: number;
  readonly feeFixedCents: number;
  readonly taxRatio: number;
  /** True: the price shown contains the tax; false: tax is added at the till. */
  readonly isTaxIncluded: boolean;
  /** Wished ending in minor units of one major unit, 0 to 99 (50 means .50); null for none. */
  readonly endingCents: number | null;
  /** How a shop deals: it buys, or it shows and pays for what was sold. Absent or null where we sell ourselves. */
  readonly terms?: ShopTerms | null;
  /** What a shop on sale or return keeps of what the buyer pays, 0 to 1. */
  readonly shopShareRatio?: number;
};

/**
 * Whether pairs that go there may mix dye lots in a colour: pairs to give, where the workshop says so.
 *
 * @example mayMixLots('gift', { mixLotsInGifts: true }) // => true
 * @example mayMixLots('fair', { mixLotsInGifts: true }) // => false
 */
export function mayMixLots(kind: OutletKind | null, settings: { readonly mixLotsInGifts: boolean }): boolean {
  return settings.mixLotsInGifts && kind === 'gift';
}

export type ShopTerms = 'wholesale' | 'sale or return';

/**
 * The share of what a buyer pays that is taken from it: fees, and what a shop keeps that sells for us.
 *
 * @example takenRatio({ feeRatio: 0.02, terms: 'sale or return', shopShareRatio: 0.35 }) // => 0.37
 * @example takenRatio({ feeRatio: 0.02, terms: 'wholesale', shopShareRatio: 0.35 }) // => 0.02
 */
export function takenRatio({
  feeRatio,
  terms,
  shopShareRatio = 0,
}: Pick<Outlet, 'feeRatio' | 'terms' | 'shopShareRatio'>): number {
  return terms === 'sale or return' ? feeRatio + shopShareRatio : feeRatio;
}

/** What a pair costs, whole minor units; the parts sum to the total. The labour of pairs that go wrong is labour. */
export type CostParts = {
  readonly yarnCents: number;
  readonly materialsCents: number;
  readonly labourCents: number;
  readonly overheadCents: number;
  /** What is left of a ball that was opened for it and that nothing else can use; absent unless it is charged. */
  readonly openedBallCents?: number;
  /** Yarn, materials and running costs of the pairs that go wrong, a share for each good one; absent without any. */
  readonly sparesCents?: number;
  readonly totalCents: number;
};
