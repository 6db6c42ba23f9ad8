import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oddPrice } from '#core/pricing/odd-price.ts';

describe('oddPrice', () => {
  it('names a tenth of the cost or less, and ten times the usual price or more', () => {
    expect(oddPrice(620, 6200, 8900)).toBe('far below cost');
    expect(oddPrice(621, 6200, 8900)).toBeNull();
    expect(oddPrice(89_000, 6200, 8900)).toBe('far above usual');
    expect(oddPrice(88_999, 6200, 8900)).toBeNull();
  });

  it('says nothing of a gift, nor against a usual price that cannot be made', () => {
    expect(oddPrice(0, 6200, 8900)).toBeNull();
    expect(oddPrice(123_450, 6200, null)).toBeNull();
    expect(() => oddPrice(-1, 6200, 8900)).toThrow(RangeError);
  });

  it('says nothing between half the cost and double the usual price', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 100_000 }),
        fc.integer({ min: 1, max: 100_000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (cost, usual, share) => {
          const agreed = Math.max(cost / 2, usual / 2) + share * Math.max(0, 2 * usual - Math.max(cost / 2, usual / 2));
          fc.pre(agreed <= 2 * usual);
          expect(oddPrice(agreed, cost, usual)).toBeNull();
        },
      ),
    );
  });
});
