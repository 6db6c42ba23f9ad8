import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { afterReadings, chanceShort, normalCdf, twoSteps } from '#core/buying/enough.ts';
import type { Offer } from '#core/buying/offers.ts';
import { confidences, enoughAt } from '#core/shared/estimate.ts';

describe('normalCdf', () => {
  // Abramowitz and Stegun, table 26.1, rounded to nine places.
  it.each([
    [0, 0.5],
    [0.1, 0.539827837],
    [0.5, 0.691462461],
    [1, 0.841344746],
    [1.5, 0.933192799],
    [1.96, 0.975002105],
    [2, 0.977249868],
    [2.5, 0.993790335],
    [3, 0.998650102],
    [4, 0.999968329],
  ])('at %f is %f, on either side', (z, share) => {
    expect(Math.abs(normalCdf(z) - share)).toBeLessThan(7.6e-8);
    expect(Math.abs(normalCdf(-z) - (1 - share))).toBeLessThan(7.6e-8);
  });

  it('rises from 0 to 1', () => {
    for (let z = -8; z < 8; z += 0.01) expect(normalCdf(z + 0.01)).toBeGreaterThanOrEqual(normalCdf(z) - 1e-12);
    expect(normalCdf(-40)).toBe(0);
    expect(normalCdf(40)).toBe(1);
  });

  it('is the other way round of the quantiles that yarn is bought by', () => {
    const need = Object.freeze({ mean: 430, sharedSd: 31, ownVariance: 290 });
    for (const { ratio } of confidences) expect(chanceShort(need, enoughAt(need, ratio))).toBeCloseTo(1 - ratio, 4);
  });
});

describe('chanceShort', () => {
  it('without an error is a plain comparison', () => {
    const sure = { mean: 100, sharedSd: 0, ownVariance: 0 };
    expect([99.9, 100, 101].map((have) => chanceShort(sure, have))).toEqual([1, 0, 0]);
  });

  it('falls with every gram more', () => {
    const need = { mean: 500, sharedSd: 40, ownVariance: 400 };
    const chances = [300, 400, 450, 500, 550, 600, 700].map((have) => chanceShort(need, have));
    expect(chances).toEqual([...chances].sort((a, b) => b - a));
    expect(chances[3]).toBeCloseTo(0.5, 6);
  });
});

describe('afterReadings', () => {
  // By hand: prior 10 % of 1000 g; three readings of 5 %: 1/(1/0.01 + 3/0.0025) = 1/1300, root 2.774 %. Of ten pairs
  // seven are left: 700 g x 2.774 % = 19.415 g; own 100 x 7/10 = 70: sqrt(376.92 + 70) = 21.14 g.
  it('leaves what three weighed pairs do not tell', () => {
    const { leftSdG, learnedSdG } = afterReadings({ mean: 1000, sharedSd: 100, ownVariance: 100 }, 10, 3);
    expect(leftSdG).toBeCloseTo(21.14, 2);
    expect(learnedSdG ** 2 + leftSdG ** 2).toBeCloseTo(100 ** 2 + 100, 6);
  });

  it('is never surer than 2 %, and knows everything of pairs that are done', () => {
    const need = { mean: 1000, sharedSd: 100, ownVariance: 0 };
    expect(afterReadings(need, 1000, 999).leftSdG).toBeCloseTo(1 * 0.02, 6);
    expect(afterReadings(need, 3, 3).leftSdG).toBe(0);
  });
});

const pack = (ballG: number): Offer => ({
  id: 1,
  supplierId: 1,
  yarnColourId: 1,
  ballMg: ballG * 1000,
  ballsPerPack: 1,
  priceCents: 500,
  stockPacks: null,
});

