import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enoughAt, sdOf } from '#core/shared/estimate.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { type PairsOfKind, yarnNeeds, yarnOfPair } from '#core/yardage/needs.ts';
import { handOf, kindOf, type PairWish, yarnOf } from '#tests/support/knit-cases.ts';

const woman: PairWish = Object.freeze({ person: 'woman', lengthMm: 240 });

function pairs(wish: PairWish, count: number, handKey = 'hand'): PairsOfKind {
  const kind = kindOf(wish);
  const { spec } = specifyWithWorking(kind.shape, { ...handOf(wish), key: handKey });
  return Object.freeze({ kind, spec, count });
}

// One EU 38 in one colour, by hand: foot in stocking 81.1474 g, rib 4.5588 + 16.8012 g.
// Shared: 7 % of 81.1474 = 5.6803 and 11 % of 21.3600 = 2.3496: fabrics err on their own, root of squares 6.1472.
// Own: 5 % of each part, squares 16.4623 + 0.0520 + 0.7057 = 17.2199.
describe('yarnNeeds', () => {
  it('one pair', () => {
    const [need, ...rest] = yarnNeeds([pairs(woman, 1)]);
    expect(rest).toEqual([]);
    expect(need!.grams.mean).toBeCloseTo(102.5074, 3);
    expect(need!.grams.sharedSd).toBeCloseTo(6.1472, 3);
    expect(need!.grams.ownVariance).toBeCloseTo(17.2199, 3);
    // 102.5074 + 1.2816 x sqrt(37.788 + 17.220) = 112.0126
    expect(enoughAt(need!.grams, 0.9)).toBeCloseTo(112.0126, 2);
  });

  it('ten like pairs: what they share grows tenfold, what is their own by the root of ten', () => {
    const [one] = yarnNeeds([pairs(woman, 1)]);
    const [ten] = yarnNeeds([pairs(woman, 10)]);
    expect(ten!.grams.mean).toBeCloseTo(1025.074, 2);
    expect(ten!.grams.sharedSd).toBeCloseTo(61.472, 2);
    expect(ten!.grams.ownVariance).toBeCloseTo(172.199, 2);
    // sqrt(3778.8 + 172.2) = 62.857; x 1.2816 + 1025.074 = 1105.63
    expect(enoughAt(ten!.grams, 0.9)).toBeCloseTo(1105.63, 1);
    expect(sdOf(ten!.grams)).toBeLessThan(10 * sdOf(one!.grams));
  });

  it('another size in the same hand shares the error, another hand does not', () => {
    const [one] = yarnNeeds([pairs(woman, 1)]);
    const long: PairWish = { person: 'woman', lengthMm: 253 };
    const [longOne] = yarnNeeds([pairs(long, 1)]);
    const [together] = yarnNeeds([pairs(woman, 1), pairs(long, 1)]);
    // Within the hand each fabric's errors add: not quite the sum of the roots, never more.
    expect(together!.grams.sharedSd).toBeLessThanOrEqual(one!.grams.sharedSd + longOne!.grams.sharedSd + 1e-9);
    expect(together!.grams.sharedSd).toBeGreaterThan(0.999 * (one!.grams.sharedSd + longOne!.grams.sharedSd));
    const [apart] = yarnNeeds([pairs(woman, 5), pairs(woman, 5, 'other')]);
    expect(apart!.grams.sharedSd).toBeCloseTo(Math.SQRT2 * 5 * 6.1472, 2);
    expect(apart!.grams.mean).toBeCloseTo(1025.074, 2);
  });

  it('keeps colours apart, sorted, and shares nothing between them', () => {
    const needs = yarnNeeds([pairs({ ...woman, cuffColour: 7 }, 2)]);
    expect(needs.map((need) => need.yarnColourId)).toEqual([1, 7]);
    // Cuff 8.37545 m and an end of 0.15 m, x 2.006 x 2 pairs = 34.2041.
    expect(needs[1]!.grams.mean).toBeCloseTo(34.2041, 3);
    expect(needs[1]!.grams.sharedSd).toBeCloseTo(0.11 * 34.2041, 3);
    expect(yarnNeeds([pairs({ ...woman, cuffColour: 7 }, 2)], 7)).toEqual([needs[1]]);
    expect(yarnNeeds([pairs({ ...woman, cuffColour: 7 }, 2)], 99)).toEqual([]);
  });

  it('nothing for no pairs', () => {
    expect(yarnNeeds([])).toEqual([]);
    expect(yarnNeeds([pairs(woman, 0)])).toEqual([]);
  });

  it('two strands of one colour weigh as one of twice the tex, and err alike', () => {
    const strand = yarnOf(500, { ballMg: 50_000, needleMm: 7 });
    const [one] = yarnNeeds([pairs({ ...woman, yarns: [yarnOf(1000)] }, 3)]);
    const [two] = yarnNeeds([pairs({ ...woman, yarns: [strand, strand] }, 3)]);
    expect(two!.grams.mean).toBeCloseTo(one!.grams.mean, 9);
    expect(two!.grams.sharedSd).toBeCloseTo(one!.grams.sharedSd, 9);
    expect(two!.metres.mean).toBeCloseTo(2 * one!.metres.mean, 9);
  });

  it('is the sum of its pairs, whatever their order and grouping, and more pairs never need less', () => {
    const wish = fc.record({
      person: fc.constantFrom('woman' as const, 'man' as const, 'child' as const),
      lengthMm: fc.integer({ min: 120, max: 300 }),
      cuffColour: fc.integer({ min: 1, max: 3 }),
    });
    const group = fc.record({ wish, count: fc.integer({ min: 1, max: 4 }), hand: fc.constantFrom('a', 'b') });
    fc.assert(
      fc.property(fc.array(group, { minLength: 1, maxLength: 6 }), (groups) => {
        const list = groups.map((each) => pairs(each.wish, each.count, each.hand));
        const needs = yarnNeeds(list);
        for (const need of needs) {
          const sum = list.reduce((total, each) => {
            const own = yarnOfPair(each.kind, each.spec).find((one) => one.yarnColourId === need.yarnColourId);
            return total + each.count * (own?.grams ?? 0);
          }, 0);
          expect(need.grams.mean).toBeCloseTo(sum, 6);
        }
        const singles = list.flatMap((each) => Array.from({ length: each.count }, () => ({ ...each, count: 1 })));
        for (const [i, need] of yarnNeeds(singles.reverse()).entries()) {
          expect(need.yarnColourId).toBe(needs[i]!.yarnColourId);
          expect(enoughAt(need.grams, 0.9)).toBeCloseTo(enoughAt(needs[i]!.grams, 0.9), 6);
        }
        for (const less of yarnNeeds(list.slice(1))) {
          const more = needs.find((need) => need.yarnColourId === less.yarnColourId)!;
          expect(enoughAt(more.grams, 0.9)).toBeGreaterThanOrEqual(enoughAt(less.grams, 0.9) - 1e-9);
        }
      }),
      { numRuns: 60 },
    );
  });
});
