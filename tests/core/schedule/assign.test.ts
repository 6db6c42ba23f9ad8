import { describe, expect, it } from 'vitest';
import { type Assignment, assignKnitters } from '#core/schedule/assign.ts';
import { earliestDueDateOrder, lateness } from '#core/schedule/single-maker.ts';
import { addDays, daysBetween } from '#core/shared/calendar.ts';
import { makeRandom } from '#tests/support/purchase-cases.ts';
import { dayAtTime, knitter, monday, oneADay, pair } from '#tests/support/schedule-cases.ts';

const timeOf = (assignment: Assignment) => daysBetween(monday, assignment.finishDay!) + 1;

describe('assignKnitters, list rule', () => {
  // List scheduling of 4 5 6 7 8 in list order ends at 18 on two makers, at 13 on three (published example).
  it.each([
    [2, 18],
    [3, 13],
  ])('4 5 6 7 8 in list order on %i equal makers ends at %i', (makers, end) => {
    const sizes = [4, 5, 6, 7, 8];
    const pairs = sizes.map((size) => pair(String(size)));
    const knitters = Array.from({ length: makers }, (_, i) => knitter(i + 1, 1));
    const found = assignKnitters(pairs, knitters, (each) => Number(each.key), oneADay);
    expect(Math.max(...found.map(timeOf))).toBe(end);
  });

  // Graham's tight family 3 3 2 2 2: longest first on two makers ends at 7, the best plan at 6.
  it('3 3 2 2 2 on two makers ends at 7', () => {
    const pairs = [3, 3, 2, 2, 2].map((size, i) => pair(`${i}:${size}`));
    const found = assignKnitters(pairs, [knitter(1, 1), knitter(2, 1)], (each) => Number(each.key.slice(2)), oneADay);
    expect(Math.max(...found.map(timeOf))).toBe(7);
  });

  // A5/10 B10/15 C2/5 D8/12 E6/8 on two equal makers: by earliest due date the list rule leaves two late (enumeration: 1).
  it('A to E on two makers by due day leaves two late', () => {
    const jobs = [
      [5, 10],
      [10, 15],
      [2, 5],
      [8, 12],
      [6, 8],
    ] as const;
    const pairs = jobs.map(([, due], i) => pair(String(i), dayAtTime(due)));
    const found = assignKnitters(pairs, [knitter(1, 1), knitter(2, 1)], (each) => jobs[Number(each.key)]![0], oneADay);
    expect(found.filter((each, i) => timeOf(each) > jobs[i]![1])).toHaveLength(2);
  });

  it('for one knitter is earliest due date exactly', () => {
    const random = makeRandom(61);
    for (let round = 0; round < 30; round += 1) {
      const jobs = Array.from({ length: 8 }, () => ({
        minutes: 1 + Math.floor(random() * 9),
        due: 1 + Math.floor(random() * 40),
      }));
      const pairs = jobs.map((job, i) => pair(String(i), dayAtTime(job.due)));
      const found = assignKnitters(pairs, [knitter(1, 1)], (each) => jobs[Number(each.key)]!.minutes, oneADay);
      const lates = found.map((each, i) => timeOf(each) - jobs[i]!.due);
      const exact = lateness(jobs, earliestDueDateOrder(jobs));
      expect(Math.max(...lates)).toBe(exact.maxLateness);
      expect(lates.filter((late) => late > 0)).toHaveLength(exact.late);
    }
  });

  it('is never better than the best of all assignments, and honest about its own', () => {
    const random = makeRandom(62);
    for (let round = 0; round < 20; round += 1) {
      const speeds = [1, 1.5];
      const jobs = Array.from({ length: 7 }, () => ({
        minutes: 2 * (1 + Math.floor(random() * 6)),
        due: 1 + Math.floor(random() * 30),
      }));
      const pairs = jobs.map((job, i) => pair(String(i), dayAtTime(job.due)));
      const minutesOf = (index: number, maker: number) => jobs[index]!.minutes * speeds[maker]!;
      const found = assignKnitters(
        pairs,
        [knitter(1, 1), knitter(2, 1)],
        (each, id) => minutesOf(Number(each.key), id - 1),
        oneADay,
      );
      // The same assignment laid out by hand, each maker by due day, must end where the rule says.
      let ownWorst = Number.NEGATIVE_INFINITY;
      let best = Number.POSITIVE_INFINITY;
      for (let code = 0; code < 2 ** jobs.length; code += 1) {
        const makers = jobs.map((_, i) => (code >> i) & 1);
        let worst = Number.NEGATIVE_INFINITY;
        for (const maker of [0, 1]) {
          const row = jobs.map((job, i) => ({ job, i })).filter(({ i }) => makers[i] === maker);
          const timed = row.map(({ job, i }) => ({ minutes: minutesOf(i, maker), due: job.due }));
          if (timed.length > 0) worst = Math.max(worst, lateness(timed, earliestDueDateOrder(timed)).maxLateness);
        }
        best = Math.min(best, worst);
        if (makers.every((maker, i) => maker === found[i]!.knitterId! - 1)) ownWorst = worst;
      }
      const worst = Math.max(...found.map((each, i) => timeOf(each) - jobs[i]!.due));
      expect(worst).toBe(ownWorst);
      expect(worst).toBeGreaterThanOrEqual(best);
    }
  });
});

