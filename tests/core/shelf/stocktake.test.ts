import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differenceToBook, isLikelySlip, type LotHolder, pairsLeftShort } from '#core/shelf/stocktake.ts';

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

describe('isLikelySlip', () => {
  it.each([
    // A 100 g ball: one and a half times is still possible, more is asked about.
    [100_000, 100_000, 150_000, false],
    [100_000, 100_000, 150_001, true],
    [100_000, 100_000, 10_000_000, true],
    // A cone of 300 g of a yarn in balls of 100 g.
    [300_000, 100_000, 3_000_000, true],
    // Written down as 5 g by a slip: a whole ball is possible.
    [5000, 100_000, 100_000, false],
    [0, 100_000, 0, false],
  ])('%i mg written down, balls of %i, %i shown: %s', (book, whole, shown, expected) => {
    expect(isLikelySlip(book, whole, shown)).toBe(expected);
  });

  it.each([
    [-1, 1, 1],
    [1, 0, 1],
    [1, 1, Number.NaN],
  ])('throws for %s, %s, %s', (book, whole, shown) => {
    expect(() => isLikelySlip(book, whole, shown)).toThrow(RangeError);
  });
});

describe('pairsLeftShort', () => {
  const pair = (mg: number, dueDay: string | null = null, isUnderWay = false): LotHolder => ({
    mg,
    dueDay,
    isUnderWay,
  });
  const early = pair(50_000, '2026-12-01');
  const late = pair(50_000, '2026-12-20');
  const never = pair(50_000);

  it('is nobody where there is enough, to the milligram', () => {
    expect(pairsLeftShort(150_000, [late, early, never], 0)).toEqual([]);
    expect(pairsLeftShort(0, [], 0)).toEqual([]);
  });

  it('is whoever is due last, and before them whoever has no day', () => {
    expect(pairsLeftShort(149_999, [never, late, early], 0)).toEqual([never]);
    expect(pairsLeftShort(99_999, [never, late, early], 0)).toEqual([never, late]);
    expect(pairsLeftShort(0, [never, late, early], 0)).toEqual([never, late, early]);
  });

  it('is last whoever has knitted some of it, since another lot would show', () => {
    const underWay = pair(50_000, '2027-03-01', true);
    expect(pairsLeftShort(50_000, [early, underWay], 0)).toEqual([early]);
  });

  it('leaves a small pair what is too little for a large one before it', () => {
    // 100 g: 60 g stay with the first, 50 g are too many, 30 g fit.
    const [first, second, third] = [pair(60_000, '2026-12-01'), pair(50_000, '2026-12-02'), pair(30_000, '2026-12-03')];
    expect(pairsLeftShort(100_000, [first, second, third], 0)).toEqual([second]);
  });

  it('takes so little as the scale cannot show for nothing', () => {
    expect(pairsLeftShort(99_000, [early, late], 1000)).toEqual([]);
    expect(pairsLeftShort(98_999, [early, late], 1000)).toEqual([late]);
  });

  it('lets nobody go without who would still fit', () => {
    const holder = fc.record({
      mg: fc.integer({ min: 0, max: 200_000 }),
      dueDay: fc.constantFrom(null, '2026-12-01', '2026-12-20'),
      isUnderWay: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(holder, { maxLength: 8 }), fc.integer({ min: 0, max: 600_000 }), (holders, massMg) => {
        const short = pairsLeftShort(massMg, holders, 0);
        const keptMg = holders.filter((each) => !short.includes(each)).reduce((sum, { mg }) => sum + mg, 0);
        expect(keptMg).toBeLessThanOrEqual(massMg);
        for (const { mg } of short) expect(keptMg + mg).toBeGreaterThan(massMg);
      }),
    );
  });

  it.each([
    [-1, 0, 0],
    [0, -1, 0],
    [0, 0, -1],
  ])('throws for %s, %s, %s', (mass, mg, step) => {
    expect(() => pairsLeftShort(mass, [pair(mg)], step)).toThrow(RangeError);
  });
});