describe('twoSteps', () => {
  // By hand: 1000 g, sd 100. 70 % is 700 g; certain 19 times in 20 are 1000 - 164.5 = 835.5 g: 8 packs of 100 g now.
  // Once: 1000 + 128.16 = 1128.16 g: 12 packs. Then: left 7/10 x 1000 x 2.774 % = 19.415 g, safe 1000 + 24.88; learned
  // sqrt(10000 - 376.9) = 98.10. More than k packs later: 1 - Phi((800 + 100 k - 1024.88)/98.10): z -2.2924 -1.2730
  // -0.2536 0.7658 1.7851 2.8045 3.8239 -> 0.98906 0.89850 0.60010 0.22190 0.03712 0.00252 0.00007, together 2.7493.
  it('buys now what is surely used, and later what is then missing on average', () => {
    const steps = twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, [pack(100)], 0.9)!;
    expect(steps.now).toMatchObject({ grossMg: 800_000, goodsCents: 8 * 500 });
    expect(steps.laterG).toBeCloseTo(274.93, 1);
    expect(steps.laterCents).toBeCloseTo(2.7493 * 500, 0);
    expect(steps.chanceOfNone).toBeCloseTo(0.01094, 4);
  });

  // The same need; a pack of five balls costs 20.00, less than four of 5.00 with one more. Now: five and three singly.
  // Later one ball 5.00, two 10.00, three 15.00, four or five 20.00, by the chances above: of more than none to five.
  it('mixes pack sizes, now and later', () => {
    const sizes = [pack(100), { ...pack(100), id: 2, ballsPerPack: 5, priceCents: 2000 }];
    const { now, laterG, laterCents } = twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, sizes, 0.9)!;
    expect(now.packs.map(({ offer, packs }) => [offer.ballsPerPack, packs])).toEqual([
      [1, 3],
      [5, 1],
    ]);
    expect(now.goodsCents).toBe(3500);
    const more = [0.98906, 0.8985, 0.6001, 0.2219, 0.03712, 0.00252, 0.00007, 0];
    const just = more.slice(1).map((chance, k) => more[k]! - chance);
    // Four single balls cost what the pack costs and weigh less.
    const [cents, grams] = [
      [500, 1000, 1500, 2000, 2000, 2500, 3000],
      [100, 200, 300, 400, 500, 600, 700],
    ];
    const meanOf = (values: readonly number[]) => just.reduce((sum, chance, k) => sum + chance * values[k]!, 0);
    expect(laterCents).toBeCloseTo(meanOf(cents!), 0);
    expect(laterG).toBeCloseTo(meanOf(grams!), 1);
  });

  it('takes a large pack now where it costs less than what is surely used', () => {
    const sizes = [pack(100), { ...pack(100), id: 2, ballsPerPack: 9, priceCents: 3600 }];
    const { now } = twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, sizes, 0.9)!;
    expect(now.packs.map(({ offer, packs }) => [offer.ballsPerPack, packs])).toEqual([[9, 1]]);
  });

  it('buys no more now than the shop has', () => {
    const few = { ...pack(100), stockPacks: 7 };
    expect(twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, [few], 0.9)).toBeNull();
    const more = { ...pack(100), stockPacks: 12 };
    expect(twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, [more], 0.9)?.now.grossMg).toBe(800_000);
  });

  it('is not offered where there is nothing to learn or to wait for', () => {
    expect(twoSteps({ mean: 300, sharedSd: 30, ownVariance: 0 }, 3, [pack(50)], 0.9)).toBeNull();
    expect(twoSteps({ mean: 400, sharedSd: 40, ownVariance: 0 }, 4, [pack(500)], 0.9)).toBeNull();
    expect(twoSteps({ mean: 100, sharedSd: 0, ownVariance: 0 }, 10, [pack(50)], 0.9)).toBeNull();
    expect(twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, [], 0.9)).toBeNull();
  });

  it('says the mean that drawing what the pairs tell gives', () => {
    const anySizes = fc.constantFrom(
      [pack(50)],
      [pack(50), { ...pack(50), id: 2, ballsPerPack: 10, priceCents: 4100 }],
      [
        { ...pack(85), priceCents: 455 },
        { ...pack(50), id: 2, priceCents: 300 },
      ],
    );
    const anyNeed = fc.record({
      mean: fc.integer({ min: 300, max: 3000 }),
      shared: fc.double({ min: 0.03, max: 0.14, noNaN: true }),
      own: fc.double({ min: 0, max: 20, noNaN: true }),
    });
    fc.assert(
      fc.property(anyNeed, fc.integer({ min: 4, max: 40 }), anySizes, ({ mean, shared, own }, pairs, sizes) => {
        const need = { mean, sharedSd: mean * shared, ownVariance: own ** 2 };
        const steps = twoSteps(need, pairs, sizes, 0.9);
        if (!steps) return;
        const nowG = steps.now.grossMg / 1000;
        // The quantiles of what is learned, one in a thousand each, stand for drawing it.
        const { leftSdG, learnedSdG } = afterReadings(need, pairs, 3);
        const later = { cents: 0, grams: 0 };
        for (let i = 0; i < 1000; i += 1) {
          const learned = mean + learnedSdG * quantile((i + 0.5) / 1000);
          const { cents, grams } = cheapest(learned + 1.2816 * leftSdG - nowG, sizes);
          later.cents += cents / 1000;
          later.grams += grams / 1000;
        }
        expect(Math.abs(steps.laterCents - later.cents)).toBeLessThan(0.02 * dearest(sizes));
        expect(Math.abs(steps.laterG - later.grams)).toBeLessThan(10);
        expect(nowG).toBeLessThan(enoughAt(need, 0.9) + 500);
      }),
      { numRuns: 60, seed: 8 },
    );
  });
});

const dearest = (sizes: readonly Offer[]) => Math.max(...sizes.map(({ priceCents }) => priceCents));

/** The cheapest packs of up to two sizes for some grams, the lighter of equals: every count of the first is tried. */
function cheapest(missingG: number, sizes: readonly Offer[]): { cents: number; grams: number } {
  let best = { cents: Number.POSITIVE_INFINITY, grams: 0 };
  const [first, second] = sizes.map((offer) => ({ grams: (offer.ballMg * offer.ballsPerPack) / 1000, offer }));
  for (let packs = 0; packs <= Math.ceil(Math.max(0, missingG) / first!.grams); packs += 1) {
    const rest = Math.max(0, missingG - packs * first!.grams);
    if (rest > 0 && !second) continue;
    const others = second ? Math.ceil(rest / second.grams - 1e-9) : 0;
    const cents = packs * first!.offer.priceCents + others * (second?.offer.priceCents ?? 0);
    const grams = packs * first!.grams + others * (second?.grams ?? 0);
    if (cents < best.cents || (cents === best.cents && grams < best.grams)) best = { cents, grams };
  }
  return best;
}

/** By halving, from the very function under test: exact enough to draw from it. */
function quantile(share: number): number {
  let [low, high] = [-8, 8];
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (normalCdf(middle) < share) low = middle;
    else high = middle;
  }
  return low;
}
