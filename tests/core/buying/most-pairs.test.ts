import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findMostPairs, type MostPairs } from '#core/buying/most-pairs.ts';
import { countWays, type ShelfQuestion, type WishedPair } from '#core/buying/pair-ways.ts';
import { enumeratePairs } from '#tests/support/enumerate-pairs.ts';

const lot = (id: number, freeMg: number, yarnColourId = id) => Object.freeze({ id, yarnColourId, freeMg });
const plain = (size: number, mg: number, yarnColourId: number): WishedPair =>
  Object.freeze({ size, needs: Object.freeze([{ yarnColourId, mg }]) });
const two = (size: number, foot: number, footMg: number, cuff: number, cuffMg: number): WishedPair => ({
  size,
  needs: [
    { yarnColourId: foot, mg: footMg },
    { yarnColourId: cuff, mg: cuffMg },
  ],
});
const any = (least = 0, most = 99) => Object.freeze({ least, most });

/** What must hold of every answer; gives the pairs that count towards a least. */
function check(question: ShelfQuestion, answer: MostPairs): number {
  const used = new Map<number, number>();
  const made = question.sizes.map(() => 0);
  let value = 0;
  for (const { kind, lotIds, count } of answer.made) {
    const { size, needs, value: each = 1 } = question.kinds[kind]!;
    expect(count).toBeGreaterThan(0);
    // One lot a colour, and of that colour.
    expect(lotIds).toHaveLength(needs.length);
    for (const [need, id] of lotIds.entries()) {
      expect(question.lots.find((one) => one.id === id)!.yarnColourId).toBe(needs[need]!.yarnColourId);
      used.set(id, (used.get(id) ?? 0) + needs[need]!.mg * count);
    }
    made[size]! += count;
    value += each * count;
  }
  for (const [id, mg] of used) {
    expect(mg).toBeLessThanOrEqual(question.lots.find((one) => one.id === id)!.freeMg);
    expect(answer.usedMg.get(id)).toBe(mg);
  }
  for (const [size, count] of made.entries()) expect(count).toBeLessThanOrEqual(question.sizes[size]!.most);
  expect(answer.pairs).toBe(made.reduce((sum, count) => sum + count, 0));
  expect(answer.value).toBe(value);
  expect(answer.mostValue).toBeGreaterThanOrEqual(answer.value);
  expect(answer.short.map(({ size }) => size)).toEqual(
    [...made.keys()].filter((size) => made[size]! < question.sizes[size]!.least),
  );
  return made.reduce((sum, count, size) => sum + Math.min(count, question.sizes[size]!.least), 0);
}

/** Up to three lots of two colours, two sizes with a foot and a cuff: few enough pairs to try everything. */
const smallQuestions: fc.Arbitrary<ShelfQuestion> = fc
  .record({
    lots: fc.array(fc.tuple(fc.integer({ min: 1, max: 2 }), fc.integer({ min: 0, max: 160 })), {
      minLength: 1,
      maxLength: 3,
    }),
    sizes: fc.array(
      fc.record({
        foot: fc.integer({ min: 25, max: 60 }),
        cuff: fc.integer({ min: 8, max: 25 }),
        least: fc.integer({ min: 0, max: 3 }),
        more: fc.integer({ min: 0, max: 4 }),
        value: fc.integer({ min: 1, max: 3 }),
      }),
      { minLength: 1, maxLength: 2 },
    ),
    mixes: fc.boolean(),
    weighs: fc.boolean(),
  })
  .map(({ lots, sizes, mixes, weighs }) => ({
    lots: lots.map(([yarnColourId, freeMg], at) => lot(at + 1, freeMg, yarnColourId)),
    sizes: sizes.map(({ least, more }) => any(least, least + more)),
    kinds: sizes.flatMap(({ foot, cuff, value }, size) => {
      const alone = [1, 2].map((colour) => plain(size, foot + cuff, colour));
      const both = mixes ? [two(size, 1, foot, 2, cuff), two(size, 2, foot, 1, cuff)] : [];
      return [...alone, ...both].map((kind) => (weighs ? { ...kind, value } : kind));
    }),
  }));

