import { describe, expect, it } from 'vitest';
import { assignKnitters } from '#core/schedule/assign.ts';
import { layOutDays } from '#core/schedule/lay-out-days.ts';
import { daysBetween } from '#core/shared/calendar.ts';
import { dayAtTime, knitter, monday, oneADay, pair } from '#tests/support/schedule-cases.ts';

describe('layOutDays', () => {
  it('keeps the days of the assignment when all yarn is there', () => {
    const pairs = [4, 9, 2, 6, 6, 3].map((due, i) => pair(String(i), dayAtTime(due)));
    const knitters = [knitter(1, 1), knitter(2, 1)];
    const assigned = assignKnitters(pairs, knitters, (each) => 1 + (Number(each.key) % 3), oneADay);
    expect(layOutDays(assigned, pairs, knitters, () => monday, oneADay)).toEqual(assigned);
  });

  // Release 0 1 3 5, time 4 2 6 5, due 8 12 11 10 (Pinedo, Scheduling, Ex. 3.2.5). Earliest due among those there:
  // 1 ends at 4; at 4 jobs 2 and 3 are there, 3 is due first and ends at 10; then 4 ends at 15, 2 at 17. Worst 5, which
  // is also the best any order reaches.
  it('takes, of the pairs whose yarn is there, the one due first', () => {
    const jobs = [
      [0, 4, 8],
      [1, 2, 12],
      [3, 6, 11],
      [5, 5, 10],
    ] as const;
    const pairs = jobs.map(([, , due], i) => pair(String(i), dayAtTime(due)));
    const assigned = assignKnitters(pairs, [knitter(1, 1)], (each) => jobs[Number(each.key)]![1], oneADay);
    const laidOut = layOutDays(
      assigned,
      pairs,
      [knitter(1, 1)],
      (key) => dayAtTime(jobs[Number(key)]![0] + 1),
      oneADay,
    );
    expect(laidOut.map((each) => daysBetween(monday, each.finishDay!) + 1)).toEqual([4, 17, 10, 15]);
  });

  it('waits idle for the first yarn, and says what has no yarn at all', () => {
    const pairs = [pair('a', '2026-11-10'), pair('b')];
    const assigned = assignKnitters(pairs, [knitter(1, 1)], () => 2, oneADay);
    const laidOut = layOutDays(assigned, pairs, [knitter(1, 1)], (key) => (key === 'a' ? '2026-11-20' : null), oneADay);
    expect(laidOut[0]).toMatchObject({ knitterId: 1, startDay: '2026-11-20', finishDay: '2026-11-21', reason: null });
    expect(laidOut[1]).toMatchObject({ knitterId: 1, startDay: null, finishDay: null });
    expect(laidOut[1]!.reason).toContain('yarn');
  });

  it('says when her time ends before the yarn is knitted', () => {
    const leaving = knitter(1, 1, { lastDay: '2026-11-12' });
    const assigned = assignKnitters([pair('a')], [leaving], () => 5, oneADay);
    const [late] = layOutDays(assigned, [pair('a')], [leaving], () => '2026-11-10', oneADay);
    expect(late).toMatchObject({ startDay: null, finishDay: null });
    expect(late!.reason).toContain('no knitting time left');
  });

  it('leaves unassigned pairs as they are and refuses lists that do not match', () => {
    const assigned = assignKnitters([pair('a')], [], () => 5, oneADay);
    expect(layOutDays(assigned, [pair('a')], [], () => monday, oneADay)).toEqual(assigned);
    expect(() => layOutDays(assigned, [pair('b')], [], () => monday, oneADay)).toThrow(RangeError);
  });
});