describe('assignKnitters, days', () => {
  const options = { today: monday, horizonDays: 30, knittingMinutesPerHour: 50 };

  it('spreads a pair over as many days as it takes, and starts the next on the same day', () => {
    // 50 minutes a day: 120 minutes end on day 3 with 30 left, in which the next begins; 150 are three days exactly.
    const found = assignKnitters(
      [pair('a'), pair('b')],
      [knitter(1, 60)],
      (each) => (each.key === 'a' ? 120 : 180),
      options,
    );
    expect(found.map(({ startDay, finishDay }) => [startDay, finishDay])).toEqual([
      ['2026-11-02', '2026-11-04'],
      ['2026-11-04', '2026-11-07'],
    ]);
  });

  it('waits for the yarn', () => {
    const found = assignKnitters([pair('a', null, { readyDay: '2026-11-05' })], [knitter(1, 60)], () => 50, options);
    expect(found[0]).toMatchObject({ startDay: '2026-11-05', finishDay: '2026-11-05' });
  });

  it('prefers the quicker finish, then the one with less to do, then the lower id', () => {
    const knitters = [knitter(2, 60), knitter(1, 60), knitter(3, 240)];
    const found = assignKnitters([pair('a'), pair('b'), pair('c')], knitters, () => 150, options);
    expect(found.map((each) => each.knitterId)).toEqual([3, 3, 1]); // c: third day for all; 1 and 2 are free
  });

  it('keeps a pinned pair with its knitter, or with nobody', () => {
    const knitters = [knitter(1, 60), knitter(2, 0)];
    const pairs = [1, 2, 9].map((id) => pair(`p${id}`, null, { pinnedKnitterId: id }));
    const found = assignKnitters(pairs, knitters, () => 50, options);
    expect(found.map((each) => each.knitterId)).toEqual([1, null, null]);
    expect(found[1]!.reason).toContain('Knitter 2 has no knitting time left');
    expect(found[2]!.reason).toContain('choose another');
    expect(assignKnitters([pair('a')], [], () => 50, options)[0]!.reason).toContain('add one');
  });

  it('leaves over what does not fit before a last day', () => {
    const leaving = knitter(1, 60, { lastDay: '2026-11-03' });
    const found = assignKnitters([pair('a'), pair('b')], [leaving], () => 100, options);
    expect(found.map((each) => each.finishDay)).toEqual(['2026-11-03', null]);
    expect(found[1]!.reason).toContain('Nobody has knitting time left');
  });

  it('lets pairs a month take a month of calendar', () => {
    // Two pairs a month: one takes 15.2 days, so the second is done on day 31 (index 30).
    const found = assignKnitters([pair('a'), pair('b')], [knitter(1, 0, { pairsAMonth: 2 })], () => 200, options);
    expect(found.map((each) => each.finishDay)).toEqual([addDays(monday, 15), addDays(monday, 30)]);
  });

  it('plans 15 000 pairs for eight knitters in a blink', () => {
    const pairs = Array.from({ length: 15_000 }, (_, i) => pair(String(i), addDays(monday, (i * 7919) % 3000)));
    const knitters = Array.from({ length: 8 }, (_, i) => knitter(i + 1, 60 + 10 * i));
    const times = Array.from({ length: 5 }, () => {
      const started = performance.now();
      assignKnitters(pairs, knitters, (_, id) => 180 + id, options);
      return performance.now() - started;
    });
    expect(Math.min(...times)).toBeLessThan(250); // 30 ms on an idle machine
  });
});
