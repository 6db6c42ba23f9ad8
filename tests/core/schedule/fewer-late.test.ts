import { describe, expect, it } from 'vitest';
import { assignKnitters, type PairToKnit } from '#core/schedule/assign.ts';
import { findLate } from '#core/schedule/late.ts';
import { layOutDays } from '#core/schedule/lay-out-days.ts';
import { addDays } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { noLater, plainPlan, sumOf } from '#tests/support/plain-plan.ts';
import { makeRandom } from '#tests/support/purchase-cases.ts';
import { dayAtTime, knitter, monday, oneADay, pair } from '#tests/support/schedule-cases.ts';

type Job = { readonly minutes: number; readonly due: number | null; readonly ready: number };
type Case = { readonly jobs: readonly Job[]; readonly speeds: readonly number[] };

const pairsOf = ({ jobs }: Case): PairToKnit[] =>
  jobs.map(({ due, ready }, i) =>
    pair(String(i), due === null ? null : dayAtTime(due), { readyDay: dayAtTime(ready + 1) }),
  );
const knittersOf = ({ speeds }: Case): Knitter[] => speeds.map((_, i) => knitter(i + 1, 1));
const minutesIn =
  ({ jobs, speeds }: Case) =>
  (key: string, id: number) =>
    jobs[Number(key)]!.minutes * speeds[id - 1]!;

function planned(given: Case) {
  const [pairs, knitters, minutesOf] = [pairsOf(given), knittersOf(given), minutesIn(given)];
  const assigned = assignKnitters(pairs, knitters, ({ key }, id) => minutesOf(key, id), oneADay);
  const readyOf = new Map(pairs.map(({ key, readyDay }) => [key, readyDay]));
  const days = layOutDays(assigned, pairs, knitters, (key) => readyOf.get(key)!, oneADay);
  const { latePairs } = findLate(
    days.map(({ pairKey, finishDay }, i) => ({ pairKey, orderId: i, dueDay: pairs[i]!.dueDay, finishDay })),
  );
  return { days, late: sumOf(latePairs.map(({ daysLate }) => daysLate!)) };
}

/** Every way to share the jobs out, and in each row every order of work: by lateness, the least days late. */
function leastDays({ jobs, speeds }: Case): number {
  const best = { days: Number.POSITIVE_INFINITY };
  const ends = speeds.map(() => 0);
  const place = (left: readonly number[], days: number) => {
    if (days >= best.days) return;
    if (left.length === 0) {
      best.days = days;
      return;
    }
    for (const at of left) {
      for (const [maker, speed] of speeds.entries()) {
        const before = ends[maker]!;
        const { minutes, due, ready } = jobs[at]!;
        ends[maker] = Math.max(before, ready) + minutes * speed;
        const late = due === null ? 0 : Math.max(0, ends[maker]! - due);
        place(
          left.filter((other) => other !== at),
          days + late,
        );
        ends[maker] = before;
      }
    }
  };
  place(
    jobs.map((_, i) => i),
    0,
  );
  return best.days;
}

function randomCase(random: () => number, count: number): Case {
  const jobs = Array.from({ length: count }, () => ({
    minutes: 1 + Math.floor(random() * 6),
    due: random() < 0.15 ? null : 2 + Math.floor(random() * 16),
    ready: random() < 0.5 ? 0 : Math.floor(random() * 8),
  }));
  return { jobs, speeds: random() < 0.5 ? [1, 1] : [1, 2] };
}

