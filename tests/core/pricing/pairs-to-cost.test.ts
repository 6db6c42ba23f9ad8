import { describe, expect, it } from 'vitest';
import { handworkOf } from '#core/batch/handwork.ts';
import { shapesOf } from '#core/batch/kinds.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import { wantsOf } from '#core/buying/wants.ts';
import { pairsToCost } from '#core/pricing/pairs-to-cost.ts';
import type { Assignment } from '#core/schedule/assign.ts';
import { specify } from '#core/styles/specify.ts';
import { kindOf } from '#tests/support/knit-cases.ts';
import { knitterOf, usualHand } from '#tests/support/plan-input.ts';

const kind = kindOf({ person: 'woman', lengthMm: 240, cuffColour: 2 });
const handwork = handworkOf(specify(shapesOf([kind]), [usualHand]), [knitterOf(1)], 1);
const pair = (key: string, workLeftRatio?: number): WantedPair => ({
  key,
  lineId: 1,
  orderId: 1,
  kind,
  dueDay: null,
  isSpare: false,
  started:
    workLeftRatio === undefined
      ? null
      : { id: 1, lineId: 1, kind, dueDay: null, knitterId: 1, heldColourIds: [], workLeftRatio },
});
const pairs = [pair('a'), pair('b', 0.1)];
const assigned: Assignment[] = pairs.map(({ key }) => ({
  pairKey: key,
  knitterId: 1,
  minutes: 1,
  startDay: null,
  finishDay: null,
  reason: null,
}));
const wants = wantsOf(pairs, assigned, handwork, { confidence: 0.9, buyAt: 'safe' });
const shelf = [
  { id: 7, yarnColourId: 1, dyeLot: '', freeMg: 1, paidCents: 800, boughtMg: 200_000 },
  { id: 8, yarnColourId: 1, dyeLot: '', freeMg: 1, paidCents: 0, boughtMg: 200_000 },
  { id: 9, yarnColourId: 2, dyeLot: '', freeMg: 1, paidCents: 0, boughtMg: 0 },
];
const gramPrices = new Map([[1, { centsPerG: 6, from: 'list' as const }]]);

const onLots = (places: readonly (readonly [string, number])[]) => ({ lotOf: new Map(places), mixedOf: new Map() });

describe('pairsToCost', () => {
  it('a lot costs what it cost, given yarn nothing, what is bought its list price', () => {
    const placed = onLots([
      ['a/1', 7],
      ['b/1', 8],
    ]);
    const [a, b] = pairsToCost(wants, handwork, placed, shelf, gramPrices);
    expect(a!.priceOf(1)).toEqual({ centsPerG: 4, from: 'shelf' }); // 8.00 over 200 g
    expect(b!.priceOf(1)).toEqual({ centsPerG: 0, from: 'shelf' });
    const [bought] = pairsToCost(wants, handwork, onLots([]), shelf, gramPrices);
    expect(bought!.priceOf(1)).toEqual({ centsPerG: 6, from: 'list' });
    expect(bought!.priceOf(2)).toEqual({ centsPerG: 0, from: 'unknown' });
  });

  it('a pair that has its yarn pays for the lot that it came from', () => {
    const held = pair('b', 0.1);
    const withLot = {
      ...held,
      started: { ...held.started!, heldColourIds: [1], heldLots: new Map([[1, [{ lotId: 7, mg: 90_000 }]]]) },
    };
    const [costed] = pairsToCost(
      wantsOf([withLot], assigned, handwork, { confidence: 0.9, buyAt: 'safe' }),
      handwork,
      onLots([]),
      shelf,
      gramPrices,
    );
    expect(costed!.priceOf(1)).toEqual({ centsPerG: 4, from: 'shelf' });
  });

  // 30 g of the lot at 4 cents, 60 g of the given one and 10 g of one that costs 9: (120 + 0 + 90) / 100 g.
  const parts = [
    { lotId: 8, mg: 60_000 },
    { lotId: 7, mg: 30_000 },
    { lotId: 10, mg: 10_000 },
  ];
  const andAnother = [...shelf, { id: 10, yarnColourId: 1, dyeLot: '', freeMg: 1, paidCents: 900, boughtMg: 100_000 }];

  it('a pair to give that mixes lots pays what they cost, by weight', () => {
    const placed = { lotOf: new Map(), mixedOf: new Map([['a/1', parts]]) };
    const [a] = pairsToCost(wants, handwork, placed, andAnother, gramPrices);
    expect(a!.priceOf(1).centsPerG).toBeCloseTo(2.1, 12);
    expect(a!.priceOf(1).from).toBe('shelf');
  });

  it('it costs the same once it is begun', () => {
    const held = pair('b', 0.1);
    const started = { ...held.started!, heldColourIds: [1], heldLots: new Map([[1, parts]]) };
    const begun = wantsOf([{ ...held, started }], assigned, handwork, { confidence: 0.9, buyAt: 'safe' });
    const [costed] = pairsToCost(begun, handwork, onLots([]), andAnother, gramPrices);
    expect(costed!.priceOf(1).centsPerG).toBeCloseTo(2.1, 12);
  });

  it('a lot that never weighed anything has no price of its own', () => {
    const [a] = pairsToCost(wants, handwork, onLots([['a/2', 9]]), shelf, gramPrices);
    expect(a!.priceOf(2)).toEqual({ centsPerG: 0, from: 'unknown' });
  });

  it('a pair costs its whole work, begun or not, and its own yarn', () => {
    const [a, b] = pairsToCost(wants, handwork, onLots([]), shelf, gramPrices);
    expect(a!.minutes).toBeCloseTo(220.41, 2);
    expect(b!.minutes).toBe(a!.minutes);
    expect(a!.yarn.map((each) => each.yarnColourId)).toEqual([1, 2]);
    expect(a!.yarn[0]!.grams).toBeCloseTo(86.007, 2);
    expect(a!.yarn[1]!.grams).toBeCloseTo(17.102, 2);
  });
});
