import { describe, expect, it } from 'vitest';
import { assignKnitters } from '#core/schedule/assign.ts';
import { type DuePair, findLate, lateHelpOf } from '#core/schedule/late.ts';
import { layOutDays } from '#core/schedule/lay-out-days.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { knitter, monday, pair } from '#tests/support/schedule-cases.ts';

const done = (pairKey: string, orderId: number | null, dueDay: Day | null, finishDay: Day | null): DuePair =>
  Object.freeze({ pairKey, orderId, dueDay, finishDay });

describe('findLate', () => {
  it('counts a pair done on its day as in time, one day after as a day late', () => {
    expect(findLate([done('a', 1, '2026-12-01', '2026-12-01')]).latePairs).toEqual([]);
    expect(findLate([done('a', 1, '2026-12-01', '2026-12-02')])).toEqual({
      latePairs: [{ pairKey: 'a', orderId: 1, daysLate: 1 }],
      lateOrders: [{ orderId: 1, daysLate: 1, pairs: 1 }],
      maxDaysLate: 1,
      totalDaysLate: 1,
    });
  });

  it('takes an order by its last pair, latest first, never finished before all', () => {
    const report = findLate([
      done('a', 1, '2026-12-01', '2026-12-03'),
      done('b', 1, '2026-12-01', '2026-12-06'),
      done('c', 2, '2026-12-01', '2026-12-09'),
      done('d', 3, '2026-12-01', null),
      done('e', null, '2026-12-01', '2026-12-02'),
      done('f', 4, null, null),
    ]);
    expect(report.lateOrders).toEqual([
      { orderId: 3, daysLate: null, pairs: 1 },
      { orderId: 2, daysLate: 8, pairs: 1 },
      { orderId: 1, daysLate: 5, pairs: 2 },
    ]);
    expect(report).toMatchObject({ maxDaysLate: 8, totalDaysLate: 13 });
    expect(report.latePairs.map((each) => each.pairKey)).toEqual(['a', 'b', 'c', 'd', 'e']);
  });

  it('finds nothing in nothing', () => {
    expect(findLate([])).toEqual({ latePairs: [], lateOrders: [], maxDaysLate: 0, totalDaysLate: 0 });
  });
});

describe('lateHelpOf', () => {
  const options = { today: monday, horizonDays: 60, knittingMinutesPerHour: 60 };

  function plan(minutes: readonly number[], due: Day, knitters: readonly Knitter[], arrival: Day = monday) {
    const pairs = minutes.map((_, i) => pair(String(i), due));
    const assigned = assignKnitters(pairs, knitters, (each) => minutes[Number(each.key)]!, options);
    const laidOut = layOutDays(assigned, pairs, knitters, () => arrival, options);
    const duePairs = laidOut.map((each) => done(each.pairKey, 7, due, each.finishDay));
    return lateHelpOf(duePairs, laidOut, knitters, () => arrival, options)(7);
  }

  it('names the minutes a week missing till the due day, and the day it will be done', () => {
    // Two weeks at 10 minutes a day are 140; 200 are needed: 60 short, 30 a week. Done on day 20.
    const help = plan([100, 100], '2026-11-15', [knitter(1, 10)]);
    expect(help).toMatchObject({ promiseDay: '2026-11-21', knitters: [{ knitterId: 1, minutesAWeekMore: 30 }] });
    expect(help!.words).toContain('Knitter 1 would need to knit at least 30\u00a0min more a week');
  });

  it('with that much more a week the order is in time', () => {
    const more = 10 + 30 / 7;
    expect(plan([100, 100], '2026-11-15', [knitter(1, more)])).toBeNull();
    expect(plan([100, 100], '2026-11-15', [knitter(1, more - 0.1)])).not.toBeNull();
  });

  it('counts only the time after the yarn is there', () => {
    // From 9 to 15 November: one week, 70 minutes of 100.
    const help = plan([100], '2026-11-15', [knitter(1, 10)], '2026-11-09');
    expect(help!.knitters).toEqual([{ knitterId: 1, minutesAWeekMore: 30 }]);
  });

  it('says when more hours cannot help, or nobody knits it', () => {
    expect(plan([10], '2026-11-15', [knitter(1, 10)], '2026-11-16')!.knitters[0]!.minutesAWeekMore).toBeNull();
    expect(plan([10], '2026-11-01', [knitter(1, 10)])!.words).toContain('cannot');
    const none = plan([10], '2026-11-15', [knitter(1, 0)]);
    expect(none).toMatchObject({ promiseDay: null, knitters: [] });
  });

  it('answers for each of many orders by all pairs due no later than it', () => {
    const orders: readonly (readonly [minutes: number, due: Day])[] = [
      [100, '2026-11-08'],
      [100, '2026-11-15'],
      [50, '2026-11-29'],
    ];
    const pairs = orders.map(([, due], index) => pair(String(index), due));
    const one = [knitter(1, 10)];
    const assigned = assignKnitters(pairs, one, (each) => orders[Number(each.key)]![0], options);
    const laidOut = layOutDays(assigned, pairs, one, () => monday, options);
    const due = laidOut.map((each, index) => done(each.pairKey, index, orders[index]![1], each.finishDay));
    const helpOf = lateHelpOf(due, laidOut, one, () => monday, options);
    // 70 minutes in the first week for 100; 140 in two for 200, 60 short; 280 in four weeks for 250.
    expect([0, 1, 2, 1, 9].map((id) => helpOf(id)?.knitters[0]?.minutesAWeekMore ?? null)).toEqual([
      30,
      30,
      null,
      30,
      null,
    ]);
    expect(helpOf(1)?.promiseDay).toBe('2026-11-21');
  });
});
