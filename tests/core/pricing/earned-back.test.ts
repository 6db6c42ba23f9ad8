import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breakEvenOfMix, carriedCents } from '#core/pricing/earned-back.ts';

describe('carriedCents', () => {
  // Principles of Accounting 2 (OpenStax, 2019), chapter 4: 33.50 an hour over 6 240 hours applies 209 040; actual
  // overhead 25 000 + 31 750 + 50 000 + 17 500 + 85 000 = 209 250, so 210 are under-applied.
  it('is 209 040 for 6 240 hours at 33.50, and 210 stay open of 209 250', () => {
    const carried = carriedCents(6240 * 60, 3350);
    expect(carried).toBe(20_904_000);
    const paid = [25_000, 31_750, 50_000, 17_500, 85_000].reduce((sum, each) => sum + each * 100, 0);
    expect(paid - carried).toBe(21_000);
  });

  it('refuses negative minutes', () => {
    expect(() => carriedCents(-1, 10)).toThrow(RangeError);
  });
});

describe('breakEvenOfMix', () => {
  // Same book, chapter 3: mix 3:1, contributions 6 and 4, fixed 220 000: 10 000 sets of four, 40 000 units.
  it('is 40 000 units for a mix of 3:1', () => {
    const even = breakEvenOfMix(220_000, [
      { pairs: 3, contributionCents: 6 },
      { pairs: 1, contributionCents: 4 },
    ]);
    expect(even).toEqual({ ok: true, value: { contributionCents: 5.5, pairs: 40_000 } });
  });

  // Same book: 5:3:2 at contributions 3.00, 3.25 and 3.00, fixed 145 000: 4 715.45 sets of ten, 47 155 units rounded up.
  it('is 47 155 units for a mix of 5:3:2', () => {
    const even = breakEvenOfMix(14_500_000, [
      { pairs: 5, contributionCents: 300 },
      { pairs: 3, contributionCents: 325 },
      { pairs: 2, contributionCents: 300 },
    ]);
    expect(even.ok && even.value.pairs).toBe(47_155);
  });

  it('is none when nothing is fixed, and a problem when the mix loses', () => {
    expect(breakEvenOfMix(0, [{ pairs: 2, contributionCents: -5 }])).toMatchObject({ ok: true, value: { pairs: 0 } });
    expect(breakEvenOfMix(1, [{ pairs: 2, contributionCents: -5 }]).ok).toBe(false);
  });

  it('covers the fixed costs, and one pair less does not', () => {
    const entry = fc.record({
      pairs: fc.integer({ min: 1, max: 20 }),
      contributionCents: fc.integer({ min: 1, max: 5000 }),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1_000_000 }),
        fc.array(entry, { minLength: 1, maxLength: 6 }),
        (fixed, mix) => {
          const even = breakEvenOfMix(fixed, mix);
          if (!even.ok) throw new Error('a mix that leaves something breaks even');
          const { pairs, contributionCents } = even.value;
          expect(pairs * contributionCents).toBeGreaterThanOrEqual(fixed * (1 - 1e-9));
          expect((pairs - 1) * contributionCents).toBeLessThan(fixed);
        },
      ),
    );
  });
});
