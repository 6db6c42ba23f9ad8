import type { ColourNeed, Offer, Supplier } from '#core/buying/offers.ts';

export function supplier(id: number, shippingCents: number, limits: Partial<Supplier> = {}): Supplier {
  return Object.freeze({
    id,
    name: `Shop ${id}`,
    shippingCents,
    freeFromCents: null,
    minimumCents: 0,
    deliveryDays: 3,
    rank: id,
    ...limits,
  });
}

export function pack(
  id: number,
  supplierId: number,
  yarnColourId: number,
  grams: number,
  priceCents: number,
  stockPacks: number | null = null,
): Offer {
  return Object.freeze({
    id,
    supplierId,
    yarnColourId,
    ballMg: grams * 1000,
    ballsPerPack: 1,
    priceCents,
    stockPacks,
  });
}

export type PurchaseCase = {
  readonly needs: readonly ColourNeed[];
  readonly suppliers: readonly Supplier[];
  readonly offers: readonly Offer[];
};

/** Numbers from 0 to below 1, the same on every run (mulberry32, public domain). */
export function makeRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export type CaseSize = {
  readonly colours: number;
  readonly packs: number;
  readonly suppliers: number;
  /** Chances, 0 to 1, of a free-postage limit, a minimum order, a stock limit. */
  readonly limits?: { readonly free: number; readonly minimum: number; readonly stock: number };
  /** Chances, 0 to 1, of a lower price from some packs of an offer on, and of a share off a shop's whole basket. */
  readonly breaks?: { readonly packs: number; readonly basket: number };
  /** The most a colour needs, g; 900 unless said otherwise. */
  readonly mostG?: number;
  /** The largest pair of every colour, g, where whole pairs must find a place in each shop's packs. */
  readonly pairG?: number;
};

/** A made-up season: each supplier sells each colour in some pack sizes, larger packs cheaper by the gram, with noise. */
export function randomPurchase(seed: number, size: CaseSize): PurchaseCase {
  const random = makeRandom(seed);
  const whole = (from: number, to: number) => from + Math.floor(random() * (to - from + 1));
  const limits = size.limits ?? { free: 0, minimum: 0, stock: 0 };
  const suppliers = Array.from({ length: size.suppliers }, (_, i) => {
    const freeFromCents = random() < limits.free ? whole(10, 50) * 100 : null;
    const minimumCents = random() < limits.minimum ? whole(5, 30) * 100 : 0;
    const shippingCents = whole(150, 900);
    const terms = supplier(i + 1, shippingCents, { freeFromCents, minimumCents });
    if (!size.breaks || random() >= size.breaks.basket) return terms;
    // What a colour costs on average, times the colours, over the shops: a break now in reach and now not.
    const usualCents = ((size.mostG ?? 900) / 2) * 7 * size.colours;
    const first = {
      fromCents: Math.round((usualCents * (0.2 + 0.5 * random())) / 50) * 50,
      offRatio: whole(2, 10) / 100,
    };
    const second = { fromCents: first.fromCents + whole(5, 40) * 100, offRatio: first.offRatio + whole(2, 10) / 100 };
    return Object.freeze({ ...terms, breaks: random() < 0.5 ? [first] : [first, second] });
  });
  const needs = Array.from({ length: size.colours }, (_, i) => ({
    yarnColourId: i + 1,
    needMg: whole(20, size.mostG ?? 900) * 1000,
    ...(size.pairG === undefined ? {} : { largestPairMg: size.pairG * 1000 }),
  }));
  const offers: Offer[] = [];
  for (const { id } of suppliers) {
    for (const { yarnColourId } of needs) {
      const sizes = [25, 50, 100, 150, 200, 250, 400, 500];
      for (let i = 0; i < size.packs; i += 1) {
        const grams = sizes.splice(whole(0, sizes.length - 1), 1)[0]!;
        const price = Math.round(grams * (6 + 3 * random()) * (1 - grams / 3000)) + whole(0, 40);
        const stock = random() < limits.stock ? whole(0, 4) : null;
        const offer = pack(offers.length + 1, id, yarnColourId, grams, price, stock);
        if (!size.breaks || random() >= size.breaks.packs) offers.push(offer);
        else {
          const first = { fromPacks: whole(2, 6), priceCents: Math.round(price * (0.8 + 0.15 * random())) };
          const second = { fromPacks: first.fromPacks + whole(1, 6), priceCents: Math.round(first.priceCents * 0.9) };
          offers.push(Object.freeze({ ...offer, breaks: random() < 0.5 ? [first] : [first, second] }));
        }
      }
    }
  }
  return { needs, suppliers, offers };
}
