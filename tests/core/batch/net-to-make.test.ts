import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shapesOf } from '#core/batch/kinds.ts';
import type { Kind, Line, StockPair } from '#core/batch/lines.ts';
import { compareLines, netToMake, type StartedPair } from '#core/batch/net-to-make.ts';
import { specify } from '#core/styles/specify.ts';
import { kindOf } from '#tests/support/knit-cases.ts';
import { lineOf, usualHand } from '#tests/support/plan-input.ts';

const sizeOf = (eu: number) => ((eu - 2) * 20) / 3;
const womanIn = (eu: number, cuffColour = 1): Kind => kindOf({ person: 'woman', lengthMm: sizeOf(eu), cuffColour });
const woman38 = womanIn(38);

// At 13 x 18 by hand: EU 38 is 28 stitches, 43 rows, 207.692 x 238.889 mm. EU 37 (233.333 mm, G 220.682): 205.23 mm ->
// 26.68 + 1 -> 28; 42 rows - 2 = 40 -> tie up to 41; 43 in all: the same slipper. EU 39: 27.61 + 1 -> 29 stitches.
const finished = (id: number, over: Partial<StockPair> = {}): StockPair =>
  Object.freeze({ id, kind: woman38, widthMm: 2700 / 13, lengthMm: 4300 / 18, ...over });
const begun = (id: number, over: Partial<StartedPair> = {}): StartedPair =>
  Object.freeze({
    id,
    lineId: 1,
    kind: woman38,
    dueDay: null,
    knitterId: 1,
    heldColourIds: [],
    workLeftRatio: 1,
    ...over,
  });

function net(
  lines: readonly Line[],
  stock: readonly StockPair[] = [],
  started: readonly StartedPair[] = [],
  spareRatio = 0,
) {
  const specs = specify(shapesOf([...lines, ...started].map((each) => each.kind)), [usualHand]);
  const frozen = Object.freeze([...lines]);
  return netToMake(frozen, Object.freeze([...stock]), Object.freeze([...started]), specs, usualHand, spareRatio);
}

describe('the order of making', () => {
  it('is due day, none last, then outlet rank, order number, line', () => {
    const lines = [
      lineOf(1, woman38),
      lineOf(2, woman38, { dueDay: '2026-12-12', outletRank: 1, orderNumber: 1 }),
      lineOf(3, woman38, { dueDay: '2026-12-12', outletRank: 0, orderNumber: 9 }),
      lineOf(4, woman38, { dueDay: '2026-12-12', outletRank: 0, orderNumber: 7 }),
      lineOf(5, woman38, { dueDay: '2026-12-01', outletRank: 5, orderNumber: 9 }),
      lineOf(6, woman38, { dueDay: '2026-12-12', outletRank: 0, orderNumber: 7 }),
    ];
    expect(net(lines).pairs.map((pair) => pair.lineId)).toEqual([5, 4, 6, 3, 2, 1]);
    expect(net([...lines].reverse())).toEqual(net(lines));
  });

  it('is total: two different lines are never equal', () => {
    const anyLine = fc
      .record({
        id: fc.integer({ min: 1, max: 4 }),
        dueDay: fc.option(fc.constantFrom('2026-12-01', '2026-12-02')),
        outletRank: fc.integer({ min: 0, max: 1 }),
        orderNumber: fc.integer({ min: 1, max: 2 }),
      })
      .map((over) => lineOf(over.id, woman38, over));
    fc.assert(
      fc.property(anyLine, anyLine, anyLine, (a, b, c) => {
        expect(Math.sign(compareLines(a, b)) + Math.sign(compareLines(b, a))).toBe(0);
        if (a.id !== b.id) expect(compareLines(a, b)).not.toBe(0);
        if (compareLines(a, b) < 0 && compareLines(b, c) < 0) expect(compareLines(a, c)).toBeLessThan(0);
      }),
    );
  });

  it('hands on who is to knit the pairs of a line; a spare is for whoever has time', () => {
    const { pairs } = net([lineOf(1, woman38, { quantity: 9, pinnedKnitterId: 7 })], [], [], 0.1);
    expect(pairs.map((pair) => [pair.isSpare, pair.pinnedKnitterId ?? null])).toEqual([
      ...Array.from({ length: 9 }, () => [false, 7]),
      [true, null],
    ]);
  });

  it('names every pair for good: the same line gives the same names', () => {
    const { pairs } = net([lineOf(3, woman38, { quantity: 2 })], [], [begun(8, { lineId: null })]);
    expect(pairs.map((pair) => pair.key)).toEqual(['started-8', 'line-3-1', 'line-3-2']);
  });
});