describe('pairs that would be late', () => {
  // One minute a day. Her yarn for the pair due on day 4 comes on day 3; begun at once, the one due on day 30 takes six
  // days. By waiting two days she is done with the first on day 4 and with the other on day 10: nothing is late.
  it('are waited for rather than a pair begun that is due much later', () => {
    const given: Case = {
      jobs: [
        { minutes: 6, due: 30, ready: 0 },
        { minutes: 2, due: 4, ready: 2 },
      ],
      speeds: [1],
    };
    const { days } = planned(given);
    expect(days.map(({ startDay, finishDay }) => [startDay, finishDay])).toEqual([
      [dayAtTime(5), dayAtTime(10)],
      [dayAtTime(3), dayAtTime(4)],
    ]);
  });

  it('leave the waiting time to what is done before their yarn comes', () => {
    const given: Case = {
      jobs: [
        { minutes: 6, due: 30, ready: 0 },
        { minutes: 2, due: 4, ready: 2 },
        { minutes: 2, due: 31, ready: 0 },
      ],
      speeds: [1],
    };
    const { days } = planned(given);
    expect(days.map(({ finishDay }) => finishDay)).toEqual([dayAtTime(10), dayAtTime(4), dayAtTime(2)]);
  });

  // Two equal knitters. By due day a goes to the first and b to the second, both done on day 1, and c ends on day 5, a
  // day late. With a and b in the same hands (days 1 and 2), c ends on day 4: nothing is late.
  it('make room with another knitter', () => {
    const given: Case = {
      jobs: [
        { minutes: 1, due: 3, ready: 0 },
        { minutes: 1, due: 3, ready: 0 },
        { minutes: 4, due: 4, ready: 0 },
      ],
      speeds: [1, 1],
    };
    const nothing = { pairs: 0, days: 0, most: 0 };
    expect(plainPlan(pairsOf(given), knittersOf(given), minutesIn(given), oneADay)).toEqual({
      pairs: 1,
      days: 1,
      most: 1,
    });
    expect(planned(given).late).toEqual(nothing);
  });

  it('are never later than by the list rule alone, in 400 cases, and in most as little as can be', () => {
    const random = makeRandom(91);
    let [least, plainLeast, better] = [0, 0, 0];
    for (let round = 0; round < 400; round += 1) {
      const given = randomCase(random, 5 + (round % 2));
      const { late } = planned(given);
      const plain = plainPlan(pairsOf(given), knittersOf(given), minutesIn(given), oneADay);
      expect(noLater(late, plain), JSON.stringify({ given, late, plain })).toBe(true);
      const bound = leastDays(given);
      expect(late.days).toBeGreaterThanOrEqual(bound);
      if (late.days === bound) least += 1;
      if (plain.days === bound) plainLeast += 1;
      if (late.days < plain.days) better += 1;
    }
    expect(better).toBeGreaterThan(40);
    expect(least).toBeGreaterThan(plainLeast);
    expect(least / 400).toBeGreaterThan(0.9);
  });

  it('stay with the knitter they are kept for', () => {
    const random = makeRandom(92);
    for (let round = 0; round < 60; round += 1) {
      const given = randomCase(random, 7);
      const pairs = pairsOf(given).map((each, i) => ({ ...each, pinnedKnitterId: i % 3 === 0 ? 2 : null }));
      const minutesOf = minutesIn(given);
      const found = assignKnitters(pairs, knittersOf(given), ({ key }, id) => minutesOf(key, id), oneADay);
      found.forEach(({ knitterId, minutes, pairKey }, i) => {
        if (i % 3 === 0) expect(knitterId).toBe(2);
        expect(minutes).toBe(minutesOf(pairKey, knitterId!));
      });
    }
  });

  it('of 600 are looked at within the steps that are allowed', () => {
    const pairs = Array.from({ length: 600 }, (_, i) =>
      pair(String(i), addDays(monday, (i * 7919) % 300), { readyDay: addDays(monday, (i * 31) % 40) }),
    );
    const knitters = [knitter(1, 60), knitter(2, 70), knitter(3, 80)];
    const times = Array.from({ length: 3 }, () => {
      const started = performance.now();
      assignKnitters(pairs, knitters, (_, id) => 180 + id, { ...oneADay, knittingMinutesPerHour: 50 });
      return performance.now() - started;
    });
    expect(Math.min(...times)).toBeLessThan(400); // 40 ms on an idle machine
  });
});
