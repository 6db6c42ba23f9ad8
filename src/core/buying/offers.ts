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
};

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
};

/** What one colour still needs, milligrams, above 0. */
export type ColourNeed = { readonly yarnColourId: number; readonly needMg: number };

export type PurchaseLine = {
  readonly offerId: number;
  readonly supplierId: number;
  readonly yarnColourId: number;
  readonly packs: number;
  readonly grossMg: number;
  readonly goodsCents: number;
};

export type Basket = {
  readonly supplierId: number;
  readonly lines: readonly PurchaseLine[];
  readonly goodsCents: number;
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
