import { describe, expect, it } from 'vitest';
import { type Assignment, assignKnitters } from '#core/schedule/assign.ts';
import { knittingMinutesOn } from '#core/schedule/availability.ts';
import { findLate } from '#core/schedule/late.ts';
import { layOutDays } from '#core/schedule/lay-out-days.ts';
import { promisePairs } from '#core/schedule/promise.ts';
import { addDays, type Day, daysBetween } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { dayAtTime, knitter, monday, oneADay, pair } from '#tests/support/schedule-cases.ts';

/** A list of numbers that looks like chance and is the same each time (Park and Miller's minimal standard, 1988). */
function makeChance(seed: number): (least: number, most: number) => number {
  let state = seed;
  return (least, most) => {
    state = (state * 48_271) % 2_147_483_647;
    return least + (state % (most - least + 1));
  };
}

type Chance = ReturnType<typeof makeChance>;
type Job = { readonly minutes: number; readonly dueDay: Day | null; readonly ready: number };

const options = Object.freeze({ today: monday, horizonDays: 60, knittingMinutesPerHour: 60 });

/** A knitter with a weekday pattern, a cap and a week off. */
function someKnitter(id: number, chance: Chance): Knitter {
  const minutesByWeekday = Array.from({ length: 7 }, () => chance(0, 4) * 30);
  minutesByWeekday[chance(0, 6)] = 60;
  const from = chance(0, 20);
  return knitter(id, 0, {
    minutesByWeekday,
    dailyCapMin: chance(2, 4) * 30,
    daysOff: [{ fromDay: addDays(monday, from), toDay: addDays(monday, from + chance(0, 6)) }],
  });
}

function someJobs(count: number, chance: Chance, mostReady: number): Job[] {
  return Array.from({ length: count }, () => ({
    minutes: chance(1, 30) * 10,
    dueDay: chance(0, 9) === 0 ? null : addDays(monday, chance(0, 30)),
    ready: chance(0, mostReady),
  }));
}

function planOf(jobs: readonly Job[], knitters: readonly Knitter[]) {
  const pairs = jobs.map((job, i) => pair(`job-${i}`, job.dueDay, { readyDay: addDays(monday, job.ready) }));
  const minutes = ({ key }: { key: string }) => jobs[Number(key.slice(4))]!.minutes;
  const assigned = assignKnitters(pairs, knitters, minutes, options);
  const weeks = layOutDays(
    assigned,
    pairs,
    knitters,
    (key) => addDays(monday, jobs[Number(key.slice(4))]!.ready),
    options,
  );
  const dueDayOf = (key: string) => jobs[Number(key.slice(4))]?.dueDay ?? null;
  return { weeks: Object.freeze(weeks), dueDayOf };
}

/** Knitting minutes of a knitter from today to the end of a day, summed day by day. */
function minutesTo(maker: Knitter, last: Day): number {
  let sum = 0;
  for (let day = monday; day <= last; day = addDays(day, 1)) sum += knittingMinutesOn(maker, day, options);
  return sum;
}

function dayDone(maker: Knitter, minutes: number): Day {
  let left = minutes;
  for (let day = monday; ; day = addDays(day, 1)) {
    left -= knittingMinutesOn(maker, day, options);
    if (left <= 0) return day;
  }
}

