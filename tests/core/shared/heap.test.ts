import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { popFrom, pushOnto } from '#core/shared/heap.ts';

const isBefore = (a: number, b: number) => a < b;

describe('pushOnto, popFrom', () => {
  it('give entries back in order, whatever order they came in', () => {
    fc.assert(
      fc.property(fc.array(fc.integer()), (values) => {
        const heap: number[] = [];
        for (const value of values) pushOnto(heap, value, isBefore);
        expect(values.map(() => popFrom(heap, isBefore))).toEqual([...values].sort((a, b) => a - b));
      }),
      { seed: 41 },
    );
  });

  it('refuses to take from nothing', () => {
    expect(() => popFrom([], isBefore)).toThrow(RangeError);
  });
});
