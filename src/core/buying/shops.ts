import { type Cover, coverNeed, packMg } from '#core/buying/cover-need.ts';
import type { ColourNeed, Offer, Supplier } from '#core/buying/offers.ts';
import { mostGoodsCents } from '#core/buying/prices.ts';
import { requireRange } from '#core/shared/check.ts';

export type BuyOptions = {
  /** True: all packs of a colour come from one supplier, so that a pair never meets two new dye lots. */
  readonly oneSupplierPerColour: boolean;
};

export type PackCount = { readonly offer: Offer; readonly packs: number };

/** A supplier in play. Without `targetCents` its basket value changes nothing. */
export type Shop = {
  readonly supplier: Supplier;
  readonly shippingCents: number;
  /** Basket value from which neither the minimum nor postage asks for more; 0 when nothing depends on it. */
  readonly targetCents: number;
  /** Least postage a used shop can cost. */
  readonly leastShippingCents: number;
};

/** A colour that can be had, with the shops (their positions) that sell it and their offers in canonical order. */
export type Colour = {
  readonly need: ColourNeed;
  readonly shops: readonly number[];
  readonly offersByShop: ReadonlyMap<number, readonly Offer[]>;
};

/** The buying problem in canonical order: whatever order the input has, the same list comes out. */
export type Market = {
  readonly shops: readonly Shop[];
  readonly colours: readonly Colour[];
  readonly uncovered: readonly ColourNeed[];
};

/**
 * Sorts the input, leaves out what cannot play a part (offers of no needed colour, shops whose minimum order their whole
 * stock cannot reach) and sets aside the colours that nobody can supply whole.
 *
 * @param needs one entry a colour, milligrams; entries of 0 are left out
 * @throws {RangeError} when a colour is listed twice
 * @example openMarket([{ yarnColourId: 1, needMg: 5 }], [], [], { oneSupplierPerColour: true }).uncovered // => [{ yarnColourId: 1, needMg: 5 }]
 */
