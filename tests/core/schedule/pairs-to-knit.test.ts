import { describe, expect, it } from 'vitest';
import { handworkOf } from '#core/batch/handwork.ts';
import { shapesOf } from '#core/batch/kinds.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import { dueDays, duePairs, minutesLeft, pairsToKnit } from '#core/schedule/pairs-to-knit.ts';
import { specify } from '#core/styles/specify.ts';
import { usualRates } from '#core/timing/minutes.ts';
import { kindOf } from '#tests/support/knit-cases.ts';
import { knitterOf, offerOf, planInputOf, usualHand } from '#tests/support/plan-input.ts';

const kind = kindOf({ person: 'woman', lengthMm: 240, cuffColour: 2 });
const knitters = [knitterOf(1), knitterOf(2, { rates: { ...usualRates, stitchesPerMin: 50 } })];
const handwork = handworkOf(specify(shapesOf([kind]), [usualHand]), knitters, 1);
const whole: WantedPair = {
  key: 'a',
  lineId: 1,
  orderId: 1,
  kind,
  dueDay: '2026-12-12',
  isSpare: false,
  started: null,
};
const begun = (workLeftRatio: number, heldColourIds: readonly number[]): WantedPair => ({
  ...whole,
  key: 'b',
  dueDay: null,
  started: { id: 1, lineId: 1, kind, dueDay: null, knitterId: 2, heldColourIds, workLeftRatio },
});

// EU 38 in two colours: 212.41 + 8 = 220.41 minutes by hand; at 50 stitches a minute stocking and rib take half,
// 102.044 + 28.444 = 130.489 less 65.244: 155.17. Foot 86.0 g, cuff 17.1 g.
describe('minutesLeft', () => {
  it('is the whole pair, or what is left of one begun, at the speed of whom is asked', () => {
    const left = minutesLeft([whole, begun(0.25, [])], handwork);
    expect(left({ key: 'a' }, 1, 0)).toBeCloseTo(220.41, 2);
    expect(left({ key: 'a' }, 2, 0)).toBeCloseTo(155.17, 2);
    expect(left({ key: 'b' }, 1, 1)).toBeCloseTo(220.41 / 4, 2);
    expect(left({ key: 'b' }, 2, 1)).toBeCloseTo(155.17 / 4, 2);
    expect(() => left({ key: 'c' }, 1, 0)).toThrow(RangeError);
  });
});

describe('pairsToKnit', () => {
  const workshop = planInputOf([], {
    offers: [offerOf(1, { yarnColourId: 1 }), offerOf(2, { yarnColourId: 2 })],
    shelf: [{ id: 1, yarnColourId: 1, dyeLot: '', freeMg: 90_000, paidCents: 0, boughtMg: 90_000 }],
  });

  it('waits for the yarn that is not on the shelf, and keeps a begun pair with its knitter', () => {
    expect(pairsToKnit([whole, begun(0.5, [])], workshop, handwork)).toEqual([
      { key: 'a', dueDay: '2026-12-12', readyDay: '2026-11-28', pinnedKnitterId: null },
      { key: 'b', dueDay: null, readyDay: '2026-11-28', pinnedKnitterId: 2 },
    ]);
  });

  it('keeps a pair for whom its line names, and one that is begun with whom has it', () => {
    const pinned = [
      { ...whole, pinnedKnitterId: 1 },
      { ...begun(0.5, []), pinnedKnitterId: 1 },
    ];
    expect(pairsToKnit(pinned, workshop, handwork).map((pair) => pair.pinnedKnitterId)).toEqual([1, 2]);
  });

  it('asks for no yarn that a begun pair holds', () => {
    expect(pairsToKnit([begun(0.5, [1, 2])], { ...workshop, shelf: [] }, handwork)[0]!.readyDay).toBe('2026-11-25');
    expect(pairsToKnit([begun(0.5, [1])], { ...workshop, shelf: [] }, handwork)[0]!.readyDay).toBe('2026-11-28');
    // The 90 g on the shelf stay for the next pair.
    const two = [begun(0.5, [1, 2]), { ...whole, kind: kindOf({ person: 'woman', lengthMm: 200 }) }];
    const specs = specify(shapesOf(two.map((each) => each.kind)), [usualHand]);
    expect(pairsToKnit(two, workshop, handworkOf(specs, knitters, 1))[1]!.readyDay).toBe('2026-11-25');
  });
});

describe('dueDays and duePairs', () => {
  it('name days by pair', () => {
    const due = dueDays([whole, begun(1, [])]);
    expect([due('a'), due('b'), due('c')]).toEqual(['2026-12-12', null, null]);
    const week = { pairKey: 'a', knitterId: 1, minutes: 1, startDay: null, finishDay: '2026-12-01', reason: null };
    expect(duePairs([whole, begun(1, [])], [week])).toEqual([
      { pairKey: 'a', orderId: 1, dueDay: '2026-12-12', finishDay: '2026-12-01' },
      { pairKey: 'b', orderId: 1, dueDay: null, finishDay: null },
    ]);
  });
});
