import { describe, expect, it } from 'vitest';
import { checkPairs, countPairs } from '#core/buying/count-pairs.ts';
import { findMostPairs, type MostPairs } from '#core/buying/most-pairs.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';

// Two dye lots of Oat (1), one of Fir (2). A plain pair takes 60 of one; another a foot of 45 and a cuff of 15.
const question: ShelfQuestion = Object.freeze({
  lots: [
    { id: 11, yarnColourId: 1, freeMg: 125 },
    { id: 12, yarnColourId: 1, freeMg: 50 },
    { id: 21, yarnColourId: 2, freeMg: 70 },
  ],
  kinds: [
    { size: 0, needs: [{ yarnColourId: 1, mg: 60 }] },
    {
      size: 1,
      needs: [
        { yarnColourId: 1, mg: 44.2 },
        { yarnColourId: 2, mg: 15 },
      ],
    },
  ],
  sizes: [
    { least: 0, most: 2 },
    { least: 2, most: 9 },
  ],
});

describe('countPairs', () => {
  it('counts pairs, what a least wants of them, and grams by lot', () => {
    const made = [
      { kind: 0, lotIds: [11], count: 1 },
      { kind: 1, lotIds: [12, 21], count: 1 },
      { kind: 1, lotIds: [11, 21], count: 1 },
    ];
    // 60 + 45 of lot 11, 45 of lot 12, 2 x 15 of lot 21.
    expect(countPairs(question, made)).toEqual({
      ...{ pairs: 3, value: 3, wanted: 2, ofSize: [1, 2] },
      usedMg: new Map([
        [11, 105],
        [12, 45],
        [21, 30],
      ]),
    });
    expect(countPairs(question, [])).toMatchObject({ pairs: 0, wanted: 0 });
  });

  it.each([
    ['a lot used beyond its grams', [{ kind: 1, lotIds: [12, 21], count: 2 }]],
    [
      'a lot used beyond its grams by two kinds together',
      [
        { kind: 0, lotIds: [11], count: 2 },
        { kind: 1, lotIds: [11, 21], count: 1 },
      ],
    ],
    ['a lot of another colour', [{ kind: 0, lotIds: [21], count: 1 }]],
    ['a lot that is not there', [{ kind: 0, lotIds: [99], count: 1 }]],
    ['a lot too many for one colour', [{ kind: 0, lotIds: [11, 12], count: 1 }]],
    ['a colour without a lot', [{ kind: 1, lotIds: [11], count: 1 }]],
    ['a kind that is not there', [{ kind: 5, lotIds: [11], count: 1 }]],
    ['no pair', [{ kind: 0, lotIds: [11], count: 0 }]],
    ['less than no pair', [{ kind: 0, lotIds: [11], count: -1 }]],
    ['half a pair', [{ kind: 0, lotIds: [11], count: 0.5 }]],
    ['more than the most of a size', [{ kind: 0, lotIds: [11], count: 3 }]],
  ])('is null for %s', (_, made) => {
    const roomy = {
      ...question,
      lots: question.lots.map((lot) => (lot.id === 11 && made[0]!.count === 3 ? { ...lot, freeMg: 900 } : lot)),
    };
    expect(countPairs(roomy, made)).toBeNull();
  });
});

describe('checkPairs', () => {
  const own = [{ kind: 1, lotIds: [11, 21], count: 1 }];
  const best = findMostPairs(question);
  const check = (changed: Partial<MostPairs>) => checkPairs(question, { ...best, ...changed }, own);

  it('believes what can be recounted', () => {
    // By hand: lot 12 makes one foot, and lot 11 two pairs of any kind: 3 pairs, of which two must be the wanted ones.
    expect(best).toMatchObject({ pairs: 3, isBest: true, short: [] });
    expect(check({})).toEqual(best);
  });

  it('recounts pairs and grams instead of believing them', () => {
    expect(check({ pairs: 99, usedMg: new Map() })).toEqual(best);
  });

  it.each([
    ['pairs that the shelf cannot give', { made: [{ kind: 1, lotIds: [12, 21], count: 2 }] }],
    ['fewer pairs of those that are wanted than are known', { made: [{ kind: 0, lotIds: [11], count: 2 }] }],
    ['a bound below its own pairs', { mostValue: 2 }],
    ['a bound that is no number', { mostValue: Number.NaN }],
    ['the best with a bound above it', { mostValue: 4 }],
    [
      'a size that is said to be short and is not',
      { short: [{ size: 1, least: 2, made: 0, why: 'alone', mostAlone: 0 }] },
    ],
    ['a size that is short and not said to be', { made: own, mostValue: 3, isBest: false }],
  ] as const)('does not believe %s', (_, changed) => {
    expect(check(changed)).toBeNull();
  });
});
