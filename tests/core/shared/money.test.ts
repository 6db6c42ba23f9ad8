import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitCents, sumCents } from '#core/shared/money.ts';

describe('splitCents', () => {
  it.each([
    // Worked by hand: exact parts rounded down, the rest to the largest remainders, ties to the first.
    [100, [1, 1, 1], [34, 33, 33]],
    [100, [1, 2], [33, 67]],
    [1, [1, 1, 1, 1], [1, 0, 0, 0]],
    [0, [3, 4], [0, 0]],
    [10, [0, 5], [0, 10]],
    [5, [0, 0, 0], [2, 2, 1]],
    [-100, [1, 1, 1], [-34, -33, -33]],
    [7, [1], [7]],
    [1000, [0.1, 0.2, 0.7], [100, 200, 700]],
  ])('%d over %j is %j', (total, weights, shares) => {
    expect(splitCents(total, Object.freeze(weights))).toEqual(shares);
  });

  it('gives whole shares that add up and lie within one of the exact part', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1_000_000, max: 1_000_000 }),
        fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: 1, maxLength: 20 }),
        (total, weights) => {
          const shares = splitCents(total, weights);
          const sum = weights.reduce((all, weight) => all + weight, 0);
          expect(sumCents(shares)).toBe(total);
          shares.forEach((share, index) => {
            const exact = sum === 0 ? total / weights.length : (total * weights[index]!) / sum;
            expect(Math.abs(share - exact)).toBeLessThan(1 + 1e-9);
          });
        },
      ),
    );
  });

  it('gives equal weights shares in falling order', () => {
    fc.assert(
      fc.property(fc.nat({ max: 1000 }), fc.integer({ min: 1, max: 12 }), (total, count) => {
        const shares = splitCents(total, Array<number>(count).fill(1));
        return shares.every((share, index) => index === 0 || share <= shares[index - 1]!);
      }),
    );
  });

  it('refuses what cannot be shared', () => {
    expect(() => splitCents(1.5, [1])).toThrow(RangeError);
    expect(() => splitCents(Number.NaN, [1])).toThrow(RangeError);
    expect(() => splitCents(100, [])).toThrow(RangeError);
    expect(() => splitCents(100, [1, -1])).toThrow(RangeError);
    expect(() => splitCents(100, [1, Number.POSITIVE_INFINITY])).toThrow(RangeError);
  });
});

describe('sumCents', () => {
  it('adds whole amounts, also negative ones', () => {
    expect(sumCents([199, 1, -50])).toBe(150);
    expect(sumCents([])).toBe(0);
  });

  it('refuses parts of a minor unit', () => {
    expect(() => sumCents([1, 0.5])).toThrow(RangeError);
    expect(() => sumCents([Number.NaN])).toThrow(RangeError);
  });
});
