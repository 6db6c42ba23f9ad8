import { describe, expect, it } from 'vitest';
import { findMostPairs } from '#core/buying/most-pairs.ts';
import { addedBy, lookAtOnce, shelfKey, withBall } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';

const lot = (id: number, freeMg: number, yarnColourId = id) => Object.freeze({ id, yarnColourId, freeMg });
const plain = (size: number, mg: number, yarnColourId: number) =>
  Object.freeze({ size, needs: Object.freeze([{ yarnColourId, mg }]) });
const enough = { mostSteps: 1_000_000 };

// 100 of each: one pair of 60 each. A ball of 50 of colour 1 is no pair, of 130 two.
const shelf: ShelfQuestion = Object.freeze({
  lots: [lot(1, 100), lot(2, 100)],
  kinds: [plain(0, 60, 1), plain(0, 60, 2)],
  sizes: [{ least: 0, most: 99 }],
});
const balls = Object.freeze([
  { yarnColourId: 1, mg: 50 },
  { yarnColourId: 2, mg: 130 },
]);

describe('lookAtOnce', () => {
  it('says how many pairs there are and what a ball of each colour would add', () => {
    const { answer, more, isDone } = lookAtOnce(shelf, balls, enough);
    expect(answer).toMatchObject({ pairs: 2, isBest: true });
    expect(more).toEqual([
      { yarnColourId: 1, atLeast: 0, atMost: 0 },
      { yarnColourId: 2, atLeast: 2, atMost: 2 },
    ]);
    expect(isDone).toBe(true);
  });

  it('adds nothing where every size has its most', () => {
    const one = { ...shelf, sizes: [{ least: 0, most: 1 }] };
    expect(lookAtOnce(one, [{ yarnColourId: 1, mg: 100 }], enough).more).toEqual([
      { yarnColourId: 1, atLeast: 0, atMost: 0 },
    ]);
  });

  it('has pairs that can be made and a bound when there are no steps, and leaves the balls out', () => {
    const { answer, more, isDone } = lookAtOnce(shelf, balls, { mostSteps: 0 });
    expect(answer.pairs).toBe(2);
    expect(answer.mostValue).toBeGreaterThanOrEqual(2);
    expect([more, isDone]).toEqual([[null, null], false]);
  });

  it('is not done when the steps last for the pairs and not for the balls', () => {
    const { steps } = findMostPairs(shelf, enough);
    const { answer, more, isDone } = lookAtOnce(shelf, balls, { mostSteps: steps });
    expect([answer.isBest, more, isDone]).toEqual([true, [null, null], false]);
  });
});

describe('withBall', () => {
  it('adds a lot of its own, which no pair mixes with another', () => {
    // 30 here and 30 of a ball are no pair of 60.
    const little = { ...shelf, lots: [lot(7, 30, 1)] };
    const more = withBall(little, { yarnColourId: 1, mg: 30 });
    expect(more.lots).toEqual([lot(7, 30, 1), lot(8, 30, 1)]);
    expect(findMostPairs(more).pairs).toBe(0);
  });

  it('counts pairs, whatever they are worth', () => {
    const worth = { ...shelf, kinds: shelf.kinds.map((kind) => ({ ...kind, value: 5 })) };
    const ball = { yarnColourId: 2, mg: 130 };
    const answer = findMostPairs(worth);
    expect(answer.value).toBe(10);
    expect(addedBy(ball, answer, findMostPairs(withBall(worth, ball)))).toMatchObject({ atLeast: 2, atMost: 2 });
  });

  it('refuses a ball that weighs nothing', () => {
    expect(() => withBall(shelf, { yarnColourId: 1, mg: 0 })).toThrow(RangeError);
  });
});

describe('shelfKey', () => {
  it('is another for every number that an answer depends on', () => {
    const others: readonly (readonly [ShelfQuestion, typeof balls])[] = [
      [shelf, balls],
      [{ ...shelf, lots: [lot(1, 101), lot(2, 100)] }, balls],
      [{ ...shelf, lots: [lot(2, 100), lot(1, 100)] }, balls],
      [{ ...shelf, kinds: [plain(0, 61, 1), plain(0, 60, 2)] }, balls],
      [{ ...shelf, kinds: [{ ...plain(0, 60, 1), value: 2 }, plain(0, 60, 2)] }, balls],
      [{ ...shelf, sizes: [{ least: 1, most: 99 }] }, balls],
      [{ ...shelf, sizes: [{ least: 0, most: 98 }] }, balls],
      [shelf, balls.slice(1)],
    ];
    expect(new Set(others.map(([question, each]) => shelfKey(question, each))).size).toBe(others.length);
    expect(shelfKey({ ...shelf }, [...balls])).toBe(shelfKey(shelf, balls));
  });
});
