import { type Assignment, reasonForNobody } from '#core/schedule/assign.ts';
import {
  type Capacity,
  capacitiesOf,
  capacityOf,
  mostDays,
  type ScheduleOptions,
} from '#core/schedule/availability.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import { requireRange } from '#core/shared/check.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/** A pair that is to find its place between those already planned. */
export type PairToPromise = {
  readonly key: string;
  /** First day its yarn could be there. */
  readonly readyDay: Day;
  /** The day it was promised for, which later pairs must keep; null keeps it just where it finds its place. */
  readonly dueDay: Day | null;
  /** Who is to knit it; whoever is done first where it is left out or null. */
  readonly pinnedKnitterId?: number | null;
};

/** Where the new pairs are knitted, and how those that were there are knitted then. */
export type Promised = {
  /** One a new pair, in the order given; days are null when nobody can knit it, with the reason. */
  readonly pairs: readonly Assignment[];
  /** The planned ones, in the order given, with their days as they are now. */
  readonly others: readonly Assignment[];
};

/** A pair in a knitter's row: places are minutes of her own calendar. */
type Planned = {
  readonly from: 'others' | 'pairs';
  readonly index: number;
  readonly minutes: number;
  readonly begin: number;
  /** Whether it begins another time than it did. */
  readonly isMoved: boolean;
  /** By this minute it must be done; at least its end now, so that what is late already is not moved at all. */
  readonly doneBy: number;
};

type Row = { readonly capacity: Capacity; readonly planned: readonly Planned[]; readonly given: number };

/** Where a pair could go: before position `at` of a row. */
type Place = {
  readonly row: Row;
  readonly at: number;
  readonly begin: number;
  readonly minutes: number;
  readonly finish: number;
};

const hairMin = 1e-6;
const endOf = ({ begin, minutes }: Planned) => begin + minutes;

/** The last minute of a knitter's calendar that still counts as done on a day. */
function doneByOf(dueIndex: number | null, end: number, capacity: Capacity): number {
  const due = dueIndex === null ? capacity.before(mostDays) : capacity.before(dueIndex + 1);
  return Math.max(end, due);
}

/**
 * By how many minutes each pair of a row may begin later: no more than its own slack, and no more than what the next one
 * may, with the idle time between them. One longer than the row: behind the last anything goes.
 */
function delaysOf(planned: readonly Planned[]): Float64Array {
  const delays = new Float64Array(planned.length + 1).fill(Number.POSITIVE_INFINITY);
  for (let at = planned.length - 1; at >= 0; at -= 1) {
    const end = endOf(planned[at]!);
    const next = planned[at + 1];
    const idle = next ? next.begin - end : 0;
    delays[at] = Math.max(0, Math.min(planned[at]!.doneBy - end, idle + delays[at + 1]!));
  }
  return delays;
}

/** The first place of a row where so many minutes fit; null when they never end within the calendar. */
function firstPlace(row: Row, minutes: number, ready: number): Place | null {
  const { planned, capacity } = row;
  const delays = delaysOf(planned);
  const earliest = capacity.before(ready);
  for (let at = 0; at <= planned.length; at += 1) {
    const before = planned[at - 1];
    const begin = Math.max(before ? endOf(before) : 0, earliest);
    const end = begin + minutes;
    const next = planned[at];
    if (next && end - next.begin > delays[at]! + hairMin) continue;
    const finish = capacity.dayReaching(end, ready);
    return finish === null ? null : { row, at, begin, minutes, finish };
  }
  return null;
}

/** A row with a pair put in; those behind it begin later by as much as they must. */
function putIn({ row, at }: Place, pair: Planned): Row {
  const planned = [...row.planned.slice(0, at), pair];
  let reached = endOf(pair);
  for (const next of row.planned.slice(at)) {
    const moved = next.begin < reached ? { ...next, begin: reached, isMoved: true } : next;
    planned.push(moved);
    reached = endOf(moved);
  }
  return { ...row, planned, given: row.given + pair.minutes };
}

/** The rows of a layout, each in the order it is knitted. */
function rowsOf(
  assignments: readonly Assignment[],
  dueDayOf: (pairKey: string) => Day | null,
  capacities: ReadonlyMap<number, Capacity>,
  indexOf: (day: Day) => number,
): Map<number, Row> {
  const rows = new Map([...capacities].map(([id, capacity]) => [id, { capacity, planned: [] as Planned[], given: 0 }]));
  const order = assignments
    .flatMap(({ pairKey, startDay, finishDay }, index) => {
      if (startDay === null || finishDay === null) return [];
      const dueDay = dueDayOf(pairKey);
      const due = dueDay === null ? null : indexOf(dueDay);
      return [{ index, start: indexOf(startDay), finish: indexOf(finishDay), due }];
    })
    .sort(
      (a, b) =>
        a.start - b.start || a.finish - b.finish || (a.due ?? mostDays) - (b.due ?? mostDays) || a.index - b.index,
    );
  for (const { index, start, due } of order) {
    const { knitterId, minutes } = assignments[index]!;
    const row = rows.get(knitterId ?? Number.NaN);
    if (!row) continue;
    const last = row.planned.at(-1);
    const begin = Math.max(last ? endOf(last) : 0, row.capacity.before(start));
    const doneBy = doneByOf(due, begin + minutes, row.capacity);
    row.planned.push({ from: 'others', index, minutes, begin, isMoved: false, doneBy });
    row.given += minutes;
  }
  return rows;
}

