import type { PairToKnit } from '#core/schedule/assign.ts';
import { type Capacity, capacityOf, mostDays, type ScheduleOptions } from '#core/schedule/availability.ts';
import { fewestLate } from '#core/schedule/single-maker.ts';
import { type Day, dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/**
 * What no plan can better: the fewest late pairs and the earliest day all could be done. All knitters are taken as one
 * who has all their minutes together and needs for each pair only what the quickest of them needs, with all yarn at
 * hand; the pairs any real plan finishes in time this one finishes in time too, and its late count is exact by Moore's
 * algorithm. For one knitter with her yarn at hand the bound is reached.
 *
 * @param minutesOf minutes of a pair in a knitter's hands, at least 0
 * @returns `earliestFinishDay` null when even together they have not enough time in 20 years; today for no pairs
 * Source: relaxation to one maker; Moore (1968)
 * @example boundLate([], [], () => 0, { today: '2026-11-02', horizonDays: 100, knittingMinutesPerHour: 50 }) // => { leastLatePairs: 0, earliestFinishDay: '2026-11-02' }
 */
export function boundLate(
  pairs: readonly PairToKnit[],
  knitters: readonly Knitter[],
  minutesOf: (pair: PairToKnit, knitterId: number) => number,
  options: ScheduleOptions,
): { leastLatePairs: number; earliestFinishDay: Day | null } {
  if (pairs.length === 0) return { leastLatePairs: 0, earliestFinishDay: options.today };
  const today = dayNumber(options.today);
  const capacities: Capacity[] = knitters.map((knitter) => {
    if (knitter.pairsAMonth === null || options.averagePairMin !== undefined) return capacityOf(knitter, options);
    const sum = pairs.reduce((total, pair) => total + minutesOf(pair, knitter.id), 0);
    return capacityOf(knitter, { ...options, averagePairMin: sum / pairs.length });
  });
  const before = (index: number) => capacities.reduce((total, capacity) => total + capacity.before(index), 0);
  const least = pairs.map((pair) => {
    const able = knitters.filter((knitter) => pair.pinnedKnitterId === null || knitter.id === pair.pinnedKnitterId);
    return able.reduce((fewest, knitter) => Math.min(fewest, minutesOf(pair, knitter.id)), Number.POSITIVE_INFINITY);
  });
  const total = least.reduce((sum, minutes) => sum + minutes, 0);
  let finish = 0;
  while (finish < mostDays && before(finish + 1) < total - 1e-6) finish += 1;

  const due = pairs.map((pair) => (pair.dueDay === null ? null : before(dayNumber(pair.dueDay) - today + 1)));
  const jobs = pairs.flatMap((_, i) =>
    due[i] === null || least[i] === Number.POSITIVE_INFINITY ? [] : [{ minutes: least[i]!, due: due[i]! }],
  );
  const hopeless = pairs.filter((pair, i) => pair.dueDay !== null && least[i] === Number.POSITIVE_INFINITY).length;
  return {
    leastLatePairs: fewestLate(jobs).late.length + hopeless,
    earliestFinishDay: finish < mostDays ? dayFromNumber(today + finish) : null,
  };
}
