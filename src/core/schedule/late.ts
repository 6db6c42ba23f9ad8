import type { Assignment } from '#core/schedule/assign.ts';
import { type Capacity, capacitiesOf, type ScheduleOptions } from '#core/schedule/availability.ts';
import { type Day, dayNumber } from '#core/shared/calendar.ts';
import { formatMinutes } from '#core/shared/format.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { Knitter } from '#core/timing/knitter.ts';

export type DuePair = {
  readonly pairKey: string;
  readonly orderId: number | null;
  readonly dueDay: Day | null;
  /** Null when the pair is never finished. */
  readonly finishDay: Day | null;
};

/** `daysLate` null: never finished. */
export type LatePair = { readonly pairKey: string; readonly orderId: number | null; readonly daysLate: number | null };
export type LateOrder = { readonly orderId: number; readonly daysLate: number | null; readonly pairs: number };

export type LateReport = {
  readonly latePairs: readonly LatePair[];
  /** Latest first, those never finished before all others; ties by order id. */
  readonly lateOrders: readonly LateOrder[];
  /** Over the orders that do get finished; 0 when none is late. */
  readonly maxDaysLate: number;
  readonly totalDaysLate: number;
};

/**
 * What is late and by how many days. A pair finished on its due day is in time; a pair without a due day never is late;
 * an order is as late as its last pair.
 *
 * @param pairs all planned pairs
 * @example findLate([{ pairKey: 'a', orderId: 1, dueDay: '2026-12-01', finishDay: '2026-12-03' }]).maxDaysLate // => 2
 * @example findLate([{ pairKey: 'a', orderId: 1, dueDay: '2026-12-01', finishDay: '2026-12-01' }]).lateOrders // => []
 */
export function findLate(pairs: readonly DuePair[]): LateReport {
  const latePairs: LatePair[] = [];
  const orders = new Map<number, { daysLate: number; pairs: number }>();
  for (const { pairKey, orderId, dueDay, finishDay } of pairs) {
    if (dueDay === null) continue;
    const daysLate = finishDay === null ? Number.POSITIVE_INFINITY : dayNumber(finishDay) - dayNumber(dueDay);
    if (daysLate <= 0) continue;
    latePairs.push({ pairKey, orderId, daysLate: finiteOrNull(daysLate) });
    if (orderId === null) continue;
    const order = orders.get(orderId) ?? { daysLate: 0, pairs: 0 };
    orders.set(orderId, { daysLate: Math.max(order.daysLate, daysLate), pairs: order.pairs + 1 });
  }
  const sorted = [...orders].sort(([a, one], [b, two]) =>
    one.daysLate === two.daysLate ? a - b : two.daysLate > one.daysLate ? 1 : -1,
  );
  const days = sorted.map(([, order]) => order.daysLate).filter(Number.isFinite);
  return {
    latePairs,
    lateOrders: sorted.map(([orderId, order]) => ({
      orderId,
      daysLate: finiteOrNull(order.daysLate),
      pairs: order.pairs,
    })),
    maxDaysLate: Math.max(0, ...days.slice(0, 1)),
    totalDaysLate: days.reduce((total, late) => total + late, 0),
  };
}

function finiteOrNull(days: number): number | null {
  return Number.isFinite(days) ? days : null;
}

/** What would bring an order home in time. */
export type LateHelp = {
  readonly orderId: number;
  /** The day all its pairs are done as planned; null when one never is. */
  readonly promiseDay: Day | null;
  /** One entry for each knitter with a late pair of it; null minutes: more hours cannot help. */
  readonly knitters: readonly { readonly knitterId: number; readonly minutesAWeekMore: number | null }[];
  readonly words: string;
};

/**
 * What would help late orders: how many minutes of knitting a week more each of an order's knitters needs at the least,
 * and the day that could be promised instead. Of a knitter's pairs due by then, those whose yarn comes on day r or later
 * must fit between r and the due day, whatever the order of work; the largest shortfall over all r, spread over the weeks
 * between, is the figure. It is a lower bound for having all of them in time: fewer minutes surely do not do.
 *
 * What all orders share is made once, at the first question; each order then takes time in proportion to the pairs of its
 * knitters.
 *
 * @param pairs all planned pairs with the finish days as laid out
 * @param assignments as laid out
 * @param arrivalDayOf as given to `layOutDays`
 * @returns what helps an order by its id; null when it is not late
 */