describe('ordered less stock', () => {
  it('counts down, never below nothing, and what is over stays stock', () => {
    const line = lineOf(1, woman38, { quantity: 2 });
    expect(net([line]).pairs).toHaveLength(2);
    expect(net([line], [finished(1)])).toMatchObject({ pairs: [{ key: 'line-1-1' }] });
    const over = net([line], [finished(1), finished(2), finished(3)]);
    expect(over.pairs).toEqual([]);
    expect(over.fromStock).toEqual([
      { lineId: 1, stockPairId: 1 },
      { lineId: 1, stockPairId: 2 },
    ]);
    expect(net([], [finished(1)])).toEqual({ pairs: [], fromStock: [] });
    expect(net([lineOf(1, woman38, { quantity: 0 })], [finished(1)])).toEqual({ pairs: [], fromStock: [] });
  });

  it('goes to the line that is due first', () => {
    const lines = [lineOf(1, woman38), lineOf(2, woman38, { dueDay: '2026-12-01' })];
    expect(net(lines, [finished(7)]).fromStock).toEqual([{ lineId: 2, stockPairId: 7 }]);
  });

  it('goes by fit, not by label: a finished 38 answers a 37, not a 39', () => {
    expect(net([lineOf(1, womanIn(37))], [finished(1)]).fromStock).toHaveLength(1);
    expect(net([lineOf(1, womanIn(39))], [finished(1)]).fromStock).toHaveLength(0);
  });

  // Half a stitch is 3.846 mm at 13 in 10 cm, a row 5.556 mm at 18.
  it.each([
    [3.84, 0, true],
    [3.86, 0, false],
    [-3.84, 0, true],
    [-3.86, 0, false],
    [0, 5.55, true],
    [0, 5.57, false],
    [0, -5.57, false],
  ])('%d mm wider and %d mm longer than the counts: answers %s', (wider, longer, answers) => {
    const pair = finished(1, { widthMm: 2700 / 13 + wider, lengthMm: 4300 / 18 + longer });
    expect(net([lineOf(1, woman38)], [pair]).fromStock).toHaveLength(answers ? 1 : 0);
  });

  it('not in other colours, another style, or another cuff', () => {
    const line = lineOf(1, woman38);
    const like = { person: 'woman' as const, lengthMm: 240 };
    const other = womanIn(38, 2);
    expect(net([line], [finished(1, { kind: other })]).fromStock).toEqual([]);
    expect(net([lineOf(1, other)], [finished(1)]).fromStock).toEqual([]);
    expect(net([line], [finished(1, { kind: kindOf({ ...like, cuff: 'none' }) })]).fromStock).toEqual([]);
    expect(net([line], [finished(1, { kind: kindOf({ ...like, cuff: 'turned down' }) })]).fromStock).toEqual([]);
    // 58 mm against 48: within 5 % of the foot, 12 mm.
    expect(net([line], [finished(1, { kind: kindOf({ ...like, cuff: 58 }) })]).fromStock).toHaveLength(1);
    const style = { ...woman38.shape.style, versionId: 2 };
    const newer = { ...woman38, shape: { ...woman38.shape, style } };
    expect(net([line], [finished(1, { kind: newer })]).fromStock).toEqual([]);
  });

  it('moves an earlier line to a pair that fits it too, so that fewer pairs are made', () => {
    // Line 1 (a 38, due first) could take either; line 2 fits the first pair only: between them nothing need be made.
    const roomy = lineOf(1, woman38, { dueDay: '2026-12-01' });
    const longer = womanIn(39.2);
    // Half way from 27 to 28 stitches, and from 43 to 45 rows: fits both.
    const both = finished(1, { widthMm: 2750 / 13, lengthMm: 4400 / 18 });
    const stock = [both, finished(2)];
    const alone = net([lineOf(2, longer)], stock).fromStock;
    expect(alone).toEqual([{ lineId: 2, stockPairId: 1 }]);
    expect(net([roomy, lineOf(2, longer)], stock)).toEqual({
      pairs: [],
      fromStock: [
        { lineId: 1, stockPairId: 2 },
        { lineId: 2, stockPairId: 1 },
      ],
    });
  });

  /** Fewest pairs to make, by trying every pair of the stock, or none, for each pair ordered. */
  function fewest(fits: readonly (readonly number[])[], used: ReadonlySet<number> = new Set(), next = 0): number {
    if (next === fits.length) return 0;
    let least = 1 + fewest(fits, used, next + 1);
    for (const pair of fits[next]!) {
      if (!used.has(pair)) least = Math.min(least, fewest(fits, new Set([...used, pair]), next + 1));
    }
    return least;
  }

  it('makes as few pairs as any way of handing out the stock, and earlier lines come first', () => {
    const measured = fc.record({
      widthMm: fc.constantFrom(200, 2650 / 13, 207.7, 2750 / 13, 215.4),
      lengthMm: fc.constantFrom(4200 / 18, 239, 4400 / 18, 250),
    });
    const wish = fc.record({ eu: fc.constantFrom(36, 37, 38, 39, 40), quantity: fc.integer({ min: 1, max: 2 }) });
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 3 }), fc.array(measured, { maxLength: 4 }), (wishes, measures) => {
        const lines = wishes.map(({ eu, quantity }, index) => lineOf(index + 1, womanIn(eu), { quantity }));
        const stock = measures.map((each, index) => finished(index + 1, each));
        const fitsLine = lines.map((line) =>
          stock.filter((pair) => net([{ ...line, quantity: 1 }], [pair]).fromStock.length === 1).map((pair) => pair.id),
        );
        const units = lines.flatMap((line, index) => Array.from({ length: line.quantity }, () => fitsLine[index]!));
        const result = net(lines, stock);
        expect(result.pairs).toHaveLength(fewest(units));
        const given = result.fromStock.map((each) => each.stockPairId);
        expect(new Set(given).size).toBe(given.length);
        for (const { lineId, stockPairId } of result.fromStock) expect(fitsLine[lineId - 1]).toContain(stockPairId);
        const first = lines[0];
        if (first) {
          const ofFirst = result.fromStock.filter((each) => each.lineId === 1).length;
          expect(ofFirst).toBe(net([first], stock).fromStock.length);
        }
      }),
    );
  });
});

