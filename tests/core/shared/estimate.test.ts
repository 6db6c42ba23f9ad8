import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addIndependent,
  addShared,
  confidences,
  type Estimate,
  enoughAt,
  noAmount,
  scaleEstimate,
  sdOf,
} from '#core/shared/estimate.ts';

const estimates = fc.record({
  mean: fc.double({ min: 0, max: 1000, noNaN: true }),
  sharedSd: fc.double({ min: 0, max: 100, noNaN: true }),
  ownVariance: fc.double({ min: 0, max: 10_000, noNaN: true }),
}) satisfies fc.Arbitrary<Estimate>;
const lists = fc.array(estimates, { maxLength: 8 });

describe('addShared and addIndependent', () => {
  it('are nothing for no estimates', () => {
    expect(addShared([])).toEqual(noAmount);
    expect(addIndependent([])).toEqual(noAmount);
  });

  it('keep a shared error whole, and an independent one by squares', () => {
    const four: Estimate[] = Array<Estimate>(4).fill(Object.freeze({ mean: 10, sharedSd: 1, ownVariance: 4 }));
    expect(addShared(four)).toEqual({ mean: 40, sharedSd: 4, ownVariance: 16 });
    expect(addIndependent(four)).toEqual({ mean: 40, sharedSd: 2, ownVariance: 16 });
  });

  it('agree on the mean, and never is the independent sum less certain', () => {
    fc.assert(
      fc.property(lists, (list) => {
        const [shared, independent] = [addShared(list), addIndependent(list)];
        return shared.mean === independent.mean && sdOf(independent) <= sdOf(shared) * (1 + 1e-12);
      }),
    );
  });

  it('give the sum of parts added in any grouping', () => {
    fc.assert(
      fc.property(lists, lists, (left, right) => {
        const whole = addShared([...left, ...right]);
        const parts = addShared([addShared(left), addShared(right)]);
        expect(parts.mean).toBeCloseTo(whole.mean, 6);
        expect(sdOf(parts)).toBeCloseTo(sdOf(whole), 6);
      }),
    );
  });
});

describe('scaleEstimate', () => {
  it('scales the spread like the amount', () => {
    fc.assert(
      fc.property(estimates, fc.double({ min: 0, max: 10, noNaN: true }), (estimate, factor) => {
        const scaled = scaleEstimate(Object.freeze(estimate), factor);
        expect(scaled.mean).toBeCloseTo(estimate.mean * factor, 6);
        expect(sdOf(scaled)).toBeCloseTo(sdOf(estimate) * factor, 6);
      }),
    );
  });

  it('refuses a negative factor', () => {
    expect(() => scaleEstimate(noAmount, -1)).toThrow(RangeError);
  });
});

describe('enoughAt', () => {
  /** Share of the standard normal distribution below z, by the midpoint rule: a second method, good to 1e-9. */
  function normalBelow(z: number): number {
    const steps = 20_000;
    let sum = 0;
    for (let step = 0; step < steps; step += 1) sum += Math.exp(-(((z * (step + 0.5)) / steps) ** 2) / 2);
    return 0.5 + (sum * z) / steps / Math.sqrt(2 * Math.PI);
  }

  it.each(confidences)('has the quantile of the normal distribution at $ratio', ({ ratio, z }) => {
    expect(normalBelow(z)).toBeCloseTo(ratio, 4);
  });

  it('never asks for less at a higher confidence', () => {
    fc.assert(
      fc.property(estimates, (estimate) => {
        const amounts = confidences.map(({ ratio }) => enoughAt(estimate, ratio));
        return amounts.every((amount, index) => index === 0 || amount >= amounts[index - 1]!);
      }),
    );
  });

  it('knows only the confidences it offers', () => {
    expect(() => enoughAt(noAmount, 0.85)).toThrow('0.5, 0.8, 0.9, 0.95, 0.99');
  });
});
