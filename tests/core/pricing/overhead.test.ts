import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breakEvenMix, breakEvenPairs, overheadFigure, overheadRate } from '#core/pricing/overhead.ts';
import type { Result } from '#core/shared/problem.ts';

function valueIn<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]!.message);
  return result.value;
}

describe('overheadRate', () => {
  // Principles of Accounting 2 (OpenStax, 2019), chapter 4.
  it.each([
    ['labour cost', 250_000, 100_000, 2.5],
    ['hours', 50_000, 5000, 10],
    ['hours', 900_000, 60_000, 15],
    ['machine hours', 900_000, 30_000, 30],
    ['hours', 2_500_000, 1_250_000, 2],
  ])('on %s: %d / %d is %d', (_, costs, base, rate) => {
    expect(overheadRate(costs, base)).toBe(rate);
    expect(overheadFigure(costs, base).value).toBe(rate);
  });

  // Same book: rent of 1 000 a month over 500 and over 2 000 units.
  it('falls when more is made', () => {
    expect([overheadRate(1000, 500), overheadRate(1000, 2000)]).toEqual([2, 0.5]);
  });

  it('refuses no hours and negative costs', () => {
    expect(() => overheadRate(1000, 0)).toThrow(RangeError);
    expect(() => overheadRate(-1, 10)).toThrow(RangeError);
    expect(() => overheadFigure(1000, 0)).toThrow(RangeError);
  });
});

describe('breakEvenPairs', () => {
  // Principles of Accounting 2 (OpenStax, 2019), chapter 3: price 100, variable 20, fixed 18 000.
  it('is 225 units, and 425 with a profit of 16 000 on top', () => {
    expect(valueIn(breakEvenPairs(18_000, 80))).toBe(225);
    expect(valueIn(breakEvenPairs(18_000 + 16_000, 80))).toBe(425);
    expect(175 * 80 - 18_000).toBe(-4000);
    expect(300 * 80 - 18_000).toBe(6000);
  });

  // Same chapter: price 90, variable 40, fixed 85 000, then 10 000 more.
  it('is 1 700 units, and 1 900 with 10 000 more of fixed costs', () => {
    expect(valueIn(breakEvenPairs(85_000, 50))).toBe(1700);
    expect(valueIn(breakEvenPairs(95_000, 50))).toBe(1900);
  });

  it('is no pairs when nothing is fixed, even when a pair leaves nothing', () => {
    expect(valueIn(breakEvenPairs(0, 80))).toBe(0);
    expect(valueIn(breakEvenPairs(0, -5))).toBe(0);
  });

  it.each([0, -5])('never comes when a pair leaves %d', (contributionCents) => {
    const result = breakEvenPairs(1, contributionCents);
    expect(!result.ok && result.problems[0]!.message).toContain('Raise the price or lower the cost.');
  });

  it('covers the fixed costs, and one pair less does not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10_000_000 }),
        fc.integer({ min: 1, max: 20_000 }),
        (fixed, contribution) => {
          const pairs = valueIn(breakEvenPairs(fixed, contribution));
          return pairs * contribution >= fixed && (pairs - 1) * contribution < fixed;
        },
      ),
    );
  });
});

describe('breakEvenMix', () => {
  // Principles of Accounting 2 (OpenStax, 2019), chapter 3: mix 5:3:2, prices 6.25, 7.75, 9.25, variable 3.25, 4.50,
  // 6.25, fixed 145 000. The book multiplies the unrounded number of sets: 23 577, 14 146, 9 431.
  it('is 4 716 sets of 5:3:2', () => {
    const shares = [5, 3, 2];
    const contributions = [3, 3.25, 3];
    const mix = shares.map((share, index) => ({ share, contributionCents: contributions[index]! }));
    const even = valueIn(breakEvenMix(145_000, mix));
    expect(even.contributionCents).toBe(30.75);
    expect(even.sets).toBeCloseTo(4715.45, 2);
    expect(even.wholeSets).toBe(4716);
    expect(shares.map((share) => Math.round(share * even.sets))).toEqual([23_577, 14_146, 9431]);
    expect(even.pairs).toEqual([23_580, 14_148, 9432]);
  });

  // Same chapter, table: mix 3:1, contributions 6 and 4, fixed 220 000.
  it('is 10 000 sets of 3:1', () => {
    const mix = [
      { share: 3, contributionCents: 6 },
      { share: 1, contributionCents: 4 },
    ];
    expect(valueIn(breakEvenMix(220_000, Object.freeze(mix)))).toEqual({
      contributionCents: 22,
      sets: 10_000,
      wholeSets: 10_000,
      pairs: [30_000, 10_000],
    });
  });

  it('may hold a kind that loses, as long as the set does not', () => {
    const mix = [
      { share: 1, contributionCents: 10 },
      { share: 1, contributionCents: -4 },
    ];
    expect(valueIn(breakEvenMix(12, mix)).wholeSets).toBe(2);
    expect(breakEvenMix(12, [{ share: 1, contributionCents: -4 }]).ok).toBe(false);
    expect(valueIn(breakEvenMix(0, [{ share: 1, contributionCents: -4 }])).pairs).toEqual([0]);
  });

  it('refuses an empty mix and shares of nothing', () => {
    expect(() => breakEvenMix(1, [])).toThrow(RangeError);
    expect(() => breakEvenMix(1, [{ share: 0, contributionCents: 1 }])).toThrow(RangeError);
  });
});
