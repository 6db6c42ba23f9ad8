/** Rows still to work in one colour, and the grams one of them takes. */
export type RowsLeft = { readonly rows: number; readonly gramsARow: number };

export type BallOnScale = {
  /** Rows that the ball still makes, counted from the next one; never more than are left. */
  readonly rowsPossible: number;
  readonly rowsLeft: number;
  /** Grams for the rows left and the ends. */
  readonly neededG: number;
  /** 0 when it is enough. */
  readonly shortG: number;
  readonly isEnough: boolean;
};

/**
 * What a ball on the scale still makes: rows possible = grams left / grams a row, run by run where rows differ.
 * Ends, binding off and seams are needed after the last row and are not taken from the rows.
 *
 * @param gramsLeft what the scale shows less bag or cone, at least 0
 * @param runs rows left in this colour, in order; an empty list means only ends are left
 * @param endsG grams for what comes after the rows, at least 0
 * @returns whole rows possible, grams needed, and how much is short
 * @throws {RangeError} when an amount is negative or not finite
 * @example weighBall(20, [{ rows: 10, gramsARow: 1.5 }], 3) // => { rowsPossible: 10, rowsLeft: 10, neededG: 18, shortG: 0, isEnough: true }
 * @example weighBall(10, [{ rows: 4, gramsARow: 2 }, { rows: 10, gramsARow: 1 }], 1) // => { rowsPossible: 6, rowsLeft: 14, neededG: 19, shortG: 9, isEnough: false }
 * @example weighBall(0, [], 2) // => { rowsPossible: 0, rowsLeft: 0, neededG: 2, shortG: 2, isEnough: false }
 */
export function weighBall(gramsLeft: number, runs: readonly RowsLeft[], endsG: number): BallOnScale {
  for (const amount of [gramsLeft, endsG, ...runs.flatMap(({ rows, gramsARow }) => [rows, gramsARow])]) {
    if (!Number.isFinite(amount) || amount < 0)
      throw new RangeError(`weighBall: amounts must be from 0, got ${amount}`);
  }
  let left = gramsLeft;
  let rowsPossible = 0;
  let rowsLeft = 0;
  let neededG = endsG;
  let isRunning = true;
  for (const { rows, gramsARow } of runs) {
    rowsLeft += rows;
    neededG += rows * gramsARow;
    if (!isRunning) continue;
    // A hair more than a whole row is a whole row: grams a row are no round numbers.
    const possible = gramsARow === 0 ? rows : Math.min(rows, Math.floor(left / gramsARow + 1e-9));
    rowsPossible += possible;
    left -= possible * gramsARow;
    if (possible < rows) isRunning = false;
  }
  const shortG = Math.max(0, neededG - gramsLeft);
  return { rowsPossible, rowsLeft, neededG, shortG, isEnough: shortG <= 1e-9 };
}

/**
 * Which of several pieces, worked one after another, a ball does not finish.
 *
 * @param gramsLeft what the scale shows less bag or cone, at least 0
 * @param neededG grams for each piece, in the order they are worked, at least 0
 * @returns the place of the first piece that is short, from 0; null when the ball is enough for all
 * @example runsOutIn(20, [12, 10]) // => 1
 * @example runsOutIn(22, [12, 10]) // => null
 * @example runsOutIn(5, []) // => null
 */
export function runsOutIn(gramsLeft: number, neededG: readonly number[]): number | null {
  let left = gramsLeft;
  for (const [place, needed] of neededG.entries()) {
    left -= needed;
    if (left < -1e-9) return place;
  }
  return null;
}
