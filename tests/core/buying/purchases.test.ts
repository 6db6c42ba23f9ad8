import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { landedByLine, lotsOnTheirWay, onWayLotId, partCents } from '#core/buying/purchases.ts';

const line = (id: number, packs: number, arrivedPacks: number, priceCents: number) =>
  Object.freeze({ id, yarnColourId: id, packMg: 100_000, packs, arrivedPacks, priceCents });

describe('landedByLine', () => {
  // Goods 1780 and 2730 of 4510, postage 451: 451 x 1780/4510 = 178 and 273 exactly.
  it('shares postage by value', () => {
    expect(landedByLine([line(1, 2, 0, 890), line(2, 3, 0, 910)], 451, 0)).toEqual([1958, 3003]);
  });

  // 10 % off 4510 is 451: the same shares come off.
  it('shares what was taken off by value', () => {
    expect(landedByLine([line(1, 2, 0, 890), line(2, 3, 0, 910)], 0, 451)).toEqual([1602, 2457]);
  });

  it('shares the postage of goods for nothing evenly', () => {
    expect(landedByLine([line(1, 1, 0, 0), line(2, 9, 0, 0)], 400, 0)).toEqual([200, 200]);
    expect(landedByLine([], 0, 0)).toEqual([]);
  });

  it('adds up to the bill, and parts add up to their line', () => {
    const packs = fc.record({ packs: fc.integer({ min: 1, max: 12 }), priceCents: fc.integer({ min: 0, max: 2000 }) });
    fc.assert(
      fc.property(
        fc.array(packs, { minLength: 1, maxLength: 6 }),
        fc.nat(1500),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        fc.nat(),
        (lines, shippingCents, share, cut) => {
          const goods = lines.reduce((sum, each) => sum + each.packs * each.priceCents, 0);
          const offCents = Math.floor(goods * share);
          const landed = landedByLine(lines, shippingCents, offCents);
          expect(landed.reduce((sum, cents) => sum + cents, 0)).toBe(goods + shippingCents - offCents);
          for (const [i, each] of lines.entries()) {
            const first = cut % (each.packs + 1);
            const parts = [
              partCents(landed[i]!, each.packs, 0, first),
              partCents(landed[i]!, each.packs, first, each.packs - first),
            ];
            expect(parts[0]! + parts[1]!).toBe(landed[i]);
            expect(Math.min(...parts)).toBeGreaterThanOrEqual(0);
          }
        },
      ),
      { numRuns: 300, seed: 5 },
    );
  });
});

describe('lotsOnTheirWay', () => {
  const purchase = {
    expectedDay: '2026-12-01',
    shippingCents: 450,
    offCents: 0,
    lines: [line(3, 3, 1, 1000), line(4, 2, 2, 750)],
  };

  // Goods 3000 and 1500; postage 300 and 150. Line 3 lands at 3300: 1100 came with its first pack, 2200 are to come.
  it('holds what has not come yet, at its own price with postage', () => {
    expect(lotsOnTheirWay(purchase, '2026-11-25')).toEqual([
      {
        id: onWayLotId(3),
        yarnColourId: 3,
        dyeLot: '',
        freeMg: 200_000,
        paidCents: 2200,
        boughtMg: 200_000,
        fromDay: '2026-12-01',
        lotKey: 'parcel 3',
      },
    ]);
  });

  it('lines of one colour are one lot until they are here, those of two colours are not', () => {
    const keysOf = (colours: readonly number[]) =>
      lotsOnTheirWay(
        { ...purchase, lines: colours.map((yarnColourId, i) => ({ ...line(i + 1, 2, 0, 500), yarnColourId })) },
        '2026-11-25',
      ).map((lot) => lot.lotKey);
    const [one, other, third] = keysOf([1, 2, 1]);
    expect(one).toBe(third);
    expect(one).not.toBe(other);
  });

  it('counts from today once its day is past', () => {
    expect(lotsOnTheirWay(purchase, '2026-12-01')[0]!.fromDay).toBe('2026-12-01');
    expect(lotsOnTheirWay(purchase, '2026-12-04')[0]!.fromDay).toBe('2026-12-04');
  });
});
