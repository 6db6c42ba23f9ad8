/** One limit: the sum of coefficient x amount over some columns is at most `most`. */
export type Limit = {
  readonly columns: readonly number[];
  readonly coefficients: readonly number[];
  readonly most: number;
};

const tolerance = 1e-9;
/** From here on the first column that helps enters, not the best one: slower, and it cannot go in circles. */
const mostBestPivots = 300;
/** A table that is not done by then is left as it is: its prices still give a bound. */
const mostPivots = 1500;

/**
 * The greatest worth of amounts that may be fractions, under limits: the relaxed problem behind a search in whole
 * numbers. A table of equations, one row for each limit, solved by exchanging rows and columns: from limits that hold at
 * amounts of 0 towards the greatest worth (`improve`), and back inside a limit that was added later (`repair`).
 * Floating point, and so no proof by itself: `boundOf` recounts a bound from the limits' prices, whatever they are.
 * Source: the simplex method, primal and dual, as in any textbook of linear programming
 */
export type Tableau = {
  readonly limits: readonly Limit[];
  /** Numbers touched so far: the measure of work, the same on every machine. */
  steps: number;
  /** Adds a limit; `repair` makes the amounts keep it. */
  addLimit(limit: Limit): void;
  /** Greatest worth, from amounts that keep every limit; left as it is when so many steps are done. */
  improve(mostSteps?: number): void;
  /** Amounts that keep every limit again; false when there are none. */
  repair(): boolean;
  amounts(): Float64Array;
  /** What one unit more of each limit would be worth, at least 0. */
  prices(): Float64Array;
  copy(): Tableau;
};

type State = {
  width: number;
  /** Rows of `width` coefficients and the value; the first row is the worth. */
  rows: Float64Array[];
  /** What stands in each column and row: below `columns` an amount, then the limits' slack. */
  outside: Int32Array;
  inside: number[];
  limits: Limit[];
  steps: number;
};

/**
 * An empty table: amounts of 0, no limits yet.
 *
 * @param worth of one unit of each column
 */
export function newTableau(worth: readonly number[]): Tableau {
  const width = worth.length;
  const goal = new Float64Array(width + 1);
  for (const [column, each] of worth.entries()) goal[column] = -each;
  return tableauOf({
    width,
    rows: [goal],
    outside: Int32Array.from({ length: width }, (_, column) => column),
    inside: [],
    limits: [],
    steps: 0,
  });
}

function tableauOf(state: State): Tableau {
  return {
    get limits() {
      return state.limits;
    },
    get steps() {
      return state.steps;
    },
    set steps(steps: number) {
      state.steps = steps;
    },
    addLimit: (limit) => addLimit(state, limit),
    improve: (mostSteps = Number.POSITIVE_INFINITY) => improve(state, mostSteps),
    repair: () => repair(state),
    amounts: () => amountsOf(state),
    prices: () => pricesOf(state),
    copy: () =>
      tableauOf({
        ...state,
        rows: state.rows.map((row) => row.slice()),
        outside: state.outside.slice(),
        inside: [...state.inside],
        limits: [...state.limits],
        steps: 0,
      }),
  };
}

function addLimit(state: State, limit: Limit): void {
  const { width, rows, outside, inside } = state;
  const wanted = new Float64Array(width);
  for (const [at, column] of limit.columns.entries()) wanted[column] = limit.coefficients[at]!;
  const row = new Float64Array(width + 1);
  row[width] = limit.most;
  for (let column = 0; column < width; column += 1) {
    const name = outside[column]!;
    if (name < width) row[column] = wanted[name]!;
  }
  for (let index = 0; index < inside.length; index += 1) {
    const factor = inside[index]! < width ? wanted[inside[index]!]! : 0;
    if (factor === 0) continue;
    const other = rows[index + 1]!;
    for (let column = 0; column <= width; column += 1) row[column]! -= factor * other[column]!;
    state.steps += width;
  }
  state.steps += 3 * width;
  rows.push(row);
  inside.push(width + state.limits.length);
  state.limits.push(limit);
}

