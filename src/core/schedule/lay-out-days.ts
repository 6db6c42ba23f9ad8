import { type Assignment, dueOrder, type PairToKnit } from '#core/schedule/assign.ts';
import { type Capacity, capacityOf, type ScheduleOptions } from '#core/schedule/availability.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import { popFrom, pushOnto } from '#core/shared/heap.ts';
import type { Knitter } from '#core/timing/knitter.ts';

type Waiting = { readonly index: number; readonly rank: number; readonly ready: number };

/**
 * Lays the pairs out over the days once it is known when their yarn arrives; knitters are kept. Each knitter takes, of
 * the pairs whose yarn is there, the one due first (equals in list order) and finishes it before the next; when no yarn
 * is there she waits for the first to come.
 *
 * @param assignments in the order of `pairs`, one each
 * @param arrivalDayOf today or earlier for yarn on the shelf; null when the yarn cannot be had
 * @returns assignments in the same order with new days; without days, and with a reason, where the yarn never comes
 * @throws {RangeError} when `assignments` and `pairs` do not belong together
 * @example layOutDays([], [], [], () => null, { today: '2026-11-02', horizonDays: 100, knittingMinutesPerHour: 50 }) // => []
 */
export function layOutDays(
  assignments: readonly Assignment[],
  pairs: readonly PairToKnit[],
  knitters: readonly Knitter[],
  arrivalDayOf: (pairKey: string) => Day | null,
  options: ScheduleOptions,
): readonly Assignment[] {
  if (assignments.length !== pairs.length || assignments.some((each, i) => each.pairKey !== pairs[i]!.key)) {
    throw new RangeError('layOutDays: assignments must name the pairs in their order');
  }
  const today = dayNumber(options.today);
  const laidOut: Assignment[] = [...assignments];
  const rows = new Map<number, Waiting[]>();
  let rank = -1;
  for (const index of dueOrder(pairs)) {
    rank += 1;
    const { knitterId, pairKey } = assignments[index]!;
    if (knitterId === null) continue;
    const arrival = arrivalDayOf(pairKey);
    if (arrival === null)
      laidOut[index] = withoutDays(assignments[index]!, 'Its yarn cannot be had: find another seller or colour.');
    else {
      const ready = Math.max(0, dayNumber(arrival) - today);
      const row = rows.get(knitterId);
      if (row) row.push({ index, rank, ready });
      else rows.set(knitterId, [{ index, rank, ready }]);
    }
  }
  const capacities = capacitiesOf(assignments, knitters, options);
  for (const [knitterId, row] of rows) {
    const capacity = capacities.get(knitterId);
    if (!capacity) throw new RangeError(`layOutDays: knitters must hold knitter ${knitterId}`);
    const minutesOf = (waiting: Waiting) => assignments[waiting.index]!.minutes;
    workRow(row, capacity, minutesOf, ({ index }, start, finish) => {
      const assignment = assignments[index]!;
      laidOut[index] =
        finish === null
          ? withoutDays(
              assignment,
              `${capacity.knitter.name} has no knitting time left for this pair: enter more hours.`,
            )
          : withDays(
              assignment,
              dayFromNumber(today + Math.min(start ?? finish, finish)),
              dayFromNumber(today + finish),
            );
    });
  }
  return laidOut;
}

/** Calendars by knitter; pairs a month count by the mean of the assignments unless an average pair is given. */
export function capacitiesOf(
  assignments: readonly Assignment[],
  knitters: readonly Knitter[],
  options: ScheduleOptions,
): ReadonlyMap<number, Capacity> {
  const given = assignments.filter((each) => each.knitterId !== null);
  const averagePairMin =
    options.averagePairMin ?? given.reduce((total, each) => total + each.minutes, 0) / Math.max(1, given.length);
  return new Map(knitters.map((knitter) => [knitter.id, capacityOf(knitter, { ...options, averagePairMin })]));
}

function withDays(assignment: Assignment, startDay: Day, finishDay: Day): Assignment {
  if (assignment.startDay === startDay && assignment.finishDay === finishDay) return assignment;
  return { ...assignment, startDay, finishDay };
}

function withoutDays(assignment: Assignment, reason: string): Assignment {
  return { ...assignment, startDay: null, finishDay: null, reason };
}

/** Days of a knitter's pairs, one after another, as `place` is told them. */
function workRow(
  row: readonly Waiting[],
  capacity: Capacity,
  minutesOf: (waiting: Waiting) => number,
  place: (waiting: Waiting, start: number | null, finish: number | null) => void,
): void {
  const arriving = [...row].sort((a, b) => a.ready - b.ready || a.rank - b.rank);
  const there: Waiting[] = [];
  const isBefore = (a: Waiting, b: Waiting) => a.rank < b.rank;
  let reached = 0;
  let day = 0;
  let next = 0;
  const receive = () => {
    while (next < arriving.length && capacity.before(arriving[next]!.ready) <= reached + 1e-6) {
      pushOnto(there, arriving[next]!, isBefore);
      next += 1;
    }
  };
  for (let done = 0; done < row.length; done += 1) {
    receive();
    if (there.length === 0) {
      reached = capacity.before(arriving[next]!.ready);
      receive();
    }
    const waiting = popFrom(there, isBefore);
    const from = Math.max(day, waiting.ready);
    const start = capacity.dayAfter(reached, from);
    reached += minutesOf(waiting);
    const finish = capacity.dayReaching(reached, from);
    day = finish ?? day;
    place(waiting, start, finish);
  }
}
