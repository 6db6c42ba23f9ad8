import { describe, expect, it } from 'vitest';
import { type Assignment, assignKnitters } from '#core/schedule/assign.ts';
import { layOutDays } from '#core/schedule/lay-out-days.ts';
import { neededBy } from '#core/schedule/needed-by.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { knitterOf } from '#tests/support/plan-input.ts';

// 100 minutes by the clock every day are 100 here: the rest in each hour is left out to keep sums in the head.
const options = { today: '2026-12-01' as Day, horizonDays: 200, knittingMinutesPerHour: 60 };
const everyDay = [100, 100, 100, 100, 100, 100, 100];
const knitters = [1, 2].map((id) => knitterOf(id, { minutesByWeekday: everyDay }));

const row = (pairKey: string, startDay: Day, finishDay: Day, minutes: number, knitterId: number | null = 1) =>
  ({ pairKey, knitterId, minutes, startDay, finishDay, reason: null }) satisfies Assignment;
const dueIn = (due: Record<string, Day>) => (pairKey: string) => due[pairKey] ?? null;
const latestOf = (rows: readonly Assignment[], due: Record<string, Day>) =>
  Object.fromEntries(neededBy(rows, dueIn(due), knitters, options));

describe('neededBy', () => {
  it('is the last day on which all her minutes still fit before the due day ends', () => {
    // 250 minutes need the 8th, 9th and half of the 10th.
    expect(latestOf([row('a', '2026-12-01', '2026-12-03', 250)], { a: '2026-12-10' })).toEqual({ a: '2026-12-08' });
    expect(latestOf([row('a', '2026-12-01', '2026-12-03', 300)], { a: '2026-12-10' })).toEqual({ a: '2026-12-08' });
    expect(latestOf([row('a', '2026-12-01', '2026-12-04', 301)], { a: '2026-12-10' })).toEqual({ a: '2026-12-07' });
  });

  it('looks at all that comes after in her row', () => {
    const rows = [
      row('a', '2026-12-01', '2026-12-02', 200),
      row('b', '2026-12-03', '2026-12-04', 200),
      row('c', '2026-12-05', '2026-12-06', 200),
    ];
    // c must begin on the 14th (two days to the 15th); b on the 7th for the 8th; so a on the 5th, though due on the 20th.
    const due: Record<string, Day> = { a: '2026-12-20', b: '2026-12-08', c: '2026-12-15' };
    expect(latestOf(rows, due)).toEqual({ a: '2026-12-05', b: '2026-12-07', c: '2026-12-14' });
    expect(latestOf([...rows].reverse(), due)).toEqual(latestOf(rows, due));
  });

  it('what is late already has nothing to spare, nor what stands before it', () => {
    const rows = [row('a', '2026-12-01', '2026-12-03', 250), row('b', '2026-12-03', '2026-12-09', 600)];
    expect(latestOf(rows, { a: '2026-12-20', b: '2026-12-05' })).toEqual({ a: '2026-12-01', b: '2026-12-03' });
  });

  it('has no hurry where nothing is due any more', () => {
    const rows = [row('a', '2026-12-01', '2026-12-03', 250), row('b', '2026-12-03', '2026-12-09', 600)];
    expect(latestOf(rows, { a: '2026-12-05' })).toEqual({ a: '2026-12-03' });
  });

  it('keeps knitters apart and leaves out what nobody knits', () => {
    const rows = [
      row('a', '2026-12-01', '2026-12-03', 250, 1),
      row('b', '2026-12-03', '2026-12-09', 600, 2),
      row('c', '2026-12-01', '2026-12-03', 250, null),
    ];
    expect(latestOf(rows, { a: '2026-12-13', b: '2026-12-09', c: '2026-12-02' })).toEqual({
      a: '2026-12-11',
      b: '2026-12-04',
    });
    expect(neededBy([], () => null, knitters, options).size).toBe(0);
  });

  it('is sharp with uneven weekdays: yarn on that day is in time, a day with time later is not', () => {
    const weekend = [knitterOf(1, { minutesByWeekday: [0, 60, 0, 0, 30, 200, 0], dailyCapMin: 240 })];
    for (const [minutes, due] of [
      [227, '2026-12-12'],
      [90, '2026-12-15'],
      [500, '2026-12-29'],
    ] as const) {
      const pair = { key: 'a', dueDay: due, readyDay: options.today, pinnedKnitterId: null };
      const planned = assignKnitters([pair], weekend, () => minutes, options);
      const last = neededBy(planned, () => due, weekend, options).get('a')!;
      const finish = (arrival: Day) => layOutDays(planned, [pair], weekend, () => arrival, options)[0]!.finishDay!;
      expect(finish(last) <= due).toBe(true);
      expect(finish(addDays(last, 1)) > due).toBe(true);
    }
  });
});
