import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pagingOf, rowsOn } from '#core/shared/paging.ts';

describe('pagingOf', () => {
  it('puts every row on one page and one only', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.integer({ min: 1, max: 9 }), (count, size) => {
        const rows = Array.from({ length: count }, (_, index) => index);
        const { pages } = pagingOf(count, { page: 1, size });
        const parts = Array.from({ length: pages }, (_, index) =>
          rowsOn(rows, pagingOf(count, { page: index + 1, size })),
        );
        expect(parts.flat()).toEqual(rows);
        expect(parts.slice(0, -1).every((part) => part.length === size)).toBe(true);
      }),
    );
  });

  it('refuses a page before the first', () => {
    expect(() => pagingOf(10, { page: 0, size: 5 })).toThrow('pagingOf: page must be a whole number from 1');
    expect(() => pagingOf(10, { page: 1, size: 0 })).toThrow('pagingOf: size must be a whole number from 1');
  });
});
