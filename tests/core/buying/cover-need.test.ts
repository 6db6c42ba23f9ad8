import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverNeed, packMg } from '#core/buying/cover-need.ts';
import type { Offer } from '#core/buying/offers.ts';
import { pack } from '#tests/support/purchase-cases.ts';

const packs = (...list: readonly (readonly [grams: number, cents: number, stock?: number])[]): Offer[] =>
  list.map(([grams, cents, stock], i) => pack(i + 1, 1, 1, grams, cents, stock ?? null));

type Best = { cents: number; units: number; packs: number };

/** Full enumeration of pack counts: the second method. */
function enumerate(needMg: number, offers: readonly Offer[]): Best | null {
  let best: Best | null = null;
  const visit = (index: number, cents: number, mg: number, count: number): void => {
    if (mg >= needMg) {
      const isBetter =
        !best ||
        cents < best.cents ||
        (cents === best.cents && (mg < best.units || (mg === best.units && count < best.packs)));
      if (isBetter) best = { cents, units: mg, packs: count };
      return;
    }
    const offer = offers[index];
    if (!offer) return;
    const most = Math.min(Math.ceil((needMg - mg) / packMg(offer)), offer.stockPacks ?? Number.POSITIVE_INFINITY);
    for (let n = 0; n <= most; n += 1)
      visit(index + 1, cents + n * offer.priceCents, mg + n * packMg(offer), count + n);
  };
  visit(0, 0, 0, 0);
  return best;
}

const summary = (needMg: number, offers: readonly Offer[]): Best | null => {
  const cover = coverNeed(needMg, offers);
  if (!cover) return null;
  expect(cover.boundCents).toBe(cover.goodsCents);
  for (const { offer, packs: count } of cover.packs) {
    expect(count).toBeGreaterThan(0);
    expect(count).toBeLessThanOrEqual(offer.stockPacks ?? count);
  }
  expect(cover.packs.reduce((total, each) => total + each.packs * each.offer.priceCents, 0)).toBe(cover.goodsCents);
  expect(cover.packs.reduce((total, each) => total + each.packs * packMg(each.offer), 0)).toBe(cover.grossMg);
  return {
    cents: cover.goodsCents,
    units: cover.grossMg,
    packs: cover.packs.reduce((total, each) => total + each.packs, 0),
  };
};

