import { type Capacity, mostDays } from '#core/schedule/availability.ts';
import { popFrom, pushOnto } from '#core/shared/heap.ts';

/** A pair in one knitter's row. Days count from today; `rank` is its place by due day among all pairs. */
export type RowPair = {
  readonly index: number;
  readonly rank: number;
  readonly minutes: number;
  /** First day its yarn is there, from 0. */
  readonly ready: number;
  /** May lie before today; null for none. */
  readonly due: number | null;
};

/** How late something is: pairs late, their days late in all, and the days of the latest. All 0 when nothing is late. */
export type Lateness = { readonly pairs: number; readonly days: number; readonly most: number };

/** A row in the order it is knitted; days are null for what does not fit within the calendar. */
export type LaidRow = {
  readonly placed: readonly {
    readonly pair: RowPair;
    readonly start: number | null;
    readonly finish: number | null;
    readonly daysLate: number;
  }[];
  readonly late: Lateness;
};

/** Pairs that may still be placed in trials; counted down, so that a plan takes the same steps on every machine. */
export type Steps = { left: number };

export const nothingLate: Lateness = { pairs: 0, days: 0, most: 0 };

/**
 * Whether one lateness is better than another: no figure is higher, and one is lower.
 *
 * @example isLessLate({ pairs: 1, days: 3, most: 3 }, { pairs: 2, days: 3, most: 3 }) // => true
 * @example isLessLate({ pairs: 1, days: 4, most: 4 }, { pairs: 2, days: 4, most: 2 }) // => false, the latest is later
 */
export function isLessLate(one: Lateness, other: Lateness): boolean {
  if (one.pairs > other.pairs || one.days > other.days || one.most > other.most) return false;
  return one.pairs < other.pairs || one.days < other.days || one.most < other.most;
}

/**
 * Lateness of two things together.
 *
 * @example latenessOfBoth({ pairs: 1, days: 3, most: 3 }, { pairs: 2, days: 3, most: 2 }) // => { pairs: 3, days: 6, most: 3 }
 */
export function latenessOfBoth(one: Lateness, other: Lateness): Lateness {
  return { pairs: one.pairs + other.pairs, days: one.days + other.days, most: Math.max(one.most, other.most) };
}

const hairMin = 1e-6;
const isBefore = (a: RowPair, b: RowPair) => a.rank < b.rank;

/** What is never finished is as late as the calendar is long, with a due day or without. */
function daysLateOf({ due }: RowPair, finish: number | null): number {
  if (finish === null) return mostDays - Math.min(0, due ?? 0);
  return due === null ? 0 : Math.max(0, finish - due);
}

/**
 * One after another: of the pairs whose yarn is there the one due first. For a kept pair that is still to come, room is
 * left: a pair due later begins only if it is done before that yarn comes.
 */
function inTurn(arriving: readonly RowPair[], capacity: Capacity, isKept: ((pair: RowPair) => boolean) | null) {
  const placed: LaidRow['placed'][number][] = [];
  const there: RowPair[] = [];
  let reached = 0;
  let day = 0;
  let next = 0;
  const receive = () => {
    while (next < arriving.length && capacity.before(arriving[next]!.ready) <= reached + hairMin) {
      pushOnto(there, arriving[next]!, isBefore);
      next += 1;
    }
  };
  const isInTheWay = (pair: RowPair): boolean => {
    for (let at = next; at < arriving.length; at += 1) {
      const other = arriving[at]!;
      if (capacity.before(other.ready) >= reached + pair.minutes - hairMin) return false;
      if (other.rank < pair.rank && isKept!(other)) return true;
    }
    return false;
  };
  const takeNext = (): RowPair | null => {
    if (isKept === null) return there.length === 0 ? null : popFrom(there, isBefore);
    const refused: RowPair[] = [];
    let taken: RowPair | null = null;
    while (taken === null && there.length > 0) {
      const pair = popFrom(there, isBefore);
      if (isInTheWay(pair)) refused.push(pair);
      else taken = pair;
    }
    for (const pair of refused) pushOnto(there, pair, isBefore);
    return taken;
  };
  while (placed.length < arriving.length) {
    receive();
    const pair = takeNext();
    if (pair === null) {
      reached = capacity.before(arriving[next]!.ready);
      continue;
    }
    const from = Math.max(day, pair.ready);
    const start = capacity.dayAfter(reached, from);
    reached += pair.minutes;
    const finish = capacity.dayReaching(reached, from);
    day = finish ?? day;
    placed.push({ pair, start, finish, daysLate: daysLateOf(pair, finish) });
  }
  return { placed, late: latenessOf(placed) };
}

function latenessOf(placed: LaidRow['placed']): Lateness {
  let [pairs, days, most] = [0, 0, 0];
  for (const { daysLate } of placed) {
    if (daysLate === 0) continue;
    pairs += 1;
    days += daysLate;
    if (daysLate > most) most = daysLate;
  }
  return { pairs, days, most };
}

/** Late pairs whose yarn came while a pair due later was on the needles: waiting for them might help. */
function heldUp({ placed }: LaidRow): RowPair[] {
  let latest = -1;
  const found: RowPair[] = [];
  for (const { pair, daysLate } of placed) {
    if (daysLate > 0 && latest > pair.rank && pair.ready > 0) found.push(pair);
    latest = Math.max(latest, pair.rank);
  }
  return found;
}

/**
 * Lays out one knitter's row: of the pairs whose yarn is there the one due first, each finished before the next. Where a
 * pair is late because one due later was begun shortly before its yarn came, rows that leave room for it are tried:
 * first for every pair, then for one late pair after another. One is taken only if neither the pairs late nor their
 * days nor the days of the latest are more. With all yarn there, earliest due day first is what comes out.
 *
 * @param row pairs of one knitter, in any order
 * @param steps counted down by the pairs placed in trials; at 0 nothing more is tried
 * @returns never later than earliest due first among what is there; a good order, not a proven one
 * Source: earliest due date with release days, and putting off what interferes, after Potts (Operations Research 28,
 * 1980, 1436-1441); trials and what counts as better are our own
 */
export function layOutRow(row: readonly RowPair[], capacity: Capacity, steps: Steps): LaidRow {
  const arriving = [...row].sort((a, b) => a.ready - b.ready || a.rank - b.rank);
  let best = inTurn(arriving, capacity, null);
  if (best.late.pairs === 0) return best;
  const candidates = heldUp(best);
  const kept = new Set<RowPair>();
  const attempt = (isKept: (pair: RowPair) => boolean): boolean => {
    if (steps.left < row.length) return false;
    steps.left -= row.length;
    const laid = inTurn(arriving, capacity, isKept);
    if (!isLessLate(laid.late, best.late)) return false;
    best = laid;
    return true;
  };
  if (candidates.length > 0) attempt(() => true);
  for (const candidate of candidates) {
    kept.add(candidate);
    if (!attempt((pair) => kept.has(pair))) kept.delete(candidate);
  }
  return best;
}
