import { describe, expect, it } from 'vitest';
import { type BallLeft, freeOfBalls, useFirst, whatItStillDoes } from '#core/shelf/use-first.ts';

const ball = (ballId: number, massMg: number, values: Partial<BallLeft> = {}): BallLeft =>
  Object.freeze({ ballId, massMg, isGiven: false, isReturnable: false, ...values });

describe('useFirst', () => {
  it('puts given yarn first and what the shop takes back last, the smallest first in each', () => {
    const balls = [
      ball(1, 40),
      ball(2, 5, { isReturnable: true }),
      ball(3, 90, { isGiven: true }),
      ball(4, 20, { isGiven: true }),
      ball(5, 10),
      ball(6, 10),
    ];
    expect(useFirst(balls).map(({ ballId }) => ballId)).toEqual([4, 3, 5, 6, 1, 2]);
  });
});

describe('whatItStillDoes', () => {
  const usual = {
    pairG: 96,
    parts: [
      { words: 'toe', grams: 12 },
      { words: 'cuff', grams: 20 },
    ],
    rowG: 2,
    rows: 30,
    gramsPerM: 1,
  };

  it('names what it is enough for, the part that takes most first', () => {
    expect(whatItStillDoes(20, usual)).toEqual({
      isWholePair: false,
      parts: ['cuff', 'toe'],
      // (20 - 4 ends of 0.15 m at 1 g a metre) / 2 g a row = 9.7
      stripeRows: 9,
    });
    expect(whatItStillDoes(19.9, usual).parts).toEqual(['toe']);
    expect(whatItStillDoes(96, usual).isWholePair).toBe(true);
    expect(whatItStillDoes(95.9, usual).isWholePair).toBe(false);
  });

  it('gives no stripe for less than its ends, nor more rows than a foot has', () => {
    expect(whatItStillDoes(0.5, usual).stripeRows).toBe(0);
    expect(whatItStillDoes(90, usual).stripeRows).toBe(30);
    expect(whatItStillDoes(0, usual)).toEqual({ isWholePair: false, parts: [], stripeRows: 0 });
  });

  it('throws on less than nothing', () => {
    expect(() => whatItStillDoes(-1, usual)).toThrow(RangeError);
  });
});

describe('freeOfBalls', () => {
  it('takes what is put aside from the smallest ball on, and leaves all the rest', () => {
    expect(freeOfBalls([100, 43, 27], 0)).toEqual([100, 43, 27]);
    expect(freeOfBalls([100, 43, 27], 27)).toEqual([100, 43, 0]);
    // 27 + 23 of 43.
    expect(freeOfBalls([100, 43, 27], 50)).toEqual([100, 20, 0]);
    expect(freeOfBalls([100, 43, 27], 500)).toEqual([0, 0, 0]);
    expect(freeOfBalls([], 5)).toEqual([]);
  });

  it.each([
    [[-1], 0],
    [[1], -1],
    [[Number.NaN], 0],
  ])('throws for %o, %s', (balls, promised) => {
    expect(() => freeOfBalls(balls, promised)).toThrow(RangeError);
  });
});
