import { type Assignment, dueOrder, type PairToKnit } from '#core/schedule/assign.ts';
import { capacitiesOf, type ScheduleOptions } from '#core/schedule/availability.ts';
import { layOutRow, type RowPair, type Steps } from '#core/schedule/row.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/** Pairs placed in trials at the most, for all knitters together: a few thousandths of a second. */
const mostSteps = 30_000;

/**
 * Lays the pairs out over the days once it is known when their yarn arrives; knitters are kept. Each knitter takes, of
 * the pairs whose yarn is there, the one due first (equals in list order) and finishes it before the next; when no yarn
 * is there she waits for the first to come. Where that makes a pair late which one due later held up, she leaves room
 * for it, if nothing becomes later by that.
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
  const rows = new Map<number, RowPair[]>();
  let rank = -1;
  for (const index of dueOrder(pairs)) {
    rank += 1;
    const { knitterId, pairKey, minutes } = assignments[index]!;
    if (knitterId === null) continue;
    const arrival = arrivalDayOf(pairKey);
    if (arrival === null)
      laidOut[index] = withoutDays(assignments[index]!, 'Its yarn cannot be had: find another seller or colour.');
    else {
      const ready = Math.max(0, dayNumber(arrival) - today);
      const { dueDay } = pairs[index]!;
      const pair = { index, rank, minutes, ready, due: dueDay === null ? null : dayNumber(dueDay) - today };
      const row = rows.get(knitterId);
      if (row) row.push(pair);
      else rows.set(knitterId, [pair]);
    }
  }
  const capacities = capacitiesOf(assignments, knitters, options);
  const steps: Steps = { left: mostSteps };
  for (const [knitterId, row] of rows) {
    const capacity = capacities.get(knitterId);
    if (!capacity) throw new RangeError(`layOutDays: knitters must hold knitter ${knitterId}`);
    for (const { pair, start, finish } of layOutRow(row, capacity, steps).placed) {
      const assignment = assignments[pair.index]!;
      laidOut[pair.index] =
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
    }
  }
  return laidOut;
}

function withDays(assignment: Assignment, startDay: Day, finishDay: Day): Assignment {
  if (assignment.startDay === startDay && assignment.finishDay === finishDay) return assignment;
  return { ...assignment, startDay, finishDay };
}

function withoutDays(assignment: Assignment, reason: string): Assignment {
  return { ...assignment, startDay: null, finishDay: null, reason };
}
