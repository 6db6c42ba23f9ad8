import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { afterReadings, chanceShort, normalCdf, twoSteps } from '#core/buying/enough.ts';
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

describe('twoSteps', () => {
  // By hand: 1000 g, sd 100. 70 % is 700 g; certain 19 times in 20 are 1000 - 164.5 = 835.5 g: 8 packs of 100 g now.
  // Once: 1000 + 128.16 = 1128.16 g: 12 packs. Then: left 7/10 x 1000 x 2.774 % = 19.415 g, safe 1000 + 24.88; learned
  // sqrt(10000 - 376.9) = 98.10. More than k packs later: 1 - Phi((800 + 100 k - 1024.88)/98.10): z -2.2924 -1.2730
  // -0.2536 0.7658 1.7851 2.8045 3.8239 -> 0.98906 0.89850 0.60010 0.22190 0.03712 0.00252 0.00007, together 2.7493.
  it('buys now what is surely used, and later what is then missing on average', () => {
    const steps = twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, 100, 0.9)!;
    expect(steps).toMatchObject({ nowPacks: 8, oncePacks: 12 });
    expect(steps.laterPacks).toBeCloseTo(2.7493, 3);
    expect(steps.chanceOfNone).toBeCloseTo(0.01094, 4);
  });

  it('is not offered where there is nothing to learn or to wait for', () => {
    expect(twoSteps({ mean: 300, sharedSd: 30, ownVariance: 0 }, 3, 50, 0.9)).toBeNull();
    expect(twoSteps({ mean: 400, sharedSd: 40, ownVariance: 0 }, 4, 500, 0.9)).toBeNull();
    expect(twoSteps({ mean: 100, sharedSd: 0, ownVariance: 0 }, 10, 50, 0.9)).toBeNull();
  });

  it('says the mean that drawing what the pairs tell gives', () => {
    const anyNeed = fc.record({
      mean: fc.integer({ min: 300, max: 3000 }),
      shared: fc.double({ min: 0.03, max: 0.14, noNaN: true }),
      own: fc.double({ min: 0, max: 20, noNaN: true }),
    });
    fc.assert(
      fc.property(anyNeed, fc.integer({ min: 4, max: 40 }), ({ mean, shared, own }, pairs) => {
        const need = { mean, sharedSd: mean * shared, ownVariance: own ** 2 };
        const steps = twoSteps(need, pairs, 50, 0.9);
        if (!steps) return;
        // The quantiles of what is learned, one in a thousand each, stand for drawing it.
        const { leftSdG, learnedSdG } = afterReadings(need, pairs, 3);
        let packs = 0;
        for (let i = 0; i < 1000; i += 1) {
          const learned = mean + learnedSdG * quantile((i + 0.5) / 1000);
          const missing = learned + 1.2816 * leftSdG - steps.nowPacks * 50;
          packs += Math.max(0, Math.ceil(missing / 50)) / 1000;
        }
        expect(Math.abs(steps.laterPacks - packs)).toBeLessThan(0.02);
        expect(steps.nowPacks).toBeLessThan(steps.oncePacks);
      }),
      { numRuns: 60, seed: 8 },
    );
  });
});

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