function exchange(state: State, at: number, column: number): void {
  const { width, rows, outside, inside } = state;
  const pivotRow = rows[at]!;
  const pivot = pivotRow[column]!;
  for (let each = 0; each <= width; each += 1) pivotRow[each]! /= pivot;
  pivotRow[column] = 1 / pivot;
  for (let index = 0; index < rows.length; index += 1) {
    const row = rows[index]!;
    const factor = row[column]!;
    if (index === at || factor === 0) continue;
    for (let each = 0; each <= width; each += 1) row[each]! -= factor * pivotRow[each]!;
    row[column] = -factor / pivot;
    state.steps += width;
  }
  const leaving = inside[at - 1]!;
  inside[at - 1] = outside[column]!;
  outside[column] = leaving;
}

function improve(state: State, mostSteps: number): void {
  const { width, rows, inside, outside } = state;
  const goal = rows[0]!;
  for (let pivots = 0; pivots < mostPivots && state.steps < mostSteps; pivots += 1) {
    let column = -1;
    for (let each = 0; each < width; each += 1) {
      if (goal[each]! >= -tolerance) continue;
      const isFirst = column < 0;
      if (pivots > mostBestPivots) {
        if (isFirst || outside[each]! < outside[column]!) column = each;
      } else if (isFirst || goal[each]! < goal[column]!) column = each;
    }
    state.steps += width;
    if (column < 0) return;
    let at = -1;
    let least = 0;
    for (let row = 1; row < rows.length; row += 1) {
      const coefficient = rows[row]![column]!;
      if (coefficient <= tolerance) continue;
      const ratio = Math.max(0, rows[row]![width]!) / coefficient;
      if (at < 0 || ratio < least || (ratio === least && inside[row - 1]! < inside[at - 1]!)) {
        at = row;
        least = ratio;
      }
    }
    if (at < 0) throw new RangeError('improve: a worth without limit');
    exchange(state, at, column);
  }
}

function repair(state: State): boolean {
  const { width, rows, outside } = state;
  const goal = rows[0]!;
  for (let pivots = 0; pivots < mostPivots; pivots += 1) {
    let at = -1;
    for (let row = 1; row < rows.length; row += 1) {
      if (rows[row]![width]! >= -tolerance) continue;
      if (at < 0 || (pivots <= mostBestPivots && rows[row]![width]! < rows[at]![width]!)) at = row;
    }
    if (at < 0) return true;
    const row = rows[at]!;
    let column = -1;
    let least = 0;
    for (let each = 0; each < width; each += 1) {
      if (row[each]! >= -tolerance) continue;
      const ratio = Math.max(0, goal[each]!) / -row[each]!;
      if (column < 0 || ratio < least || (ratio === least && outside[each]! < outside[column]!)) {
        column = each;
        least = ratio;
      }
    }
    state.steps += width;
    if (column < 0) return false;
    exchange(state, at, column);
  }
  return true;
}

function amountsOf({ width, rows, inside }: State): Float64Array {
  const amounts = new Float64Array(width);
  for (const [index, name] of inside.entries()) if (name < width) amounts[name] = rows[index + 1]![width]!;
  return amounts;
}

function pricesOf({ width, rows, outside, limits }: State): Float64Array {
  const prices = new Float64Array(limits.length);
  for (let column = 0; column < width; column += 1) {
    const limit = outside[column]! - width;
    if (limit >= 0) prices[limit] = Math.max(0, rows[0]![column]!);
  }
  return prices;
}

/**
 * What no amounts within the limits can be worth more than: the limits at their prices, and for each column what it is
 * worth above the prices of what it takes, up to its most. True for any prices of at least 0, so that errors of
 * floating point cost sharpness and never truth.
 *
 * @param worth of one unit of each column
 * @param most of each column
 * @param prices one for each limit, at least 0
 * @example boundOf([3, 2], [9, 9], [{ columns: [0, 1], coefficients: [1, 1], most: 4 }], [3]) // => 12
 * @example boundOf([3, 2], [9, 9], [{ columns: [0, 1], coefficients: [1, 1], most: 4 }], [2]) // => 17
 */
export function boundOf(
  worth: ArrayLike<number>,
  most: ArrayLike<number>,
  limits: readonly Limit[],
  prices: ArrayLike<number>,
): number {
  const above = Float64Array.from(worth);
  let bound = 0;
  for (const [index, limit] of limits.entries()) {
    const price = prices[index]!;
    if (price <= 0) continue;
    bound += price * limit.most;
    const { columns, coefficients } = limit;
    for (let at = 0; at < columns.length; at += 1) above[columns[at]!]! -= price * coefficients[at]!;
  }
  for (let column = 0; column < above.length; column += 1) {
    if (above[column]! > 0) bound += above[column]! * most[column]!;
  }
  return bound;
}
