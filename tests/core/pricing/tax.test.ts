import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareHalfUp, shareWithin } from '#core/pricing/share.ts';
import { roundCash, taxAddedTo, taxIncludedIn, taxOfLines, vatFraction } from '#core/pricing/tax.ts';

const halfUp = (value: Decimal) => value.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber();
const rates = fc.integer({ min: 0, max: 300_000 }).map((millionths) => millionths / 1_000_000);

describe('vatFraction', () => {
  // HMRC, Calculating VAT for VAT-inclusive and VAT-exclusive prices; practitioners' tables of UK rates since 2008.
  it.each([
    [0.2, 1 / 6],
    [0.175, 7 / 47],
    [0.15, 3 / 23],
    [0.05, 1 / 21],
    [0, 0],
  ])('of %d', (rate, fraction) => {
    expect(vatFraction(rate)).toBeCloseTo(fraction, 12);
  });

  it('refuses a negative rate', () => {
    expect(() => vatFraction(-0.1)).toThrow(RangeError);
  });
});

describe('taxIncludedIn', () => {
  it.each([
    // Practitioners' tables of UK VAT rates and fractions.
    [12000, 0.2, 2000],
    [11750, 0.175, 1750],
    [11500, 0.15, 1500],
    // HMRC guide: net 100 at 20 % and 5 %, and back out again.
    [10500, 0.05, 500],
    // An accountant's page on the VAT fraction: gross 60 at 20 %, gross 80 at 5 %.
    [6000, 0.2, 1000],
    [8000, 0.05, 381],
    // HMRC VATREC12030: half a penny or more rounds up; 9.99 / 6 = 1.665.
    [999, 0.2, 167],
    [0, 0.2, 0],
  ])('%d at %d is %d', (paidCents, rate, tax) => {
    expect(taxIncludedIn(paidCents, rate)).toBe(tax);
  });

  it('equals exact decimal arithmetic, halves up, for any amount and rate', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), rates, (paidCents, rate) => {
        const exact = new Decimal(paidCents).times(rate).div(new Decimal(1).plus(rate));
        return taxIncludedIn(paidCents, rate) === halfUp(exact);
      }),
      { numRuns: 3000 },
    );
  });

  it('sends every true tie up, however large: a sixth of 3 + 6 n', () => {
    for (const n of [0, 1, 166, 123_456, 160_000_000]) expect(taxIncludedIn(3 + 6 * n, 0.2)).toBe(n + 1);
  });

  it('refuses parts of a minor unit', () => {
    expect(() => taxIncludedIn(9.5, 0.2)).toThrow(RangeError);
    expect(() => taxIncludedIn(900, -0.2)).toThrow(RangeError);
    expect(() => taxIncludedIn(Number.NaN, 0.2)).toThrow(RangeError);
  });
});

describe('taxAddedTo', () => {
  it.each([
    // HMRC guide: net 100 at 20 % and 5 % gives gross 120 and 105.
    [10000, 0.2, 2000],
    [10000, 0.05, 500],
    // Streamlined Sales and Use Tax Agreement, section 324: 0.686875 and 0.624375 at 6.25 %.
    [1099, 0.0625, 69],
    [999, 0.0625, 62],
    [10, 0.05, 1],
  ])('%d at %d is %d', (netCents, rate, tax) => {
    expect(taxAddedTo(netCents, rate)).toBe(tax);
  });

  it('equals exact decimal arithmetic, halves up, for any amount and rate', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), rates, (netCents, rate) => {
        return taxAddedTo(netCents, rate) === halfUp(new Decimal(netCents).times(rate));
      }),
      { numRuns: 3000 },
    );
  });
});

describe('shareHalfUp and shareWithin', () => {
  it('stay close even where whole millionths are no longer exact', () => {
    const huge = 2 ** 52;
    expect(shareHalfUp(huge, 0.5)).toBe(2 ** 51);
    expect(shareWithin(huge, 1)).toBe(2 ** 51);
  });
});

describe('taxOfLines', () => {
  // Three of 9.99 at 20 %: 3 x 1.67 = 5.01 by line, 29.97 / 6 = 4.995 -> 5.00 by invoice (HMRC VATREC12010 to 12030).
  it('differs by line and by invoice', () => {
    expect(taxOfLines([999, 999, 999], 0.2, true, 'line').totalCents).toBe(501);
    expect(taxOfLines([999, 999, 999], 0.2, true, 'invoice').totalCents).toBe(500);
  });

  it('has lines that add up to the total, in every way', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 100_000 }), { maxLength: 12 }),
        rates,
        fc.boolean(),
        fc.constantFrom('line' as const, 'invoice' as const),
        (amounts, rate, isTaxIncluded, rounding) => {
          const { totalCents, byLineCents } = taxOfLines(Object.freeze(amounts), rate, isTaxIncluded, rounding);
          expect(byLineCents).toHaveLength(amounts.length);
          expect(byLineCents.reduce((sum, cents) => sum + cents, 0)).toBe(totalCents);
          const byInvoice = taxOfLines(amounts, rate, isTaxIncluded, 'invoice').totalCents;
          expect(Math.abs(byInvoice - totalCents)).toBeLessThanOrEqual(amounts.length / 2 + 0.5);
        },
      ),
    );
  });

  it('is nothing without lines, and nothing for lines of nothing', () => {
    expect(taxOfLines([], 0.2, true, 'invoice')).toEqual({ totalCents: 0, byLineCents: [] });
    expect(taxOfLines([0, 0], 0.2, false, 'invoice')).toEqual({ totalCents: 0, byLineCents: [0, 0] });
  });
});

describe('roundCash', () => {
  // Government of Canada, Budget 2012: endings 1, 2, 6, 7 down, 3, 4, 8, 9 up.
  it.each([
    [100, 100],
    [101, 100],
    [102, 100],
    [103, 105],
    [104, 105],
    [105, 105],
    [106, 105],
    [107, 105],
    [108, 110],
    [109, 110],
  ])('%d is paid as %d', (total, cash) => {
    expect(roundCash(total)).toBe(cash);
  });

  it('comes after the tax: 1.83 + 2.86 with 5 % is 4.92, in cash 4.90', () => {
    const total = 183 + 286 + taxAddedTo(183 + 286, 0.05);
    expect(total).toBe(492);
    expect(roundCash(total)).toBe(490);
  });
});