describe('findMostPairs', () => {
  it('makes nothing without yarn, without kinds, or where every pair wants more than a lot has', () => {
    expect(findMostPairs({ lots: [], kinds: [], sizes: [] })).toMatchObject({ pairs: 0, mostValue: 0, isBest: true });
    const nothing = { lots: [lot(1, 0)], kinds: [plain(0, 10, 1)], sizes: [any()] };
    expect(findMostPairs(nothing)).toMatchObject({ pairs: 0, mostValue: 0, isBest: true });
    // 59 and 59 grams of two dye lots are no pair of 60.
    const apart = { lots: [lot(1, 59, 7), lot(2, 59, 7)], kinds: [plain(0, 60, 7)], sizes: [any()] };
    expect(findMostPairs(apart).pairs).toBe(0);
  });

  it('fills lots with the right sizes, not with the smallest alone', () => {
    // One lot of 100: 3 of 30 leave 10. With at most 2 of 30, two and one of 40 use it up: by hand 3 pairs.
    const kinds = [plain(0, 30, 1), plain(1, 40, 1)];
    expect(findMostPairs({ lots: [lot(1, 100)], kinds, sizes: [any(0, 2), any()] }).made).toEqual([
      { kind: 0, lotIds: [1], count: 2 },
      { kind: 1, lotIds: [1], count: 1 },
    ]);
  });

  it('lets an end too small for a foot be a cuff', () => {
    // 60 of Oat is a foot, 20 of Fir no foot and no pair, but a cuff.
    const question = { lots: [lot(1, 60), lot(2, 20)], kinds: [plain(0, 80, 1), two(0, 1, 60, 2, 20)], sizes: [any()] };
    const answer = findMostPairs(question);
    expect(answer.made).toEqual([{ kind: 1, lotIds: [1, 2], count: 1 }]);
    expect([...answer.usedMg]).toEqual([
      [1, 60],
      [2, 20],
    ]);
  });

  it('meets the least of a size first, though more pairs of another would be possible', () => {
    // 120: one of 60 and two of 30 are three pairs; four of 30 would be four.
    const question = { lots: [lot(1, 120)], kinds: [plain(0, 30, 1), plain(1, 60, 1)], sizes: [any(), any(1)] };
    expect(findMostPairs(question)).toMatchObject({ pairs: 3, mostValue: 3, isBest: true, short: [] });
  });

  it('says which least cannot be met and why', () => {
    const kinds = [plain(0, 30, 1), plain(1, 60, 1), plain(2, 130, 1)];
    const lots = [lot(1, 120)];
    expect(findMostPairs({ lots, kinds, sizes: [any(), any(3), any(1)] })).toMatchObject({
      pairs: 2,
      isBest: true,
      short: [
        { size: 1, least: 3, made: 2, why: 'alone', mostAlone: 2 },
        { size: 2, least: 1, made: 0, why: 'no lot', mostAlone: 0 },
      ],
    });
    // Two of 60 and one of 30 are each possible, and together 150.
    const together = findMostPairs({ lots, kinds, sizes: [any(1), any(2), any()] });
    expect(together.short).toMatchObject([{ least: 2, made: 1, why: 'together', mostAlone: 2 }]);
  });

  it('goes by value where pairs have one', () => {
    // 120: four of 30 at 2 are worth 8, two of 60 at 5 are worth 10.
    const kinds = [
      { ...plain(0, 30, 1), value: 2 },
      { ...plain(1, 60, 1), value: 5 },
    ];
    const question = { lots: [lot(1, 120)], kinds, sizes: [any(), any()] };
    expect(findMostPairs(question)).toMatchObject({ pairs: 2, value: 10, mostValue: 10, isBest: true });
  });

  it('uses up the lots that come first where that costs no pair', () => {
    const lots = [lot(9, 100, 1), lot(3, 100, 1)];
    const answer = findMostPairs({ lots, kinds: [plain(0, 45, 1)], sizes: [any(0, 2)] });
    expect(answer.made).toEqual([{ kind: 0, lotIds: [9], count: 2 }]);
  });

  it('is the best there is, by trying everything in small cases', () => {
    const test = fc.property(smallQuestions, (question) => {
      const answer = findMostPairs(question);
      const best = enumeratePairs(question);
      expect([check(question, answer), answer.value]).toEqual([best.least, best.value]);
      expect(answer.isBest).toBe(true);
    });
    fc.assert(test, { numRuns: 300, seed: 5 });
  });

  it('makes no fewer pairs of more yarn', () => {
    const test = fc.property(smallQuestions, fc.integer({ min: 1, max: 60 }), fc.nat(2), (question, mg, at) => {
      const sizes = question.sizes.map(({ most }) => any(0, most));
      const lots = question.lots.map((each, index) =>
        index === at % question.lots.length ? { ...each, freeMg: each.freeMg + mg } : each,
      );
      const before = findMostPairs({ ...question, sizes });
      expect(findMostPairs({ ...question, sizes, lots }).value).toBeGreaterThanOrEqual(before.value);
    });
    fc.assert(test, { numRuns: 100, seed: 6 });
  });

  it('stays under its bound on large shelves, with few steps too, and answers the same twice', () => {
    const large = fc.record({
      lots: fc.array(fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 5000, max: 600_000 })), {
        minLength: 6,
        maxLength: 10,
      }),
      feet: fc.array(fc.integer({ min: 30_000, max: 70_000 }), { minLength: 3, maxLength: 6 }),
      most: fc.integer({ min: 2, max: 20 }),
    });
    const test = fc.property(large, ({ lots, feet, most }) => {
      const question: ShelfQuestion = {
        lots: lots.map(([colour, mg], at) => lot(at + 1, mg, colour)),
        sizes: feet.map(() => any(1, most)),
        kinds: feet.flatMap((mg, size) =>
          [1, 2, 3, 4, 5, 6].flatMap((foot) =>
            [1, 2, 3, 4, 5, 6].map((cuff) =>
              foot === cuff
                ? plain(size, Math.round(mg * 1.3), foot)
                : two(size, foot, mg, cuff, Math.round(mg * 0.32)),
            ),
          ),
        ),
      };
      const quick = findMostPairs(question, { mostSteps: 200_000 });
      check(question, quick);
      expect(findMostPairs(question, { mostSteps: 200_000 })).toEqual(quick);
      const longer = findMostPairs(question, { mostSteps: 3_000_000 }, quick.made);
      check(question, longer);
      if (quick.short.length + longer.short.length > 0) return;
      expect(longer.value).toBeGreaterThanOrEqual(quick.value);
      expect(longer.value).toBeLessThanOrEqual(quick.mostValue);
      // By the grams alone no more pairs are possible than the lightest kinds of all.
      const allMg = question.lots.reduce((sum, each) => sum + each.freeMg, 0);
      expect(longer.mostValue).toBeLessThanOrEqual(Math.floor(allMg / (Math.min(...feet) * 1.3)));
    });
    fc.assert(test, { numRuns: 25, seed: 7 });
  });

  it('refuses what is no question', () => {
    const sizes = [any()];
    const lots = [lot(1, 10)];
    expect(() => findMostPairs({ lots, kinds: [plain(0, 0, 1)], sizes })).toThrow(RangeError);
    expect(() => findMostPairs({ lots, kinds: [plain(1, 5, 1)], sizes })).toThrow(/must be a size/);
    expect(() => findMostPairs({ lots, kinds: [two(0, 1, 5, 1, 5)], sizes })).toThrow(/colour once/);
    expect(() => findMostPairs({ lots: [lot(1, -1)], kinds: [], sizes })).toThrow(RangeError);
    expect(() => findMostPairs({ lots, kinds: [], sizes: [{ least: 3, most: 2 }] })).toThrow(RangeError);
  });
});

describe('countWays', () => {
  it('counts each kind with each choice of lots that have enough for one pair', () => {
    const lots = [lot(1, 60, 1), lot(2, 60, 1), lot(3, 20, 1), lot(4, 20, 2)];
    // A foot of 60 from lots 1 and 2, with a cuff of 20 from lot 4; 80 of one colour from none.
    expect(countWays({ lots, kinds: [two(0, 1, 60, 2, 20), plain(0, 80, 1)], sizes: [any()] })).toBe(2);
  });
});