export function lateHelpOf(
  pairs: readonly DuePair[],
  assignments: readonly Assignment[],
  knitters: readonly Knitter[],
  arrivalDayOf: (pairKey: string) => Day | null,
  options: ScheduleOptions,
): (orderId: number) => LateHelp | null {
  const today = dayNumber(options.today);
  const readyOf = (pairKey: string) => Math.max(0, dayNumber(arrivalDayOf(pairKey) ?? options.today) - today);
  let made: ReturnType<typeof makeShared> | undefined;

  function makeShared() {
    const dueOf = new Map(pairs.map((pair) => [pair.pairKey, pair.dueDay]));
    const work = assignments.flatMap(({ pairKey, knitterId, startDay, minutes }) =>
      startDay === null ? [] : [{ knitterId, minutes, due: dueOf.get(pairKey) ?? null, ready: readyOf(pairKey) }],
    );
    return {
      ofOrder: groupBy(pairs, (pair) => pair.orderId),
      byKey: new Map(assignments.map((each) => [each.pairKey, each])),
      capacities: capacitiesOf(assignments, knitters, options),
      // The last yarn first.
      rows: groupBy(
        work.sort((a, b) => b.ready - a.ready),
        ({ knitterId }) => knitterId,
      ),
      /** Minutes a week more by knitter and due day. */
      more: new Map<string, number>(),
    };
  }

  /** By how much a knitter's pairs due by a day fall short of her time, a week. */
  function shortAWeek({ rows, more }: ReturnType<typeof makeShared>, capacity: Capacity, dueDay: Day): number {
    const key = `${capacity.knitter.id} ${dueDay}`;
    const known = more.get(key);
    if (known !== undefined) return known;
    const due = dayNumber(dueDay) - today;
    const row = (rows.get(capacity.knitter.id) ?? []).filter(
      (each) => each.due !== null && each.due <= dueDay && each.ready <= due,
    );
    let work = 0;
    let most = 0;
    for (const [i, each] of row.entries()) {
      work += each.minutes;
      if (row[i + 1]?.ready === each.ready) continue;
      const short = work - (capacity.before(due + 1) - capacity.before(each.ready));
      most = Math.max(most, (short * 7) / (due + 1 - each.ready));
    }
    more.set(key, Math.ceil(most - 1e-6));
    return Math.ceil(most - 1e-6);
  }

  return (orderId) => {
    made ??= makeShared();
    const shared = made;
    const own = shared.ofOrder.get(orderId) ?? [];
    const late = findLate(own);
    if (late.latePairs.length === 0) return null;
    const finishDays = own.map((pair) => pair.finishDay).filter((day) => day !== null);
    const promiseDay = finishDays.length === own.length ? finishDays.sort().at(-1)! : null;
    const lateKeys = new Set(late.latePairs.map(({ pairKey }) => pairKey));
    const needs = new Map<number, number | null>();
    for (const { pairKey, dueDay } of own) {
      const { knitterId, startDay } = shared.byKey.get(pairKey) ?? { knitterId: null, startDay: null };
      const capacity = knitterId === null ? undefined : shared.capacities.get(knitterId);
      if (!lateKeys.has(pairKey) || dueDay === null || !capacity) continue;
      const due = dayNumber(dueDay) - today;
      const isHopeless = startDay === null || due < 0 || readyOf(pairKey) > due;
      const more = isHopeless ? null : shortAWeek(shared, capacity, dueDay);
      const known = needs.get(capacity.knitter.id);
      needs.set(capacity.knitter.id, known === null || more === null ? null : Math.max(known ?? 0, more));
    }
    const entries = [...needs].map(([id, minutes]) => ({ knitterId: id, minutesAWeekMore: minutes }));
    return { orderId, promiseDay, knitters: entries, words: helpWords(entries, knitters) };
  };
}

function helpWords(entries: LateHelp['knitters'], knitters: readonly Knitter[]): string {
  if (entries.length === 0) return 'Nobody can knit it as things are: see what its pairs wait for.';
  if (entries.some((entry) => entry.minutesAWeekMore === null)) {
    return 'More knitting time cannot bring it home in time: its yarn comes too late, or the day is past.';
  }
  const parts = entries.map(({ knitterId, minutesAWeekMore }) => {
    const name = knitters.find((knitter) => knitter.id === knitterId)?.name ?? 'its knitter';
    if (minutesAWeekMore === 0) return `${name} has time enough in all: begin it earlier`;
    return `${name} would need to knit at least ${formatMinutes(minutesAWeekMore ?? 0)} more a week`;
  });
  return `To be in time: ${parts.join('; ')}.`;
}
