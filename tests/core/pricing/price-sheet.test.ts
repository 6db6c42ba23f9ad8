import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { costOfPair } from '#core/pricing/cost.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import { netOf } from '#core/pricing/price.ts';
import { priceFor } from '#core/pricing/price-sheet.ts';
import { anyOutlet, outletWith } from '#tests/core/pricing/outlets.ts';

const cost: CostParts = Object.freeze({
  yarnCents: 700,
  materialsCents: 100,
  labourCents: 3600,
  overheadCents: 200,
  totalCents: 4600,
});

const anyWork = fc.record({
  yarnCents: fc.integer({ min: 0, max: 3000 }),
  materialsCents: fc.integer({ min: 0, max: 500 }),
  minutes: fc.integer({ min: 1, max: 600 }),
  wageCentsPerHour: fc.integer({ min: 1, max: 3000 }),
  overheadCentsPerHour: fc.integer({ min: 0, max: 300 }),
});

describe('priceFor', () => {
  it('takes a price apart and draws both lines', () => {
    // 46 / (1 - 0.3) = 65.7143 without tax, 78.8571 with 20 %, up to 79.00; tax 13.17, left 65.83, (65.83 - 10) / 3 h = 18.61
    const outlet = outletWith({ taxRatio: 0.2, endingCents: 0 });
    expect(priceFor(cost, 180, outlet, 1200)).toEqual({
      priceCents: 7900,
      paidCents: 7900,
      taxCents: 1317,
      feeCents: 0,
      netCents: 6583,
      getsMoneyBackCents: 1200,
      paysWageCents: 5520,
      hourWorthCents: 1861,
      isBelowMoneyBack: false,
      isBelowWage: false,
      problems: [],
    });
  });

  it('says what an hour earns between the two lines', () => {
    const row = priceFor(cost, 180, outletWith({ priceRule: 'fixed', fixedPriceCents: 2800 }), 1200);
    expect([row.hourWorthCents, row.isBelowMoneyBack, row.isBelowWage]).toEqual([600, false, true]);
  });

  it('says when not even the money comes back', () => {
    const row = priceFor(cost, 180, outletWith({ priceRule: 'fixed', fixedPriceCents: 999 }), 1200);
    expect([row.hourWorthCents, row.isBelowMoneyBack, row.isBelowWage]).toEqual([0, true, true]);
    expect(priceFor(cost, 180, outletWith({ priceRule: 'fixed', fixedPriceCents: 1000 }), 1200).isBelowMoneyBack).toBe(
      false,
    );
  });

  it('has no wage line without a wage', () => {
    const unpaid = { ...cost, labourCents: 0, totalCents: 1000 };
    const row = priceFor(unpaid, 180, outletWith(), 0);
    expect([row.paysWageCents, row.isBelowWage, row.getsMoneyBackCents]).toEqual([null, false, 1000]);
  });

  it('gives a gift away: price 0, no lines, no problem', () => {
    const row = priceFor(cost, 180, outletWith({ kind: 'gift', feeRatio: 1, feeFixedCents: 50, taxRatio: 0.2 }), 1200);
    expect(row).toEqual({
      priceCents: 0,
      paidCents: 0,
      taxCents: 0,
      feeCents: 0,
      netCents: 0,
      getsMoneyBackCents: null,
      paysWageCents: null,
      hourWorthCents: null,
      isBelowMoneyBack: false,
      isBelowWage: false,
      problems: [],
    });
  });

  it('keeps the lines when only the margin is impossible', () => {
    const row = priceFor(cost, 180, outletWith({ priceRatio: 1 }), 1200);
    expect([row.priceCents, row.netCents, row.hourWorthCents]).toEqual([null, null, null]);
    expect([row.getsMoneyBackCents, row.paysWageCents]).toEqual([1000, 4600]);
    expect(row.problems.map(({ code }) => code)).toEqual(['priceImpossible']);
  });

  it('has no lines when fees take everything', () => {
    const row = priceFor(cost, 180, outletWith({ feeRatio: 1 }), 1200);
    expect([row.priceCents, row.getsMoneyBackCents, row.paysWageCents]).toEqual([null, null, null]);
    expect(row.problems).toHaveLength(1);
  });

  it('has no hour to value when there is no work', () => {
    const bought = { ...cost, labourCents: 0, totalCents: 1000 };
    expect(priceFor(bought, 0, outletWith(), 1200).hourWorthCents).toBeNull();
  });

  it('pays the wage from its line on, and not one minor unit below; so with the money', () => {
    fc.assert(
      fc.property(anyWork, anyOutlet, (work, outlet) => {
        const parts = costOfPair(work);
        const row = priceFor(parts, work.minutes, outlet, work.wageCentsPerHour);
        const lines = [
          [row.paysWageCents!, parts.totalCents],
          [row.getsMoneyBackCents!, parts.totalCents - parts.labourCents],
        ] as const;
        for (const [line, toCover] of lines) {
          expect(netOf(line, outlet).netCents).toBeGreaterThanOrEqual(toCover);
          if (line > 0) expect(netOf(line - 1, outlet).netCents).toBeLessThan(toCover);
        }
        expect(row.getsMoneyBackCents!).toBeLessThanOrEqual(row.paysWageCents!);
        expect(row.isBelowWage).toBe(row.priceCents! < row.paysWageCents!);
        expect(row.isBelowMoneyBack).toBe(row.priceCents! < row.getsMoneyBackCents!);
      }),
      { numRuns: 1000 },
    );
  });

  it('never lowers a price for a higher wage', () => {
    fc.assert(
      fc.property(anyWork, fc.integer({ min: 0, max: 500 }), anyOutlet, (work, more, outlet) => {
        const [low, high] = [work.wageCentsPerHour, work.wageCentsPerHour + more].map((wageCentsPerHour) =>
          priceFor(costOfPair({ ...work, wageCentsPerHour }), work.minutes, outlet, wageCentsPerHour),
        );
        return low!.priceCents! <= high!.priceCents! && low!.paysWageCents! <= high!.paysWageCents!;
      }),
      { numRuns: 500 },
    );
  });
});
