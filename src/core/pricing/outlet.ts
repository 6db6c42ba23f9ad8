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
};

/** What a pair costs, whole minor units; the parts sum to the total. */
export type CostParts = {
  readonly yarnCents: number;
  readonly materialsCents: number;
  readonly labourCents: number;
  readonly overheadCents: number;
  readonly totalCents: number;
};
