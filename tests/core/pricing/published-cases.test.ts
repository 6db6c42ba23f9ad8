import { describe, expect, it } from 'vitest';
import { costOfPair } from '#core/pricing/cost.ts';
import { addCosts } from '#core/pricing/cost-pairs.ts';
import { marginOfMarkup } from '#core/pricing/margin.ts';
import { breakEvenPairs, overheadRate } from '#core/pricing/overhead.ts';
import { hourWorth } from '#core/pricing/price.ts';

// Worked cases of Principles of Accounting 2, Managerial Accounting (Franklin, Graybeal, Cooper; OpenStax, 2019), put
// through the rules that a pair of slippers is costed and priced by. Amounts are in whole minor units of 1.00.

const none = { yarnCents: 0, materialsCents: 0, minutes: 0, wageCentsPerHour: 0, overheadCentsPerHour: 0 };
/** A job whose overhead is 2.50 for each unit of labour cost: an hour at the labour cost carries 2.5 times as much. */
const job = (material: number, labour: number) =>
  costOfPair({
    ...none,
    materialsCents: material * 100,
    minutes: 60,
    wageCentsPerHour: labour * 100,
    overheadCentsPerHour: labour * 100 * overheadRate(250_000, 100_000),
  });

describe('job costing, chapter 4', () => {
  it('a job of 700 and 66 carries 165, costs 931, and earns 1 069 at 2 000', () => {
    const { overheadCents, totalCents } = job(700, 66);
    expect([overheadCents, totalCents, 200_000 - totalCents]).toEqual([16_500, 93_100, 106_900]);
  });

  it('a job of 1 000 brought forward, 200 and 150 carries 375 and costs 1 725', () => {
    expect(job(1200, 150)).toMatchObject({ overheadCents: 37_500, totalCents: 172_500 });
  });

  it('four jobs are 5 212 together: 2 462 sold, 1 725 finished, 1 025 under way', () => {
    const costs = [1531, 1725, 931, 1025].map((total) => costOfPair({ ...none, materialsCents: total * 100 }));
    expect(addCosts(costs).totalCents).toBe(521_200);
    expect(addCosts([costs[0]!, costs[2]!]).totalCents).toBe(246_200);
  });

  it('90 hours at 16 with 1 550 of material are 4 340 by labour hours and 5 240 by machine hours', () => {
    const labourBase = costOfPair({
      ...none,
      materialsCents: 155_000,
      minutes: 90 * 60,
      wageCentsPerHour: 1600,
      overheadCentsPerHour: overheadRate(900_000, 60_000) * 100,
    });
    expect(labourBase.totalCents).toBe(434_000);
    // 75 machine hours at 30 spread over the 90 hours of labour.
    const machineBase = (overheadRate(900_000, 30_000) * 75 * 100) / 90;
    const other = costOfPair({
      ...none,
      materialsCents: 155_000,
      minutes: 90 * 60,
      wageCentsPerHour: 1600,
      overheadCentsPerHour: machineBase,
    });
    expect(other.totalCents).toBe(524_000);
  });

  // Hours of a product over its units: 2.5, 4 and 2 hours; labour 10.00, 2.75 and 4.30 a unit.
  it.each([
    ['first', 350_000 / 140_000, 350, 1000, 2000, 500, 1850, 150],
    ['second', 400_000 / 100_000, 600, 275, 2500, 800, 1675, 825],
    ['third', 500_000 / 250_000, 1170, 430, 3000, 400, 2000, 1000],
  ])(
    'the %s of three products has its overhead, cost and profit a unit',
    (_, hours, material, labour, price, overhead, cost, profit) => {
      const unit = costOfPair({
        ...none,
        materialsCents: material,
        minutes: hours * 60,
        wageCentsPerHour: labour / hours,
        overheadCentsPerHour: overheadRate(2_500_000, 1_250_000) * 100,
      });
      expect(unit).toMatchObject({ overheadCents: overhead, totalCents: cost });
      expect(price - unit.totalCents).toBe(profit);
    },
  );

  it('a repair billed 310 costs 192: 38.06 % of the price is margin, a part at 70 for 42 has 66.67 % and 40 %', () => {
    const bill = 7000 + 3 * 8000;
    const { totalCents } = costOfPair({
      ...none,
      materialsCents: 4200,
      minutes: 180,
      wageCentsPerHour: 2500,
      overheadCentsPerHour: 2500,
    });
    expect([bill, totalCents]).toEqual([31_000, 19_200]);
    expect((bill - totalCents) / bill).toBeCloseTo(0.3806, 4);
    expect(7000 / 4200 - 1).toBeCloseTo(0.6667, 4);
    expect(marginOfMarkup(7000 / 4200 - 1)).toBeCloseTo(0.4, 9);
  });
});

describe('break-even with a profit after tax, chapter 3', () => {
  it('24 000 after 40 % tax are 40 000 before, and 725 units', () => {
    const before = 24_000 / (1 - 0.4);
    expect(before).toBeCloseTo(40_000, 9);
    expect(breakEvenPairs(18_000 + 40_000, 80)).toEqual({ ok: true, value: 725 });
    expect(breakEvenPairs(18_000, 80)).toEqual({ ok: true, value: 225 });
  });
});

describe('scarce hours, chapter 10', () => {
  // Contributions 185, 55 and 48 in 1, 0.5 and 0.25 hours; 80 000 hours; orders for 60 000, 40 000 wanted of each other.
  const products = [
    { name: 'desk', minutes: 60, contributionCents: 18_500, wanted: 60_000 },
    { name: 'chair', minutes: 30, contributionCents: 5500, wanted: 48_000 },
    { name: 'bookcase', minutes: 15, contributionCents: 4800, wanted: 40_000 },
  ];
  const worth = (product: (typeof products)[number]) => hourWorth(product.contributionCents, 0, product.minutes)!;

  it('an hour is worth 185, 110 and 192', () => {
    expect(products.map(worth)).toEqual([18_500, 11_000, 19_200]);
  });

  it('made by what an hour is worth, 80 000 hours leave 14 120 000', () => {
    let minutesLeft = 80_000 * 60;
    let totalCents = 0;
    const made: Record<string, number> = {};
    for (const product of [...products].sort((a, b) => worth(b) - worth(a))) {
      const count = Math.min(product.wanted, Math.floor(minutesLeft / product.minutes));
      minutesLeft -= count * product.minutes;
      totalCents += count * product.contributionCents;
      made[product.name] = count;
    }
    expect(made).toEqual({ bookcase: 40_000, desk: 60_000, chair: 20_000 });
    expect(totalCents).toBe(1_412_000_000);
  });
});
