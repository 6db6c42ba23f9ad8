import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differenceToBook } from '#core/shelf/stocktake.ts';

describe('differenceToBook', () => {
  it('books nothing that the scale cannot tell, and all of what it can', () => {
    // A scale in grams shows 43 g for everything from 42.5 up to 43.5 g.
    expect(differenceToBook(42_500, 43_000, 1000)).toBe(0);
    expect(differenceToBook(43_499, 43_000, 1000)).toBe(0);
    expect(differenceToBook(43_500, 43_000, 1000)).toBe(-500);
    expect(differenceToBook(42_499, 43_000, 1000)).toBe(501);
  });

  it('an empty scale takes all of it, however little it was', () => {
    expect(differenceToBook(300, 0, 1000)).toBe(-300);
    expect(differenceToBook(0, 0, 1000)).toBe(0);
  });

  it('leads to what the scale shows, or stays within a step of it', () => {
    const mg = fc.integer({ min: 0, max: 500_000 });
    fc.assert(
      fc.property(mg, mg, fc.constantFrom(1, 10, 100, 1000, 5000), (book, shown, step) => {
        const after = book + differenceToBook(book, shown, step);
        expect(after).toBeGreaterThanOrEqual(0);
        expect(Math.abs(after - shown)).toBeLessThan(step);
      }),
    );
  });

  it.each([
    [-1, 0, 1],
    [0, -1, 1],
    [0, 0, 0],
    [Number.NaN, 0, 1],
  ])('throws for %s, %s, %s', (book, shown, step) => {
    expect(() => differenceToBook(book, shown, step)).toThrow(RangeError);
  });
});
