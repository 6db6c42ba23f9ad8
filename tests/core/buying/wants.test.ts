import { describe, expect, it } from 'vitest';
import { handworkOf } from '#core/batch/handwork.ts';
import { shapesOf } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import { placeOnLots } from '#core/buying/lots.ts';
import { placementOf, wantsOf } from '#core/buying/wants.ts';
import type { Assignment } from '#core/schedule/assign.ts';
import { enoughAt } from '#core/shared/estimate.ts';
import { specify } from '#core/styles/specify.ts';
import { yarnNeeds } from '#core/yardage/needs.ts';
import { kindOf } from '#tests/support/knit-cases.ts';
import { gauge, knitterOf, usualHand } from '#tests/support/plan-input.ts';

const plain = kindOf({ person: 'woman', lengthMm: 240 });
const twoColours = kindOf({ person: 'woman', lengthMm: 240, cuffColour: 2 });
const child = kindOf({ person: 'child', lengthMm: 142.9 });
const kinds = [plain, twoColours, child];
const looseHand = { key: 'loose', tightness: 'loose' as const, gauges: [gauge('1', 12, 16)] };
const knitters = [knitterOf(1), knitterOf(2), knitterOf(3, { handKey: 'loose' })];
const handwork = handworkOf(specify(shapesOf(kinds), [usualHand, looseHand]), knitters, 1);

const safely = { confidence: 0.9, buyAt: 'safe' } as const;
const likely = { confidence: 0.9, buyAt: 'likely' } as const;

const pair = (key: string, kind: Kind, heldColourIds?: readonly number[]): WantedPair => ({
  key,
  lineId: 1,
  orderId: 1,
  kind,
  dueDay: null,
  isSpare: false,
  started: heldColourIds
    ? { id: 1, lineId: 1, kind, dueDay: null, knitterId: 1, heldColourIds, workLeftRatio: 0.5 }
    : null,
});
const by = (pairs: readonly WantedPair[], ids: readonly (number | null)[]): Assignment[] =>
  pairs.map(({ key }, index) => ({
    pairKey: key,
    knitterId: ids[index]!,
    minutes: 1,
    startDay: null,
    finishDay: null,
    reason: null,
  }));

describe('wantsOf', () => {
  // EU 38 in one colour weighs 102.5074 g with a shared error of 6.1472 g and own errors of 17.2199 g squared; alone it
  // is enough 9 times in 10 with 102.5074 + 1.2816 x sqrt(37.788 + 17.220) = 112.013 g, whole milligrams up.
  it('asks for what is enough for each pair alone, whatever else is ordered', () => {
    const pairs = [pair('a', plain), pair('b', plain)];
    const { wants, groups } = wantsOf(pairs, by(pairs, [1, 2]), handwork, safely);
    expect(groups.map((group) => group.count)).toEqual([2]);
    for (const [i, want] of wants.entries()) {
      expect(want).toMatchObject({ pairKey: ['a', 'b'][i], yarnColourId: 1 });
      expect(Math.abs(want.mg - 112_013)).toBeLessThanOrEqual(2);
      expect(Number.isInteger(want.mg)).toBe(true);
    }
    const atLikely = wantsOf(pairs, by(pairs, [1, 2]), handwork, likely);
    expect(Math.abs(atLikely.wants[0]!.mg - 102_508)).toBeLessThanOrEqual(1);
  });

  it('takes each knitter at her own counts, the reference one where nobody knits', () => {
    const pairs = [pair('a', plain), pair('b', plain), pair('c', plain)];
    const { wants, groups } = wantsOf(pairs, by(pairs, [1, 3, null]), handwork, likely);
    expect(groups.map((group) => [group.spec.handKey, group.count])).toEqual([
      ['usual', 2],
      ['loose', 1],
    ]);
    expect(wants[0]!.mg).toBe(wants[2]!.mg);
    expect(wants[1]!.mg).not.toBe(wants[0]!.mg);
  });

  it('leaves out what a pair holds, not what it lacks', () => {
    const pairs = [pair('a', twoColours, [2]), pair('b', twoColours)];
    const { wants } = wantsOf(pairs, by(pairs, [1, 1]), handwork, safely);
    expect(wants.map((want) => [want.pairKey, want.yarnColourId])).toEqual([
      ['a', 1],
      ['b', 1],
      ['b', 2],
    ]);
  });

  it('asks for the likely amount where the plan counts with the likely list, and knows both', () => {
    const pairs = [pair('a', twoColours)];
    const [safeFoot] = wantsOf(pairs, by(pairs, [1]), handwork, safely).wants;
    const [likelyFoot] = wantsOf(pairs, by(pairs, [1]), handwork, likely).wants;
    expect(safeFoot!.mg).toBe(safeFoot!.safeMg);
    expect(likelyFoot!.mg).toBe(likelyFoot!.likelyMg);
    expect([likelyFoot!.likelyMg, likelyFoot!.safeMg]).toEqual([safeFoot!.likelyMg, safeFoot!.safeMg]);
    expect(likelyFoot!.safeMg).toBeGreaterThan(likelyFoot!.likelyMg);
  });

  it('takes what was written down for a pair that was begun and waits', () => {
    const waits = pair('a', twoColours, [2]);
    const begun = { ...waits, started: { ...waits.started!, waitsMg: new Map([[1, 91_234]]) } };
    for (const settings of [safely, likely]) {
      const { wants } = wantsOf([begun], by([begun], [1]), handwork, settings);
      expect(wants).toEqual([{ pairKey: 'a', yarnColourId: 1, mg: 91_234, likelyMg: 91_234, safeMg: 91_234 }]);
    }
  });

  it('nothing for no pairs', () => {
    expect(wantsOf([], [], handwork, safely)).toEqual({ groups: [], wants: [], pairs: [] });
  });
});