describe('pairs in hand and spares', () => {
  it('count toward their line, and come first', () => {
    const line = lineOf(1, woman38, { quantity: 3, dueDay: '2026-12-12' });
    const { pairs } = net([line], [finished(1)], [begun(5)]);
    expect(pairs.map(({ key, dueDay, orderId }) => [key, dueDay, orderId])).toEqual([
      ['started-5', '2026-12-12', 1],
      ['line-1-1', '2026-12-12', 1],
    ]);
  });

  it('more in hand than ordered: all stay in hand, nothing else is made, no stock is taken', () => {
    const { pairs, fromStock } = net([lineOf(1, woman38)], [finished(1)], [begun(5), begun(6)]);
    expect(pairs.map((pair) => pair.key)).toEqual(['started-5', 'started-6']);
    expect(fromStock).toEqual([]);
  });

  it('a pair whose line is gone is a spare, with the day it had', () => {
    const { pairs } = net([], [], [begun(5, { lineId: 77, dueDay: '2026-12-09' }), begun(6, { lineId: null })]);
    expect(pairs).toMatchObject([
      { key: 'started-5', lineId: null, orderId: null, isSpare: true, dueDay: '2026-12-09' },
      { key: 'started-6', lineId: null, orderId: null, isSpare: true, dueDay: null },
    ]);
  });

  it('spares are reckoned for each kind on what is still to make, and stand last', () => {
    // 19 of one kind at 5 %: 19 / 0.95 = 20, one more; 1 of another: 1.05 -> 2, one more; stock and begun pairs count not.
    const lines = [
      lineOf(1, woman38, { quantity: 11 }),
      lineOf(2, woman38, { quantity: 10 }),
      lineOf(3, womanIn(41), { quantity: 1 }),
    ];
    const { pairs } = net(lines, [finished(1)], [begun(9)], 0.05);
    const spares = pairs.filter((pair) => pair.isSpare);
    expect(pairs).toHaveLength(1 + 19 + 1 + 2);
    expect(spares.map((pair) => [pair.kind.key, pair.lineId, pair.dueDay])).toEqual([
      [woman38.key, null, null],
      [womanIn(41).key, null, null],
    ]);
    expect(pairs.slice(-2)).toEqual(spares);
    expect(net(lines, [finished(1)], [begun(9)], 0).pairs).toHaveLength(21);
  });
});