export function openMarket(
  needs: readonly ColourNeed[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  options: BuyOptions,
): Market {
  for (const need of needs) requireRange('buyYarn: needs.needMg', need.needMg, 0, Number.MAX_SAFE_INTEGER);
  const sorted = needs.filter((need) => need.needMg > 0).sort((a, b) => a.yarnColourId - b.yarnColourId);
  for (const [i, need] of sorted.entries()) {
    if (need.yarnColourId === sorted[i + 1]?.yarnColourId) {
      throw new RangeError(`buyYarn: needs must name a colour once, got colour ${need.yarnColourId} twice`);
    }
  }
  let wanted: readonly ColourNeed[] = sorted;
  let sellers = [...suppliers].sort((a, b) => a.rank - b.rank || a.id - b.id);
  // Leaving out a colour may put a shop below its minimum, and leaving out a shop may leave a colour without a seller.
  for (;;) {
    const ids = new Set(wanted.map((need) => need.yarnColourId));
    const inPlay = offers.filter((offer) => ids.has(offer.yarnColourId) && offer.stockPacks !== 0);
    const able = sellers.filter((supplier) => canReachMinimum(supplier, inPlay));
    const colours = coloursOf(wanted, able, inPlay).filter((colour) => canCover(colour, options));
    if (able.length === sellers.length && colours.length === wanted.length) {
      const covered = new Set(colours.map((colour) => colour.need.yarnColourId));
      return { shops: able.map(shopOf), colours, uncovered: sorted.filter((need) => !covered.has(need.yarnColourId)) };
    }
    wanted = colours.map((colour) => colour.need);
    sellers = able;
  }
}

function shopOf(supplier: Supplier): Shop {
  const isAlwaysFree = supplier.freeFromCents !== null && supplier.freeFromCents <= 0;
  const shippingCents = isAlwaysFree ? 0 : supplier.shippingCents;
  const canBeFree = supplier.freeFromCents !== null && shippingCents > 0;
  return {
    supplier,
    shippingCents,
    targetCents: Math.max(0, supplier.minimumCents, canBeFree ? supplier.freeFromCents! : 0),
    leastShippingCents: canBeFree ? 0 : shippingCents,
  };
}

function canReachMinimum(supplier: Supplier, offers: readonly Offer[]): boolean {
  let cents = 0;
  let hasOffer = false;
  for (const offer of offers) {
    if (offer.supplierId !== supplier.id) continue;
    hasOffer = true;
    cents += mostGoodsCents(offer);
  }
  return hasOffer && cents >= supplier.minimumCents;
}

function coloursOf(needs: readonly ColourNeed[], suppliers: readonly Supplier[], offers: readonly Offer[]): Colour[] {
  const positions = new Map(suppliers.map((supplier, position) => [supplier.id, position]));
  const byColour = new Map(needs.map((need) => [need.yarnColourId, new Map<number, Offer[]>()]));
  for (const offer of offers) {
    const position = positions.get(offer.supplierId);
    const byShop = byColour.get(offer.yarnColourId);
    if (position === undefined || !byShop) continue;
    const list = byShop.get(position);
    if (list) list.push(offer);
    else byShop.set(position, [offer]);
  }
  return needs.map((need) => {
    const offersByShop = byColour.get(need.yarnColourId)!;
    for (const list of offersByShop.values()) list.sort((a, b) => a.id - b.id);
    return { need, shops: [...offersByShop.keys()].sort((a, b) => a - b), offersByShop };
  });
}

function canCover(colour: Colour, options: BuyOptions): boolean {
  const stocks = colour.shops.map((shop) =>
    colour.offersByShop
      .get(shop)!
      .reduce((total, offer) => total + packMg(offer) * (offer.stockPacks ?? Number.POSITIVE_INFINITY), 0),
  );
  const needMg = Math.ceil(colour.need.needMg);
  return options.oneSupplierPerColour
    ? stocks.some((stock) => stock >= needMg)
    : stocks.reduce((total, stock) => total + stock, 0) >= needMg;
}

export type CoverBook = {
  /** A colour's cheapest cover from the shops not closed, null when they cannot cover it. */
  readonly coverOf: (colour: Colour, closed: Uint8Array) => Cover | null;
  /** How many covers from several shops were worked out so far. */
  readonly coversMade: () => number;
};

/**
 * Each colour's cheapest cover from the shops not closed, worked out once for each set of shops.
 * Ties between shops go to less left over, then to the better rank.
 */
export function makeCoverBook(options: BuyOptions): CoverBook {
  let made = 0;
  const singles = new Map<Colour, readonly { readonly shop: number; readonly cover: Cover }[]>();
  const mixed = new Map<Colour, Map<number | string, Cover | null>>();

  function fromOneShop(colour: Colour, closed: Uint8Array): Cover | null {
    let list = singles.get(colour);
    if (!list) {
      list = colour.shops
        .map((shop) => ({ shop, cover: coverNeed(colour.need.needMg, colour.offersByShop.get(shop)!) }))
        .filter((entry): entry is { shop: number; cover: Cover } => entry.cover !== null)
        .sort(
          (a, b) => a.cover.goodsCents - b.cover.goodsCents || a.cover.grossMg - b.cover.grossMg || a.shop - b.shop,
        );
      singles.set(colour, list);
    }
    for (const entry of list) if (closed[entry.shop] === 0) return entry.cover;
    return null;
  }

  function fromAnyShops(colour: Colour, closed: Uint8Array): Cover | null {
    const open = colour.shops.filter((shop) => closed[shop] === 0);
    const key =
      colour.shops.length <= 50
        ? colour.shops.reduce((bits, shop) => bits * 2 + (closed[shop] === 0 ? 1 : 0), 0)
        : open.join();
    let known = mixed.get(colour);
    if (!known) {
      known = new Map();
      mixed.set(colour, known);
    }
    let cover = known.get(key);
    if (cover === undefined) {
      const offers = open.flatMap((shop) => colour.offersByShop.get(shop)!);
      cover = coverNeed(colour.need.needMg, offers);
      made += 1;
      known.set(key, cover);
    }
    return cover;
  }

  return { coverOf: options.oneSupplierPerColour ? fromOneShop : fromAnyShops, coversMade: () => made };
}