describe('coverNeed', () => {
  // 0-1 knapsack instances P01-P03 of J. Burkardt's dataset KNAPSACK_01 (people.sc.fsu.edu/~jburkardt/datasets), turned
  // round: covering at least (all weight - capacity) costs (all profit - knapsack optimum).
  it.each([
    ['P01', [23, 31, 29, 44, 53, 38, 63, 85, 89, 82], [92, 57, 49, 68, 60, 43, 67, 84, 87, 72], 165, 309, 372, 370],
    ['P02', [12, 7, 11, 8, 9], [24, 13, 23, 15, 16], 26, 51, 21, 40],
    ['P03', [56, 59, 80, 64, 75, 17], [50, 50, 64, 46, 50, 5], 190, 150, 161, 115],
  ])(
    '%s: one pack of each, by complement of the published optimum',
    (_, weights, profits, capacity, optimum, least, cost) => {
      const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
      expect(sum(weights) - capacity).toBe(least);
      expect(sum(profits) - optimum).toBe(cost);
      const offers = packs(...weights.map((grams, i) => [grams, profits[i]!, 1] as const));
      expect(coverNeed(least * 1000, offers)?.goodsCents).toBe(cost);
    },
  );

  // By full enumeration, checked by hand for 180: one 200 g pack at 1700 beats 100 + 50 + 50 at 1860.
  it.each([
    [20, 260],
    [130, 1380],
    [175, 1640],
    [180, 1700],
    [230, 2180],
    [410, 3660],
  ])('packs 25@260, 50@480, 100@900, 200@1700 cover %i g for %i', (grams, cents) => {
    const offers = packs([25, 260], [50, 480], [100, 900], [200, 1700]);
    expect(coverNeed(grams * 1000, offers)?.goodsCents).toBe(cents);
  });

  it.each([
    [130, 1100], // 100 + 50; twice the pack cheapest by the gram would be 1400
    [160, 1400],
  ])('packs 50@400, 100@700 cover %i g for %i', (grams, cents) => {
    expect(coverNeed(grams * 1000, packs([50, 400], [100, 700]))?.goodsCents).toBe(cents);
  });

  it('buys nothing for no need, and one pack for the smallest need', () => {
    expect(coverNeed(0, packs([50, 400]))).toEqual({ packs: [], goodsCents: 0, grossMg: 0, boundCents: 0 });
    expect(coverNeed(0.2, packs([50, 400]))?.goodsCents).toBe(400);
  });

  it('takes no pack more than fits exactly, and one more for a milligram over', () => {
    expect(coverNeed(100_000, packs([50, 400]))?.goodsCents).toBe(800);
    expect(coverNeed(100_001, packs([50, 400]))?.goodsCents).toBe(1200);
  });

  it('is null without offers, and when the stock is a pack short', () => {
    expect(coverNeed(10, [])).toBeNull();
    expect(coverNeed(150_001, packs([50, 400, 3]))).toBeNull();
    expect(coverNeed(150_000, packs([50, 400, 3]))?.goodsCents).toBe(1200);
    expect(coverNeed(10, packs([50, 400, 0]))).toBeNull();
  });

  it('prefers less left over, then fewer packs, then the first offer among equals', () => {
    expect(coverNeed(90_000, packs([200, 800], [50, 400]))?.grossMg).toBe(100_000);
    expect(coverNeed(100_000, packs([50, 400], [100, 800]))?.packs).toHaveLength(1);
    expect(coverNeed(100_000, packs([50, 400], [100, 800]))?.packs[0]?.offer.id).toBe(2);
    expect(coverNeed(100_000, packs([100, 800], [100, 800]))?.packs[0]?.offer.id).toBe(1);
  });

  it('counts packs of several balls', () => {
    const tens = { ...pack(1, 1, 1, 50, 3900), ballsPerPack: 10 };
    expect(coverNeed(501_000, [tens, pack(2, 1, 1, 50, 450)])).toMatchObject({ goodsCents: 4350, grossMg: 550_000 });
  });

  it('refuses amounts that make no sense', () => {
    expect(() => coverNeed(Number.NaN, [])).toThrow(RangeError);
    expect(() => coverNeed(-1, [])).toThrow(RangeError);
    expect(() => coverNeed(1, packs([50, -4]))).toThrow(RangeError);
    expect(() => coverNeed(1, packs([50, 4, 1.5]))).toThrow(RangeError);
  });

  const offer = fc.record({
    grams: fc.constantFrom(25, 50, 75, 100, 150, 200),
    cents: fc.integer({ min: 0, max: 40 }),
    stock: fc.option(fc.integer({ min: 0, max: 4 }), { nil: null }),
  });
  const offersOf = (list: readonly { grams: number; cents: number; stock: number | null }[]) =>
    list.map(({ grams, cents, stock }, i) => pack(i + 1, 1, 1, grams, cents * 25, stock));

  it('equals full enumeration in price, left over and packs, with and without stock limits', () => {
    fc.assert(
      fc.property(fc.array(offer, { minLength: 1, maxLength: 4 }), fc.integer({ min: 1, max: 700 }), (list, grams) => {
        expect(summary(grams * 1000, offersOf(list))).toEqual(enumerate(grams * 1000, offersOf(list)));
      }),
      { numRuns: 400, seed: 11 },
    );
  });

  it('equals full enumeration where prices fall with the packs', () => {
    const stepped = fc.record({
      grams: fc.constantFrom(25, 50, 100, 150),
      cents: fc.integer({ min: 2, max: 40 }),
      stock: fc.option(fc.integer({ min: 0, max: 6 }), { nil: null }),
      from: fc.integer({ min: 2, max: 6 }),
      lower: fc.double({ min: 0.4, max: 0.95, noNaN: true }),
      hasBreak: fc.boolean(),
    });
    // Every count of every pack up to one that surely pays no more: two steps of a break beyond the need.
    const least = (needMg: number, offers: readonly Offer[]): number => {
      const [first, ...rest] = offers;
      if (needMg <= 0) return 0;
      if (!first) return Number.POSITIVE_INFINITY;
      const useful = Math.max(Math.ceil(needMg / packMg(first)), first.breaks?.[0]?.fromPacks ?? 0);
      let best = Number.POSITIVE_INFINITY;
      for (let n = 0; n <= Math.min(useful, first.stockPacks ?? useful); n += 1) {
        const each =
          first.breaks?.[0] && n >= first.breaks[0].fromPacks ? first.breaks[0].priceCents : first.priceCents;
        best = Math.min(best, n * each + least(needMg - n * packMg(first), rest));
      }
      return best;
    };
    fc.assert(
      fc.property(
        fc.array(stepped, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 1, max: 600 }),
        (list, grams) => {
          const offers = list.map((each, i): Offer => {
            const plain = pack(i + 1, 1, 1, each.grams, each.cents * 25, each.stock);
            const priceCents = Math.floor(each.cents * 25 * each.lower);
            return each.hasBreak ? { ...plain, breaks: [{ fromPacks: each.from, priceCents }] } : plain;
          });
          const cover = coverNeed(grams * 1000, offers);
          expect(cover?.goodsCents ?? Number.POSITIVE_INFINITY).toBe(least(grams * 1000, offers));
          if (cover) expect(cover.boundCents).toBe(cover.goodsCents);
        },
      ),
      { numRuns: 300, seed: 15 },
    );
  });

  it('equals enumeration for weights with hardly a common divisor, like ounces', () => {
    const odd = fc.record({
      mg: fc.constantFrom(28_350, 49_611, 99_223, 113_397, 226_797, 453_593),
      cents: fc.integer({ min: 100, max: 3000 }),
      stock: fc.option(fc.integer({ min: 1, max: 5 }), { nil: null }),
    });
    fc.assert(
      fc.property(fc.array(odd, { minLength: 1, maxLength: 4 }), fc.integer({ min: 1, max: 900_000 }), (list, mg) => {
        const offers = list.map((each, i) => ({ ...pack(i + 1, 1, 1, 1, each.cents, each.stock), ballMg: each.mg }));
        expect(summary(mg, offers)).toEqual(enumerate(mg, offers));
      }),
      { numRuns: 150, seed: 12 },
    );
  });

  it('agrees, for needs far above the bulk bound, with the plain recurrence over the whole need', () => {
    const plain = (grams: number, offers: readonly Offer[]): number => {
      const least = [0];
      for (let q = 1; q <= grams; q += 1) {
        least.push(Math.min(...offers.map((each) => each.priceCents + least[Math.max(0, q - each.ballMg / 1000)]!)));
      }
      return least[grams]!;
    };
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 3, max: 20 }), fc.integer({ min: 1, max: 50 })), {
          minLength: 1,
          maxLength: 4,
        }),
        fc.integer({ min: 400, max: 6000 }),
        (list, grams) => {
          const offers = packs(...list);
          expect(summary(grams * 1000, offers)?.cents).toBe(plain(grams, offers));
        },
      ),
      { numRuns: 200, seed: 13 },
    );
  });

  it('never costs less for a larger need', () => {
    fc.assert(
      fc.property(
        fc.array(offer, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 0, max: 1500 }),
        fc.integer({ min: 0, max: 500 }),
        (list, grams, more) => {
          const [small, large] = [grams, grams + more].map((each) => coverNeed(each * 1000, offersOf(list)));
          if (large) expect(small!.goodsCents).toBeLessThanOrEqual(large.goodsCents);
        },
      ),
      { numRuns: 300, seed: 14 },
    );
  });

  it('covers a thousand kilograms, in stock or without limit, without a table of that size', () => {
    const need = 1_000_000_000;
    // 5 000 x 200 g at 1700: 8.5 a gram is the best rate and fits exactly.
    const offers = packs([25, 260], [50, 480], [100, 900], [200, 1700]);
    const started = performance.now();
    expect(coverNeed(need, offers)?.goodsCents).toBe(8_500_000);
    // 3 000 large packs hold 600 kg; the other 400 kg are 4 000 x 100 g at 900.
    expect(coverNeed(need, packs([100, 900], [200, 1700, 3000]))?.goodsCents).toBe(3000 * 1700 + 4000 * 900);
    const ounces = packs([1, 350], [1, 1500]).map((each, i) => ({ ...each, ballMg: [49_611, 226_797][i]! }));
    // Two sizes: trying every count of the small pack is the whole enumeration.
    let least = Number.POSITIVE_INFINITY;
    for (let small = 0; small * 49_611 < need + 49_611; small += 1) {
      const large = Math.max(0, Math.ceil((need - small * 49_611) / 226_797));
      least = Math.min(least, small * 350 + large * 1500);
    }
    expect(coverNeed(need, ounces)?.goodsCents).toBe(least);
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
