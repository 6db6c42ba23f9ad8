import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  amountsOfSale,
  type DayInput,
  dayAccount,
  type PaidHow,
  type SaleTerms,
  standingSales,
} from '#core/fair/day-account.ts';

const plain: SaleTerms = Object.freeze({
  feeRatio: 0,
  feeFixedCents: 0,
  taxRatio: 0,
  isTaxIncluded: true,
  rounding: 'line',
  cashStepCents: 1,
});
const pair = { priceCents: 4200, yarnCents: 600, materialsCents: 105, minutes: 210 };
const day: DayInput = Object.freeze({
  sales: [],
  terms: plain,
  floatCents: 5000,
  countedCents: null,
  tableFeeCents: 0,
  openMinutes: null,
  overheadCentsPerHour: 0,
});

describe('amountsOfSale', () => {
  it('takes tax that is within out of the price, one sixth of 12.00 at 20 %', () => {
    // The VAT fraction at 20 %: 1/6.
    expect(amountsOfSale([1200], 'cash', { ...plain, taxRatio: 0.2 })).toEqual({
      paidCents: 1200,
      taxCents: 200,
      feeCents: 0,
      netCents: 1000,
    });
  });

  it('rounds cash alone to the smallest coin, after tax', () => {
    // Government of Canada, Budget 2012: (1.83 + 2.86) with 5 % tax is 4.92: 4.90 in cash, 4.92 by card.
    const terms = { ...plain, taxRatio: 0.05, isTaxIncluded: false, rounding: 'invoice', cashStepCents: 5 } as const;
    expect(amountsOfSale([183, 286], 'cash', terms).paidCents).toBe(490);
    expect(amountsOfSale([183, 286], 'card', terms).paidCents).toBe(492);
  });

  it('takes the fee of a card payment and of no other', () => {
    // 2.9 % of 103.30 is 2.9957, half up 3.00, and 0.30.
    const terms = { ...plain, feeRatio: 0.029, feeFixedCents: 30 };
    expect(amountsOfSale([10330], 'card', terms).feeCents).toBe(330);
    expect(amountsOfSale([10330], 'cash', terms).feeCents).toBe(0);
    expect(amountsOfSale([10330], 'other', terms).feeCents).toBe(0);
    expect(amountsOfSale([0], 'card', terms).feeCents).toBe(0);
  });
});

describe('standingSales', () => {
  it('leaves out a sale that was taken back, and the row that takes it back', () => {
    const sales = [
      { id: 1, reversesId: null },
      { id: 2, reversesId: null },
      { id: 3, reversesId: 1 },
    ];
    expect(standingSales(sales)).toEqual([{ id: 2, reversesId: null }]);
    expect(standingSales([])).toEqual([]);
  });
});

describe('dayAccount', () => {
  it('works a whole day, by hand', () => {
    // Two in cash at 42.00, one by card at 45.00; card 1.75 %: 0.7875, so 0.79. Takings 129.00.
    // Earned 129.00 - 0.79 - 18.00 - 3 x 6.00 - 3 x 1.05 = 89.06. Six hours open: 14.84(3). Knitting 3 x 3.5 h at 0.40
    // running costs: (89.06 - 4.20) / 16.5 = 5.14(3).
    const account = dayAccount({
      ...day,
      terms: { ...plain, feeRatio: 0.0175 },
      sales: [
        { how: 'cash', pairs: [pair] },
        { how: 'cash', pairs: [pair] },
        { how: 'card', pairs: [{ ...pair, priceCents: 4500 }] },
      ],
      countedCents: 13_350,
      tableFeeCents: 1800,
      openMinutes: 360,
      overheadCentsPerHour: 40,
    });
    expect(account).toEqual({
      pairs: 3,
      cashCents: 8400,
      cardCents: 4500,
      otherCents: 0,
      takingsCents: 12_900,
      taxCents: 0,
      cardFeeCents: 79,
      tableFeeCents: 1800,
      yarnCents: 1800,
      materialsCents: 315,
      earnedCents: 8906,
      boxCents: 13_400,
      differenceCents: -50,
      knittingMinutes: 630,
      tableHourCents: 1484,
      workHourCents: 514,
    });
  });

  it('is a loss of the table fee when nothing was sold, and says no hour that is not known', () => {
    const account = dayAccount({ ...day, tableFeeCents: 2500 });
    expect(account).toMatchObject({ takingsCents: 0, earnedCents: -2500, boxCents: 5000, differenceCents: null });
    expect(account.tableHourCents).toBeNull();
    expect(account.workHourCents).toBeNull();
    expect(dayAccount({ ...day, tableFeeCents: 2500, openMinutes: 300 }).tableHourCents).toBe(-500);
  });

  it('refuses half cents', () => {
    expect(() => dayAccount({ ...day, floatCents: 0.5 })).toThrow('dayAccount: floatCents');
  });

  it('sums to the lines: takings, tax, fees and costs are those of the single sales', () => {
    const sales = fc.array(
      fc.record({
        how: fc.constantFrom<PaidHow>('cash', 'card', 'other'),
        pairs: fc.array(
          fc.record({
            priceCents: fc.nat(20_000),
            yarnCents: fc.nat(2000),
            materialsCents: fc.nat(300),
            minutes: fc.nat(600),
          }),
          { minLength: 1, maxLength: 3 },
        ),
      }),
      { maxLength: 8 },
    );
    const terms = fc.record({
      feeRatio: fc.constantFrom(0, 0.0175, 0.1),
      feeFixedCents: fc.constantFrom(0, 30),
      taxRatio: fc.constantFrom(0, 0.0625, 0.2),
      isTaxIncluded: fc.boolean(),
      rounding: fc.constantFrom('line' as const, 'invoice' as const),
      cashStepCents: fc.constantFrom(1, 5, 10),
    });
    fc.assert(
      fc.property(sales, terms, (some, saleTerms) => {
        const all = dayAccount({ ...day, sales: some, terms: saleTerms });
        const singles = some.map((sale) => dayAccount({ ...day, floatCents: 0, sales: [sale], terms: saleTerms }));
        for (const name of ['takingsCents', 'cashCents', 'taxCents', 'cardFeeCents', 'earnedCents', 'pairs'] as const) {
          expect(all[name]).toBe(singles.reduce((sum, single) => sum + single[name], 0));
        }
        expect(all.takingsCents).toBe(all.cashCents + all.cardCents + all.otherCents);
        expect(all.boxCents).toBe(5000 + all.cashCents);
        const { taxCents, cardFeeCents, yarnCents, materialsCents, earnedCents } = all;
        expect(taxCents + cardFeeCents + yarnCents + materialsCents + earnedCents).toBe(all.takingsCents);
      }),
    );
  });
});
