import { describe, expect, it } from 'vitest';
import { runsOutIn, weighBall } from '#core/cards/ball.ts';

describe('weighBall', () => {
  // 24 g at 1.2 g a row are 20 rows; 23 rows and 5 g of ends need 32.6 g, so 8.6 g are short.
  it('says how many rows and how much is short', () => {
    const answer = weighBall(24, [{ rows: 23, gramsARow: 1.2 }], 5);
    expect(answer).toMatchObject({ rowsPossible: 20, rowsLeft: 23, isEnough: false });
    expect(answer.neededG).toBeCloseTo(32.6, 9);
    expect(answer.shortG).toBeCloseTo(8.6, 9);
  });

  it('is enough to the gram, and not enough a tenth below', () => {
    const runs = [{ rows: 10, gramsARow: 2 }];
    expect(weighBall(23, runs, 3)).toMatchObject({ isEnough: true, shortG: 0, rowsPossible: 10 });
    expect(weighBall(22.9, runs, 3).isEnough).toBe(false);
  });

  // Rows that are all possible do not make the piece: its ends are needed too.
  it('tells rows from ends', () => {
    expect(weighBall(20, [{ rows: 10, gramsARow: 2 }], 3)).toMatchObject({
      rowsPossible: 10,
      isEnough: false,
      shortG: 3,
    });
  });

  // 5 rows of 2 g, then rows of 1 g: 13 g make 5 and 3.
  it('goes from one run of rows to the next, and stops in the run that is too long', () => {
    const runs = [
      { rows: 5, gramsARow: 2 },
      { rows: 4, gramsARow: 1 },
      { rows: 2, gramsARow: 0.1 },
    ];
    expect(weighBall(13.2, runs, 0).rowsPossible).toBe(8);
  });

  it('does not lose a row to a rounding error', () => {
    expect(weighBall(0.3, [{ rows: 5, gramsARow: 0.1 }], 0).rowsPossible).toBe(3);
  });

  it('refuses what no scale shows', () => {
    expect(() => weighBall(-1, [], 0)).toThrow(RangeError);
    expect(() => weighBall(Number.NaN, [], 0)).toThrow(RangeError);
  });
});

describe('runsOutIn', () => {
  // 17 g for what is left of the first foot, 43 g for the second, 8 g for each cuff: 76 g in all.
  const needs = [17, 43, 8, 8];

  it.each([
    [10, 0],
    [17, 1],
    [59.9, 1],
    [60, 2],
    [75.9, 3],
    [76, null],
    [200, null],
  ])('%d g end in piece %s', (grams, place) => expect(runsOutIn(grams, needs)).toBe(place));

  it('does not run out in a piece that needs nothing more', () => expect(runsOutIn(0, [0, 0, 3])).toBe(2));
});