function calendarsOf(
  assignments: readonly Assignment[],
  knitters: readonly Knitter[],
  averageOf: (knitterId: number) => number,
  options: ScheduleOptions,
): ReadonlyMap<number, Capacity> {
  if (options.averagePairMin !== undefined || assignments.some((each) => each.knitterId !== null)) {
    return capacitiesOf(assignments, knitters, options);
  }
  // Nothing is planned yet: who gives pairs a month is measured by the new pairs.
  return new Map(
    knitters.map((knitter) => [knitter.id, capacityOf(knitter, { ...options, averagePairMin: averageOf(knitter.id) })]),
  );
}

/**
 * When new pairs could be done, without planning anew and without making any other order later: what is late stays as
 * late as it is, what is in time stays in time. Along a knitter's row the least slack from here to the end is kept, in
 * minutes of her own calendar, idle time included; a pair that is late already has none. A new pair goes to the first
 * place where its minutes fit, not before its yarn could be there; pair by pair in the order given, each to the knitter
 * who is done with it first, or to the one that it is kept for (ties: fewer minutes given so far, then the lower id). For one knitter whose yarn is all
 * there, and whose pairs lie by due day, no order of work has the pair done earlier; for more it is a good promise, not a
 * proven one.
 *
 * @param pairs the new pairs; the first is placed first
 * @param assignments the layout as it is, one after another for each knitter
 * @param dueDayOf due day of a planned pair; null for none: such a pair may be put off as long as it is ever finished
 * @param knitters the knitters, those of the assignments among them
 * @param minutesOf minutes of a new pair in a knitter's hands, at least 0
 * @throws {RangeError} when minutes or an option make no sense
 * Source: our own, checked against enumeration of all places and all orders in the tests
 * @example promisePairs([], [], () => null, [], () => 0, { today: '2026-11-02', horizonDays: 100, knittingMinutesPerHour: 50 }) // => { pairs: [], others: [] }
 * @example promisePairs([{ key: 'a', readyDay: '2026-11-02', dueDay: null }], [], () => null, [{ id: 1, name: 'Mia', handKey: '', rates: {}, minutesByWeekday: [60, 60, 60, 60, 60, 60, 60], dailyCapMin: 240, pairsAMonth: null, daysOff: [], lastDay: null }], () => 101, { today: '2026-11-02', horizonDays: 100, knittingMinutesPerHour: 50 }).pairs[0].finishDay // => '2026-11-04', 50 minutes a day
 */
export function promisePairs(
  pairs: readonly PairToPromise[],
  assignments: readonly Assignment[],
  dueDayOf: (pairKey: string) => Day | null,
  knitters: readonly Knitter[],
  minutesOf: (pairKey: string, knitterId: number) => number,
  options: ScheduleOptions,
): Promised {
  const today = dayNumber(options.today);
  // Thousands of pairs share a few hundred days.
  const indexes = new Map<Day, number>();
  const indexOf = (day: Day) => {
    const index = indexes.get(day) ?? dayNumber(day) - today;
    indexes.set(day, index);
    return index;
  };
  const averageOf = (knitterId: number) =>
    pairs.reduce((sum, { key }) => sum + minutesOf(key, knitterId), 0) / Math.max(1, pairs.length);
  const calendars = calendarsOf(assignments, knitters, averageOf, options);
  const rows = rowsOf(assignments, dueDayOf, calendars, indexOf);
  const placed: Assignment[] = [];
  for (const [index, pair] of pairs.entries()) {
    const ready = Math.max(0, indexOf(pair.readyDay));
    let best: { readonly id: number; readonly place: Place } | null = null;
    for (const [id, row] of [...rows].sort(([a], [b]) => a - b)) {
      if (pair.pinnedKnitterId && pair.pinnedKnitterId !== id) continue;
      const minutes = requireRange('promisePairs: minutesOf', minutesOf(pair.key, id), 0);
      const place = firstPlace(row, minutes, ready);
      if (!place || (best && place.finish > best.place.finish)) continue;
      if (!best || place.finish < best.place.finish || row.given < best.place.row.given) best = { id, place };
    }
    placed.push(without(pair, knitters));
    if (!best) continue;
    const { id, place } = best;
    const { begin, minutes, row } = place;
    const end = begin + minutes;
    const doneBy = pair.dueDay === null ? end : doneByOf(indexOf(pair.dueDay), end, row.capacity);
    rows.set(id, putIn(place, { from: 'pairs', index, minutes, begin, isMoved: true, doneBy }));
    placed[index] = { ...placed[index]!, knitterId: id, minutes, reason: null };
  }
  return withDays(placed, assignments, rows, today);
}

function without({ key: pairKey, pinnedKnitterId = null }: PairToPromise, knitters: readonly Knitter[]): Assignment {
  const reason = reasonForNobody(pinnedKnitterId, knitters);
  return { pairKey, knitterId: null, minutes: 0, startDay: null, finishDay: null, reason };
}

function withDays(
  pairs: readonly Assignment[],
  others: readonly Assignment[],
  rows: ReadonlyMap<number, Row>,
  today: number,
): Promised {
  const promised = { pairs: [...pairs], others: [...others] };
  for (const { capacity, planned } of rows.values()) {
    let from = 0;
    for (const each of planned) {
      if (!each.isMoved) continue;
      const start = capacity.dayAfter(each.begin, from);
      const finish = capacity.dayReaching(endOf(each), from) ?? mostDays - 1;
      const list = promised[each.from];
      list[each.index] = {
        ...list[each.index]!,
        startDay: dayFromNumber(today + Math.min(start ?? finish, finish)),
        finishDay: dayFromNumber(today + finish),
      };
      from = Math.min(start ?? finish, finish);
    }
  }
  return promised;
}
