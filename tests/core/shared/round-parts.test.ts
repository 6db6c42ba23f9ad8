import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roundParts } from '#core/shared/round-parts.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

describe('roundParts', () => {
  it('gives the missing whole to the largest fractions', () => {
    // 33.4 + 33.3 + 33.3 = 100; floors make 99, the largest fraction gets the one that is missing.
    expect(roundParts([33.3, 33.4, 33.3])).toEqual([33, 34, 33]);
    expect(roundParts([0, 0])).toEqual([0, 0]);
    expect(roundParts([52, 30, -2])).toEqual([52, 30, -2]);
  });

  it('adds up to the rounded total, each part less than 1 away', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50_000, max: 500_000 }), { maxLength: 8 }), (milli) => {
        const parts = milli.map((each) => each / 1000);
        const rounded = roundParts(parts);
        const total = milli.reduce((sum, each) => sum + each, 0) / 1000;
        expect(rounded.reduce((sum, each) => sum + each, 0)).toBe(roundHalfUp(total));
        for (const [index, part] of parts.entries()) expect(Math.abs(rounded[index]! - part)).toBeLessThan(1);
      }),
    );
  });

  it('throws on what is no number', () => {
    expect(() => roundParts([Number.NaN])).toThrow(RangeError);
  });
});
