/** A shop, as the buying problem sees it. Breaks and limits couple the colours. */
export type Supplier = {
  readonly id: number;
  readonly name: string;
  readonly shippingCents: number;
  /** No postage from this basket value of goods on; null when there is no such limit. */
  readonly freeFromCents: number | null;
  readonly minimumCents: number;
  readonly deliveryDays: number;
  /** Position, 0 first; the last tie-break. */
  readonly rank: number;
  /** A share off the whole basket from so much goods on; none when left out. */
  readonly breaks?: readonly BasketBreak[];
};

/** From this value of goods on (before any share off, without postage), the whole basket costs so much less. */
export type BasketBreak = { readonly fromCents: number; readonly offRatio: number };

/** From so many packs of one offer on, every one of them costs so much. */
export type PackBreak = { readonly fromPacks: number; readonly priceCents: number };

/** A pack a shop sells of one colour. */
export type Offer = {
  readonly id: number;
  readonly supplierId: number;
  readonly yarnColourId: number;
  readonly ballMg: number;
  readonly ballsPerPack: number;
  readonly priceCents: number;
  /** How many packs the shop has; null when unlimited. */
  readonly stockPacks: number | null;
  readonly breaks?: readonly PackBreak[];
};

/**
 * What one colour still needs, milligrams, above 0; and what of it the largest pair takes, which must lie in one lot
 * whole. Left out where the need may be dealt out as it comes.
 */
export type ColourNeed = {
  readonly yarnColourId: number;
  readonly needMg: number;
  readonly largestPairMg?: number;
};

export type PurchaseLine = {
  readonly offerId: number;
  readonly supplierId: number;
  readonly yarnColourId: number;
  readonly packs: number;
  readonly grossMg: number;
  /** What these packs cost at the price for so many, before a share off the whole basket. */
  readonly goodsCents: number;
};

export type Basket = {
  readonly supplierId: number;
  readonly lines: readonly PurchaseLine[];
  /** Sum of the lines; minimum order, free postage and breaks go by it. */
  readonly goodsCents: number;
  /** Taken off the goods by the shop's break for the whole basket; 0 without one. */
  readonly offCents: number;
  readonly shippingCents: number;
};

/** A shopping list in whole packs. `uncovered` names colours that no offer can supply. */
export type PurchaseList = {
  readonly baskets: readonly Basket[];
  readonly totalCents: number;
  readonly isProvenCheapest: boolean;
  /** No list can cost less than this. Equal to the total when proven. */
  readonly boundCents: number;
  readonly uncovered: readonly ColourNeed[];
};
