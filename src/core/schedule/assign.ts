import { type Capacity, capacityOf, type ScheduleOptions } from '#core/schedule/availability.ts';
import { fewerLate } from '#core/schedule/fewer-late.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import { requireRange } from '#core/shared/check.ts';
import type { Knitter } from '#core/timing/knitter.ts';

export type PairToKnit = {
  readonly key: string;
  readonly dueDay: Day | null;
  /** First day its yarn could be there. */
  readonly readyDay: Day;
  readonly pinnedKnitterId: number | null;
};

/** Who knits a pair and when. Days are null when nobody can, and `reason` then says why and what would help. */
export type Assignment = {
  readonly pairKey: string;
  readonly knitterId: number | null;
  readonly minutes: number;
  readonly startDay: Day | null;
  readonly finishDay: Day | null;
  readonly reason: string | null;
};

/**
 * Gives each pair to a knitter by the list rule: pairs by due day (none last, equals in list order), each to the one who
 * finishes it on the earliest day after what she has already, never before its yarn is there; ties: the one with fewer
 * minutes given so far, then the lower id. For one knitter whose yarn is all there this is earliest due day first, which
 * no other order beats in lateness. Where a pair is late so, pairs are moved and exchanged between knitters as long as
 * that leaves less late: a good plan, not a proven one.
 *
 * @param pairs each key once; a pinned pair goes to its knitter or to nobody
 * @param minutesOf minutes of a pair in a knitter's hands, at least 0; `index` is its place in `pairs`
 * @returns one assignment a pair, in the order of `pairs`
 * @throws {RangeError} when minutes or an option make no sense
 * Source: list scheduling; earliest due date first is Jackson's rule (1955)
 * @example assignKnitters([], [], () => 0, { today: '2026-11-02', horizonDays: 100, knittingMinutesPerHour: 50 }) // => []
 */
export function assignKnitters(
  pairs: readonly PairToKnit[],
  knitters: readonly Knitter[],
  minutesOf: (pair: PairToKnit, knitterId: number, index: number) => number,
  options: ScheduleOptions,
): readonly Assignment[] {
  const today = dayNumber(options.today);
  const rows = [...knitters]
    .sort((a, b) => a.id - b.id)
    .map((knitter) => ({
      id: knitter.id,
      name: knitter.name,
      capacity: capacityFor(knitter, pairs, minutesOf, options),
      reached: 0, // minutes of her calendar used or passed
      day: 0,
      given: 0,
      // Minutes before the day a pair is ready; most pairs in turn are ready on the same day.
      ready: 0,
      beforeReady: 0,
    }));
  const assignments = new Array<Assignment>(pairs.length);
  const order = dueOrder(pairs);
  let isAnyLate = false;
  for (const index of order) {
    const pair = pairs[index]!;
    const ready = Math.max(0, dayNumber(pair.readyDay) - today);
    let best: (typeof rows)[number] | null = null;
    let bestMinutes = 0;
    let bestFinish = Number.POSITIVE_INFINITY;
    for (let at = 0; at < rows.length; at += 1) {
      const row = rows[at]!;
      if (pair.pinnedKnitterId !== null && pair.pinnedKnitterId !== row.id) continue;
      // Whoever is busy beyond the best day so far cannot be sooner.
      if (row.day > bestFinish) continue;
      const minutes = requireRange('assignKnitters: minutesOf', minutesOf(pair, row.id, index), 0);
      if (ready !== row.ready) {
        row.ready = ready;
        row.beforeReady = row.capacity.before(ready);
      }
      const from = Math.max(row.reached, row.beforeReady);
      const finish = row.capacity.dayReaching(from + minutes, Math.max(row.day, ready));
      if (finish === null || finish > bestFinish) continue;
      if (finish < bestFinish || row.given < best!.given) {
        best = row;
        bestFinish = finish;
        bestMinutes = minutes;
      }
    }
    if (!best) {
      assignments[index] = nobody(pair, knitters);
      continue;
    }
    const from = Math.max(best.reached, best.capacity.before(ready));
    const start = best.capacity.dayAfter(from, Math.max(best.day, ready)) ?? bestFinish;
    best.reached = from + bestMinutes;
    best.day = bestFinish;
    best.given += bestMinutes;
    assignments[index] = {
      pairKey: pair.key,
      knitterId: best.id,
      minutes: bestMinutes,
      startDay: dayFromNumber(today + Math.min(start, bestFinish)),
      finishDay: dayFromNumber(today + bestFinish),
      reason: null,
    };
    if (pair.dueDay !== null && assignments[index]!.finishDay! > pair.dueDay) isAnyLate = true;
  }
  if (!isAnyLate || rows.length < 2) return assignments;
  return fewerLate({
    assignments,
    pairs,
    order,
    knitters,
    minutesOf: (index, knitterId) => minutesOf(pairs[index]!, knitterId, index),
    options,
  });
}

/**
 * Positions of pairs by due day, none last, equals in list order.
 *
 * @example dueOrder([{ dueDay: null }, { dueDay: '2026-12-02' }, { dueDay: '2026-12-01' }]) // => [2, 1, 0]
 */
export function dueOrder(pairs: readonly { readonly dueDay: Day | null }[]): number[] {
  const never = dayNumber('9999-12-31');
  // Day and position as one number, so that they sort as numbers do.
  const count = pairs.length;
  const keys = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    const { dueDay } = pairs[index]!;
    keys[index] = (dueDay === null ? never : dayNumber(dueDay)) * count + index;
  }
  keys.sort();
  const order = new Array<number>(count);
  for (let place = 0; place < count; place += 1) order[place] = keys[place]! - Math.floor(keys[place]! / count) * count;
  return order;
}

function capacityFor(
  knitter: Knitter,
  pairs: readonly PairToKnit[],
  minutesOf: (pair: PairToKnit, knitterId: number, index: number) => number,
  options: ScheduleOptions,
): Capacity {
  if (knitter.pairsAMonth === null || options.averagePairMin !== undefined || pairs.length === 0) {
    return capacityOf(knitter, options);
  }
  const sum = pairs.reduce((total, pair, index) => total + minutesOf(pair, knitter.id, index), 0);
  return capacityOf(knitter, { ...options, averagePairMin: sum / pairs.length });
}

function nobody({ key: pairKey, pinnedKnitterId }: PairToKnit, knitters: readonly Knitter[]): Assignment {
  const reason = reasonForNobody(pinnedKnitterId, knitters);
  return { pairKey, knitterId: null, minutes: 0, startDay: null, finishDay: null, reason };
}

/** Why nobody knits a pair, and what would help. @param pinnedKnitterId who is to knit it; null for whoever has time */
export function reasonForNobody(pinnedKnitterId: number | null, knitters: readonly Knitter[]): string {
  if (knitters.length === 0) return 'There is no knitter yet: add one with hours on the knitters page.';
  if (pinnedKnitterId === null) {
    return 'Nobody has knitting time left for this pair: enter more hours or another knitter.';
  }
  const pinned = knitters.find(({ id }) => id === pinnedKnitterId);
  if (!pinned) return 'The knitter this pair is kept for is not there: choose another.';
  return `${pinned.name} has no knitting time left for this pair: enter more hours or let someone else knit it.`;
}
