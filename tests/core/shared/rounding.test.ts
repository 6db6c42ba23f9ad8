import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ceilWhole, roundHalfUp } from '#core/shared/rounding.ts';

describe('roundHalfUp', () => {
  it.each([
    [0, 0],
    [0.4, 0],
    [0.5, 1],
    [1.5, 2],
    [-0.5, 0],
    [-1.5, -1],
    [-0.6, -1],
    [1.005 * 100, 101],
    [2.4999999999, 3],
    [2.49999, 2],
  ])('%d is %d', (value, expected) => {
    expect(roundHalfUp(value)).toBe(expected);
  });

  it('never gives -0', () => {
    expect(Object.is(roundHalfUp(-0.3), 0)).toBe(true);
    expect(Object.is(roundHalfUp(-0), 0)).toBe(true);
  });

  it('equals decimal arithmetic for amounts of four decimals, also below 0', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1_000_000_000, max: 1_000_000_000 }), (tenThousandths) => {
        const exact = new Decimal(tenThousandths).div(10_000).plus(0.5).floor().toNumber();
        return roundHalfUp(tenThousandths / 10_000) === exact + 0;
      }),
      { numRuns: 2000 },
    );
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])('refuses %d', (value) => {
    expect(() => roundHalfUp(value)).toThrow(RangeError);
    expect(() => ceilWhole(value)).toThrow(RangeError);
  });
});

describe('ceilWhole', () => {
  it.each([
    [3, 3],
    [3.000000001, 3],
    [3.00001, 4],
    [0.1 + 0.2 + 0.7, 1],
    [-0.5, 0],
    [-1, -1],
    [0, 0],
  ])('%d is %d', (value, expected) => {
    expect(Object.is(ceilWhole(value), expected)).toBe(true);
  });
});
