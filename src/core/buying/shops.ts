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

/**
 * What packs of a colour must weigh when so many shops send them. Each shop's packs are a dye lot of their own, and a pair
 * never mixes lots: with the largest pair's yarn more for each shop after the first, whole pairs find a place however the
 * packs are dealt, since a pair left over would mean that every lot has less than that free.
 *
 * @param shops at least 1
 * @returns whole milligrams
 * @example needFrom({ yarnColourId: 1, needMg: 300000, largestPairMg: 100000 }, 1) // => 300000
 * @example needFrom({ yarnColourId: 1, needMg: 300000, largestPairMg: 100000 }, 2) // => 400000
 */
export function needFrom({ needMg, largestPairMg = 0 }: ColourNeed, shops: number): number {
  return Math.ceil(needMg) + (shops - 1) * Math.ceil(largestPairMg);
}

/**
 * Whether the shops' stocks reach: one shop's alone where a colour may not come from two.
 *
 * @param stocksMg one a shop, infinite where it has no limit
 * @example canReach({ yarnColourId: 1, needMg: 5 }, [3, 4], { oneSupplierPerColour: false }) // => true
 * @example canReach({ yarnColourId: 1, needMg: 5 }, [3, 4], { oneSupplierPerColour: true }) // => false
 */
export function canReach(need: ColourNeed, stocksMg: readonly number[], { oneSupplierPerColour }: BuyOptions): boolean {
  if (oneSupplierPerColour) return stocksMg.some((stock) => stock >= needFrom(need, 1));
  let sum = 0;
  return [...stocksMg]
    .sort((a, b) => b - a)
    .some((stock, i) => {
      sum += stock;
      return sum >= needFrom(need, i + 1);
    });
}

function canCover(colour: Colour, options: BuyOptions): boolean {
  const stocks = colour.shops.map((shop) => stockMgOf(colour, shop));
  return canReach(colour.need, stocks, options);
}

const mostDealtShops = 5;

/** Whether whole pairs of a colour must lie in one lot each. */
const isDealt = (colour: Colour) => (colour.need.largestPairMg ?? 0) > 0;

const shopsIn = (cover: Cover) => new Set(cover.packs.map(({ offer }) => offer.supplierId)).size;

const isCheaperCover = (a: Cover, b: Cover) =>
  a.goodsCents < b.goodsCents || (a.goodsCents === b.goodsCents && a.grossMg < b.grossMg);

/** Every set of some of these, none empty, the smaller sets first. */
function setsOf(all: readonly number[]): number[][] {
  const count = 2 ** all.length;
  return Array.from({ length: count - 1 }, (_, i) => all.filter((_, at) => ((i + 1) >> at) & 1)).sort(
    (a, b) => a.length - b.length,
  );
}

/** Every shop, every two, and as many as have the most in stock: some of these reach the need where any set does. */
function smallSets(colour: Colour, open: readonly number[]): number[][] {
  const byStock = [...open].sort((a, b) => stockMgOf(colour, b) - stockMgOf(colour, a));
  const twos = open.flatMap((one, i) => open.slice(i + 1).map((other) => [one, other]));
  return [...open.map((shop) => [shop]), ...twos, ...byStock.map((_, i) => byStock.slice(0, i + 1)).slice(2)];
}

function stockMgOf(colour: Colour, shop: number): number {
  return colour.offersByShop
    .get(shop)!
    .reduce((total, offer) => total + packMg(offer) * (offer.stockPacks ?? Number.POSITIVE_INFINITY), 0);
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

  /** The cheapest cover from some of these shops, each of which may be used, where the need is that of so many. */
  function coverFrom(colour: Colour, shops: readonly number[], count: number): Cover | null {
    made += 1;
    return coverNeed(
      needFrom(colour.need, count),
      shops.flatMap((shop) => colour.offersByShop.get(shop)!),
    );
  }

  /** The cheapest cover whose shops' lots hold whole pairs: of every set of shops where they are few, else of small sets. */
  function fromLots(colour: Colour, open: readonly number[]): Cover | null {
    if (open.length === 0) return null;
    const anyhow = coverFrom(colour, open, 1);
    if (!anyhow || shopsIn(anyhow) < 2) return anyhow;
    const isEvery = open.length <= mostDealtShops;
    const sets = isEvery ? setsOf(open) : smallSets(colour, open);
    const covers = sets.flatMap((shops) => coverFrom(colour, shops, shops.length) ?? []);
    if (covers.length === 0) return null;
    const best = covers.reduce((a, b) => (isCheaperCover(b, a) ? b : a));
    const boundCents = isEvery ? Math.min(...covers.map((cover) => cover.boundCents)) : anyhow.boundCents;
    return { ...best, boundCents: Math.min(boundCents, best.goodsCents) };
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
      cover = isDealt(colour) ? fromLots(colour, open) : coverFrom(colour, open, 1);
      known.set(key, cover);
    }
    return cover;
  }

  return { coverOf: options.oneSupplierPerColour ? fromOneShop : fromAnyShops, coversMade: () => made };
}
