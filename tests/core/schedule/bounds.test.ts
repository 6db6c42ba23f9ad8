import { describe, expect, it } from 'vitest';
import { boundLate } from '#core/schedule/bounds.ts';
import { earliestDueDateOrder, fewestLate } from '#core/schedule/single-maker.ts';
import { daysBetween } from '#core/shared/calendar.ts';
import { makeRandom } from '#tests/support/purchase-cases.ts';
import { dayAtTime, knitter, monday, oneADay, pair } from '#tests/support/schedule-cases.ts';

const endTime = (day: string | null) => daysBetween(monday, day!) + 1;

describe('boundLate', () => {
  it('is exact for one knitter: 2 late and an end at 31 for Pinedo, Scheduling, Ex. 3.3.3', () => {
    const minutes = [7, 8, 4, 6, 6];
    const pairs = [9, 17, 18, 19, 21].map((due, i) => pair(String(i), dayAtTime(due)));
    const bound = boundLate(pairs, [knitter(1, 1)], (each) => minutes[Number(each.key)]!, oneADay);
    expect(bound.leastLatePairs).toBe(2);
    expect(endTime(bound.earliestFinishDay)).toBe(31);
  });

  it('lies at or under the best of all assignments', () => {
    const random = makeRandom(71);
    for (let round = 0; round < 25; round += 1) {
      const jobs = Array.from({ length: 8 }, () => ({
        minutes: 1 + Math.floor(random() * 8),
        due: 1 + Math.floor(random() * 20),
      }));
      const speeds = [1, 2];
      const pairs = jobs.map((job, i) => pair(String(i), dayAtTime(job.due)));
      const bound = boundLate(
        pairs,
        [knitter(1, 1), knitter(2, 1)],
        (each, id) => jobs[Number(each.key)]!.minutes * speeds[id - 1]!,
        oneADay,
      );
      let leastLate = jobs.length;
      let leastEnd = Number.POSITIVE_INFINITY;
      for (let code = 0; code < 2 ** jobs.length; code += 1) {
        const rows = [0, 1].map((maker) =>
          jobs
            .filter((_, i) => ((code >> i) & 1) === maker)
            .map((job) => ({ ...job, minutes: job.minutes * speeds[maker]! })),
        );
        leastLate = Math.min(
          leastLate,
          rows.reduce((total, row) => total + fewestLate(row).late.length, 0),
        );
        const ends = rows.map((row) => earliestDueDateOrder(row).reduce((total, i) => total + row[i]!.minutes, 0));
        leastEnd = Math.min(leastEnd, Math.max(...ends));
      }
      expect(bound.leastLatePairs).toBeLessThanOrEqual(leastLate);
      expect(endTime(bound.earliestFinishDay)).toBeLessThanOrEqual(leastEnd);
    }
  });

  it('counts pairs nobody can knit as late, and knows when there is never time enough', () => {
    const pairs = [pair('a', dayAtTime(5)), pair('b', null), pair('c', dayAtTime(5), { pinnedKnitterId: 9 })];
    expect(boundLate(pairs, [knitter(1, 1)], () => 2, oneADay)).toEqual({ leastLatePairs: 1, earliestFinishDay: null });
    expect(boundLate([pair('a')], [knitter(1, 0)], () => 2, oneADay).earliestFinishDay).toBeNull();
  });
});
