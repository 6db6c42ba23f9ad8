import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addCosts, costPairs, keepMaterials, materialsOf, type PairToCost } from '#core/pricing/cost-pairs.ts';
import { kindOf } from '#tests/support/knit-cases.ts';

const hours = Object.freeze({ wageCentsPerHour: 1200, overheadCentsPerHour: 100 });
const kind = kindOf({ person: 'woman', lengthMm: 240 });
const pair = (key: string, over: Partial<PairToCost> = {}): PairToCost => ({
  key,
  kind,
  minutes: 210,
  yarn: [
    { yarnColourId: 1, grams: 80.5 },
    { yarnColourId: 2, grams: 20 },
  ],
  priceOf: (colour) => ({ centsPerG: colour === 1 ? 6 : 7.5, from: 'list' }),
  ...over,
});

describe('materialsOf', () => {
  it('sums what a pair takes of each', () => {
    expect(
      materialsOf([
        { name: 'sole', eachCents: 75, perPair: 2 },
        { name: 'felt', eachCents: 333, perPair: 0.5 },
      ]),
    ).toBe(316.5);
    expect(materialsOf([])).toBe(0);
  });
});

describe('keepMaterials', () => {
  const grip = { name: 'grip line', eachCents: 105, perPair: 1 };
  const label = { name: 'label', eachCents: 15, perPair: 1 };
  const button = { name: 'button', eachCents: 20, perPair: 2 };

  it('adds what the other style lacks, and takes what both have as the other has it', () => {
    const twoLabels = { ...label, perPair: 2 };
    expect(keepMaterials([grip, label], [twoLabels, button])).toEqual({
      uses: [twoLabels, button, grip],
      kept: ['grip line'],
    });
    expect(keepMaterials([], [button])).toEqual({ uses: [button], kept: [] });
  });
});

describe('costPairs', () => {
  // 80.5 x 6 + 20 x 7.5 = 633; materials 40; 210 minutes at 12.00: 42.00; at 1.00: 3.50.
  it('yarn at its price, materials, work and overhead', () => {
    const { pairs, total } = costPairs([pair('a')], () => 40, hours);
    expect(pairs).toEqual([
      {
        key: 'a',
        kindKey: kind.key,
        cost: { yarnCents: 633, materialsCents: 40, labourCents: 4200, overheadCents: 350, totalCents: 5223 },
      },
    ]);
    expect(total).toEqual(pairs[0]!.cost);
  });

  it('like pairs at other prices, minutes or materials cost otherwise', () => {
    const dear = pair('b', { priceOf: () => ({ centsPerG: 10, from: 'shelf' }) });
    const slow = pair('c', { minutes: 240 });
    const other = { ...kind, shape: { ...kind.shape, style: { ...kind.shape.style, versionId: 2 } } };
    const soled = pair('d', { kind: other });
    const { pairs } = costPairs(
      [pair('a'), dear, slow, soled, pair('e')],
      (version) => (version === 2 ? 140 : 40),
      hours,
    );
    expect(pairs.map((each) => each.cost.totalCents)).toEqual([5223, 5223 - 633 + 1005, 5223 + 650, 5323, 5223]);
  });

  it('the total is the sum of the pairs, part by part, and each pair of its parts', () => {
    const any = fc.record({
      minutes: fc.double({ min: 0, max: 600, noNaN: true }),
      grams: fc.double({ min: 0, max: 300, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 20 }), (list) => {
        const toCost = list.map(({ minutes, grams }, index) =>
          pair(String(index), { minutes, yarn: [{ yarnColourId: 1, grams }] }),
        );
        const { pairs, total } = costPairs(toCost, () => 12.5, hours);
        for (const part of ['yarnCents', 'materialsCents', 'labourCents', 'overheadCents', 'totalCents'] as const) {
          expect(total[part]).toBe(pairs.reduce((sum, each) => sum + each.cost[part], 0));
          for (const each of pairs) expect(Number.isInteger(each.cost[part])).toBe(true);
        }
        for (const { cost } of pairs) {
          expect(cost.yarnCents + cost.materialsCents + cost.labourCents + cost.overheadCents).toBe(cost.totalCents);
        }
        expect(addCosts(pairs.map((each) => each.cost))).toEqual(total);
      }),
    );
  });
});