function ordersOf<T>(items: readonly T[]): T[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) =>
    ordersOf([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}

/** Ends of the jobs worked one after another from today, by job. */
function endsOf(order: readonly number[], minutesOf: (job: number) => number): Map<number, number> {
  let end = 0;
  return new Map(
    order.map((job) => {
      end += minutesOf(job);
      return [job, end];
    }),
  );
}

describe('promisePairs, one knitter and all yarn there', () => {
  it('finds the earliest day of all places and of all orders of work, in 600 cases', () => {
    const chance = makeChance(20_261_125);
    let put = 0;
    for (let number = 0; number < 600; number += 1) {
      const maker = someKnitter(1, chance);
      const jobs = someJobs(chance(0, 4), chance, 0);
      const minutes = chance(1, 30) * 10;
      const { weeks, dueDayOf } = planOf(jobs, [maker]);
      // The order in which she works: by due day, none last, equals in list order.
      const row = jobs
        .map((_, job) => job)
        .sort((a, b) =>
          (jobs[a]!.dueDay ?? '9') < (jobs[b]!.dueDay ?? '9') ? -1 : jobs[a]!.dueDay === jobs[b]!.dueDay ? a - b : 1,
        );
      const added = jobs.length;
      const minutesOf = (job: number) => (job === added ? minutes : jobs[job]!.minutes);
      const now = endsOf(row, minutesOf);
      const mostOf = (job: number) =>
        jobs[job]!.dueDay === null
          ? Number.POSITIVE_INFINITY
          : Math.max(now.get(job)!, minutesTo(maker, jobs[job]!.dueDay!));
      const leastEnd = (orders: readonly (readonly number[])[]) =>
        Math.min(
          ...orders
            .map((order) => endsOf(order, minutesOf))
            .filter((ends) => row.every((job) => ends.get(job)! <= mostOf(job)))
            .map((ends) => ends.get(added)!),
        );
      const places = leastEnd([...row, added].map((_, at) => row.toSpliced(at, 0, added)));
      const orders = leastEnd(ordersOf([...row, added]));

      const { pairs } = promisePairs(
        [{ key: 'new', readyDay: monday, dueDay: null }],
        weeks,
        dueDayOf,
        [maker],
        () => minutes,
        options,
      );
      expect(places).toBe(orders);
      expect(pairs[0]).toMatchObject({ knitterId: 1, minutes, finishDay: dayDone(maker, places) });
      if (places < endsOf([...row, added], minutesOf).get(added)!) put += 1;
    }
    // The cases would be worth nothing if a pair always went behind the others.
    expect(put).toBeGreaterThan(150);
  });

  // Two days of work each, due on days 4 and 10, one minute a day: the first has 2 days of slack, the second 6.
  const two = () =>
    planOf(
      [
        { minutes: 2, dueDay: dayAtTime(4), ready: 0 },
        { minutes: 2, dueDay: dayAtTime(10), ready: 0 },
      ],
      [knitter(1, 1)],
    );
  it.each([
    ['fits before the first', 2, 2],
    ['is a day too long for that, and goes before the second', 3, 5],
    ['just fits before the second', 6, 8],
    ['is too long for both, and goes last', 7, 11],
  ])('%s', (_, minutes, doneAt) => {
    const { weeks, dueDayOf } = two();
    const { pairs } = promisePairs(
      [{ key: 'new', readyDay: monday, dueDay: null }],
      weeks,
      dueDayOf,
      [knitter(1, 1)],
      () => minutes,
      oneADay,
    );
    expect(pairs[0]!.finishDay).toBe(dayAtTime(doneAt));
  });

  it('does not move a pair that is late already, and may go behind it', () => {
    const { weeks, dueDayOf } = planOf(
      [
        { minutes: 5, dueDay: dayAtTime(3), ready: 0 },
        { minutes: 1, dueDay: dayAtTime(30), ready: 0 },
      ],
      [knitter(1, 1)],
    );
    const promised = promisePairs(
      [{ key: 'new', readyDay: monday, dueDay: null }],
      weeks,
      dueDayOf,
      [knitter(1, 1)],
      () => 1,
      oneADay,
    );
    expect(promised.pairs[0]!.finishDay).toBe(dayAtTime(6));
    expect(promised.others.map((each) => each.finishDay)).toEqual([dayAtTime(5), dayAtTime(7)]);
  });

  it('keeps a pair to the day it was promised for, where the next could go before it', () => {
    const wanted = [
      { key: 'held', readyDay: monday, dueDay: dayAtTime(5) },
      { key: 'new', readyDay: monday, dueDay: null },
    ];
    const finish = (minutes: number) =>
      promisePairs(
        wanted,
        [],
        () => null,
        [knitter(1, 1)],
        (key) => (key === 'held' ? 3 : minutes),
        oneADay,
      ).pairs.map((each) => each.finishDay);
    expect(finish(2)).toEqual([dayAtTime(5), dayAtTime(2)]);
    expect(finish(3)).toEqual([dayAtTime(3), dayAtTime(6)]);
  });
});

describe('promisePairs, yarn and knitters', () => {
  it('does not begin before its yarn could be there, and uses the time before another’s yarn', () => {
    const { weeks, dueDayOf } = planOf([{ minutes: 4, dueDay: dayAtTime(14), ready: 10 }], [knitter(1, 1)]);
    expect(weeks[0]!.startDay).toBe(dayAtTime(11));
    const promise = (ready: number, minutes: number) =>
      promisePairs(
        [{ key: 'new', readyDay: addDays(monday, ready), dueDay: null }],
        weeks,
        dueDayOf,
        [knitter(1, 1)],
        () => minutes,
        oneADay,
      ).pairs[0]!;
    expect(promise(0, 10)).toMatchObject({ startDay: monday, finishDay: dayAtTime(10) });
    expect(promise(6, 4)).toMatchObject({ startDay: dayAtTime(7), finishDay: dayAtTime(10) });
    // One day more would move the one that has no slack.
    expect(promise(7, 4)).toMatchObject({ startDay: dayAtTime(15), finishDay: dayAtTime(18) });
    expect(promise(40, 1)).toMatchObject({ startDay: dayAtTime(41), finishDay: dayAtTime(41) });
  });

  it('takes the knitter who is done first, and of two alike the one with less to do', () => {
    const slow = knitter(1, 1);
    const quick = knitter(2, 2);
    const promise = (knitters: Knitter[], weeks: readonly Assignment[] = []) =>
      promisePairs(
        [{ key: 'new', readyDay: monday, dueDay: null }],
        weeks,
        () => null,
        knitters,
        () => 4,
        oneADay,
      ).pairs[0]!;
    expect(promise([slow, quick])).toMatchObject({ knitterId: 2, finishDay: dayAtTime(2) });
    expect(promise([knitter(1, 1), knitter(2, 1)])).toMatchObject({ knitterId: 1, finishDay: dayAtTime(4) });
    const busy = {
      pairKey: 'x',
      knitterId: 1,
      minutes: 3,
      startDay: dayAtTime(9),
      finishDay: dayAtTime(11),
      reason: null,
    };
    expect(promise([knitter(1, 1), knitter(2, 1)], [busy])).toMatchObject({ knitterId: 2, finishDay: dayAtTime(4) });
  });

  it('goes to the knitter that it is kept for, and waits for her', () => {
    const [slow, quick] = [knitter(1, 1), knitter(2, 2)];
    const promise = (pinnedKnitterId: number) =>
      promisePairs(
        [{ key: 'new', readyDay: monday, dueDay: null, pinnedKnitterId }],
        [],
        () => null,
        [slow, quick],
        () => 4,
        oneADay,
      ).pairs[0]!;
    // 4 minutes at 1 a day, where the other would be done at 2 a day.
    expect(promise(1)).toMatchObject({ knitterId: 1, finishDay: dayAtTime(4) });
    expect(promise(9)).toMatchObject({ knitterId: null, finishDay: null });
    expect(promise(9).reason).toBe('The knitter this pair is kept for is not there: choose another.');
  });

  it('says what is missing where nobody can knit it', () => {
    const wanted = [{ key: 'new', readyDay: monday, dueDay: null }];
    const without = (knitters: Knitter[]) =>
      promisePairs(
        wanted,
        [],
        () => null,
        knitters,
        () => 4,
        oneADay,
      ).pairs[0]!;
    expect(without([])).toMatchObject({ finishDay: null, reason: expect.stringContaining('no knitter yet') });
    expect(without([knitter(1, 0)])).toMatchObject({ finishDay: null, reason: expect.stringContaining('more hours') });
    const gone = knitter(1, 1, { lastDay: dayAtTime(3) });
    expect(without([gone])).toMatchObject({ knitterId: null, finishDay: null });
  });

  it('puts nothing off that would then never be finished', () => {
    const leaving = knitter(1, 1, { lastDay: dayAtTime(6) });
    const { weeks, dueDayOf } = planOf([{ minutes: 4, dueDay: null, ready: 0 }], [leaving]);
    const promise = (minutes: number) =>
      promisePairs(
        [{ key: 'new', readyDay: monday, dueDay: null }],
        weeks,
        dueDayOf,
        [leaving],
        () => minutes,
        oneADay,
      );
    expect(promise(2).pairs[0]!.finishDay).toBe(dayAtTime(2));
    expect(promise(2).others[0]!.finishDay).toBe(dayAtTime(6));
    expect(promise(3).pairs[0]!.finishDay).toBeNull();
    expect(promise(3).others).toEqual(weeks);
  });

  it('counts pairs a month by the new pairs while nothing is planned', () => {
    // 30.4 days in a month: with 2 pairs a month one takes 15.2 days, whatever its minutes.
    const monthly = knitter(1, 0, { pairsAMonth: 2 });
    const promised = promisePairs(
      [{ key: 'new', readyDay: monday, dueDay: null }],
      [],
      () => null,
      [monthly],
      () => 200,
      options,
    );
    expect(daysBetween(monday, promised.pairs[0]!.finishDay!)).toBe(15);
  });

  it('never makes anyone later, in 300 workshops of several knitters', () => {
    const chance = makeChance(77);
    let moved = 0;
    for (let number = 0; number < 300; number += 1) {
      const knitters = [1, 2, 3].slice(0, chance(1, 3)).map((id) => someKnitter(id, chance));
      const jobs = someJobs(chance(0, 9), chance, 12);
      const { weeks, dueDayOf } = planOf(jobs, knitters);
      const wanted = Array.from({ length: chance(1, 4) }, (_, i) => ({
        key: `new-${i}`,
        readyDay: addDays(monday, chance(0, 12)),
        dueDay: null,
      }));
      const minutes = wanted.map(() => chance(1, 30) * 10);
      const minutesOf = (key: string) => minutes[Number(key.slice(4))]!;
      const { pairs, others } = promisePairs(Object.freeze(wanted), weeks, dueDayOf, knitters, minutesOf, options);

      const lateIn = (list: readonly Assignment[]) =>
        findLate(
          list.map((each, i) => ({
            pairKey: each.pairKey,
            orderId: i,
            dueDay: dueDayOf(each.pairKey),
            finishDay: each.finishDay,
          })),
        );
      expect(lateIn(others)).toEqual(lateIn(weeks));
      for (const [i, each] of others.entries()) {
        const { startDay, finishDay, ...rest } = each;
        expect(rest).toMatchObject({ pairKey: weeks[i]!.pairKey, knitterId: weeks[i]!.knitterId });
        expect(finishDay).not.toBeNull();
        expect(startDay! >= weeks[i]!.startDay!).toBe(true);
        if (finishDay !== weeks[i]!.finishDay) moved += 1;
      }
      for (const [i, each] of pairs.entries()) expect(each.startDay! >= wanted[i]!.readyDay).toBe(true);
      // What is done by the end of a day fits into the minutes up to then.
      for (const maker of knitters) {
        const own = [...others, ...pairs].filter((each) => each.knitterId === maker.id);
        for (const { finishDay: last } of own) {
          const work = own.filter((each) => each.finishDay! <= last!).reduce((sum, each) => sum + each.minutes, 0);
          expect(work).toBeLessThanOrEqual(minutesTo(maker, last!) + 1e-6);
        }
      }
    }
    expect(moved).toBeGreaterThan(100);
  });

  it('leaves a layout as it is when there is nothing new', () => {
    const chance = makeChance(5);
    for (let number = 0; number < 50; number += 1) {
      const knitters = [someKnitter(1, chance), someKnitter(2, chance)];
      const { weeks, dueDayOf } = planOf(someJobs(8, chance, 9), knitters);
      expect(promisePairs([], weeks, dueDayOf, knitters, () => 0, options).others).toEqual(weeks);
    }
  });
});