describe('placementOf', () => {
  const pairs = [pair('a', plain), pair('b', twoColours), pair('c', child)];
  const wants = wantsOf(pairs, by(pairs, [1, 1, 2]), handwork, safely);
  const placedWith = (...lots: readonly (readonly [number, number, number])[]) =>
    placementOf(
      placeOnLots(
        wants.wants,
        lots.map(([id, yarnColourId, freeMg]) => ({ id, yarnColourId, freeMg })),
      ),
      wants,
    );

  it('without a shelf all is to buy: the needs of all pairs', () => {
    const placed = placedWith();
    expect(placed.lotOf.size).toBe(0);
    expect(placed.toBuy).toMatchObject(yarnNeeds(wants.groups));
  });

  // Two EU 38 pairs: each alone is enough with 112.013 g, likely with 102.508 g; together with 205.01 + 1.2816 x
  // sqrt((2 x 6.1472)^2 + 2 x 17.2199) = 222.47 g.
  it('what is to buy is what is enough for each pair alone, a little more than for all together', () => {
    const two = [pair('a', plain), pair('b', plain)];
    const all = wantsOf(two, by(two, [1, 1]), handwork, safely);
    const [bought] = placementOf(placeOnLots(all.wants, []), all).toBuy;
    expect(Math.abs(bought!.safe.needMg - 224_026)).toBeLessThanOrEqual(4);
    expect(bought!.safe.largestPairMg * 2).toBe(bought!.safe.needMg);
    expect(Math.abs(bought!.likely.needMg - 205_016)).toBeLessThanOrEqual(2);
    expect(enoughAt(bought!.grams, 0.9)).toBeCloseTo(222.47, 1);
  });

  it('what lies on a lot is not bought, and never more than the pairs wanted', () => {
    const placed = placedWith([9, 2, 100_000]);
    expect([...placed.lotOf]).toEqual([['b/2', 9]]);
    expect(placed.toBuy.map((amount) => amount.yarnColourId)).toEqual([1]);
    expect(placed.toBuy[0]).toMatchObject(yarnNeeds(wants.groups)[0]!);
    const all = placedWith([9, 2, 100_000], [8, 1, 1_000_000]);
    expect(all.toBuy).toEqual([]);
    expect(all.lotOf.size).toBe(4);
  });

  it('a pair with one colour on a lot buys the other alone', () => {
    // A lot that takes the foot of b (86.0 g with its safety about 95) or the child's, not the plain pair's 112 g.
    const placed = placedWith([8, 1, 100_000]);
    expect(placed.lotOf.size).toBe(1);
    const bought = placed.toBuy.find((amount) => amount.yarnColourId === 1)!;
    const [placedKey] = [...placed.lotOf.keys()];
    const left = pairs.filter((each) => `${each.key}/1` !== placedKey);
    const sum = left.reduce(
      (total, each) => total + handwork.yarnOf(each.kind, 1).find((yarn) => yarn.yarnColourId === 1)!.grams,
      0,
    );
    expect(bought.grams.mean).toBeCloseTo(sum, 9);
    expect(enoughAt(bought.grams, 0.9)).toBeGreaterThan(sum);
  });

  it('a colour is needed by the first day any pair that lacks it needs it', () => {
    const latest = new Map([
      ['a', '2026-12-09'],
      ['b', '2026-12-05'],
    ]);
    expect(Object.fromEntries(placedWith().neededByDay(latest))).toEqual({ 1: '2026-12-05', 2: '2026-12-05' });
    expect(Object.fromEntries(placedWith([9, 2, 100_000]).neededByDay(latest))).toEqual({ 1: '2026-12-05' });
    expect(placedWith().neededByDay(new Map()).size).toBe(0);
  });

  it('a pair is ready when the last of its colours to buy is here', () => {
    const arrivals = new Map([
      [1, '2026-12-01'],
      [2, '2026-12-04'],
    ]);
    const today = '2026-11-25';
    const days = (placed: ReturnType<typeof placedWith>) =>
      ['a', 'b', 'c'].map((key) => placed.arrivalDay(key, arrivals, today));
    expect(days(placedWith())).toEqual(['2026-12-01', '2026-12-04', '2026-12-01']);
    expect(days(placedWith([9, 2, 100_000]))).toEqual(['2026-12-01', '2026-12-01', '2026-12-01']);
    expect(days(placedWith([9, 2, 100_000], [8, 1, 1_000_000]))).toEqual([today, today, today]);
    expect(placedWith().arrivalDay('a', new Map(), today)).toBe(today); // nobody sells it
  });

  it('a pair on a lot that is on its way waits for it, and for what it still buys', () => {
    const placement = placeOnLots(wants.wants, [{ id: 9, yarnColourId: 2, freeMg: 100_000, fromDay: '2026-12-03' }]);
    const placed = placementOf(placement, wants);
    const dayOfB = (arrives: string) => placed.arrivalDay('b', new Map([[1, arrives]]), '2026-11-25');
    expect(dayOfB('2026-12-01')).toBe('2026-12-03');
    expect(dayOfB('2026-12-05')).toBe('2026-12-05');
    expect(placed.arrivalDay('a', new Map([[1, '2026-12-01']]), '2026-11-25')).toBe('2026-12-01');
    expect(placed.toBuy.map((amount) => amount.yarnColourId)).toEqual([1]);
  });
});
