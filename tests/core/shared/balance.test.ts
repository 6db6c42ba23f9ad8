import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { balancesAt, lowestFrom } from '#core/shared/balance.ts';
import { addDays } from '#core/shared/calendar.ts';

const move = (ballId: number, changeMg: number, day: string) => Object.freeze({ ballId, changeMg, day });

const days = fc.integer({ min: 0, max: 9 }).map((index) => addDays('2026-11-01', index));
const moves = fc.array(
  fc.record({ ballId: fc.integer({ min: 1, max: 3 }), changeMg: fc.integer({ min: -500, max: 500 }), day: days }),
  { maxLength: 20 },
);

describe('balancesAt', () => {
  it('counts moves of the day itself and none after it', () => {
    const list = [move(1, 100, '2026-11-02'), move(1, -30, '2026-11-05'), move(2, 50, '2026-11-06')];
    expect([...balancesAt(list, '2026-11-04')]).toEqual([[1, 100]]);
    expect([...balancesAt(list, '2026-11-05')]).toEqual([[1, 70]]);
    expect([...balancesAt(list, '2026-11-06')]).toEqual([
      [1, 70],
      [2, 50],
    ]);
  });

  it('equals the sum of the moves up to the day, whatever their order', () => {
    fc.assert(
      fc.property(moves, days, (list, day) => {
        const balances = balancesAt(list, day);
        for (const ballId of [1, 2, 3]) {
          let sum = 0;
          for (const each of list) if (each.ballId === ballId && each.day <= day) sum += each.changeMg;
          expect(balances.get(ballId) ?? 0).toBe(sum);
        }
        expect(balancesAt([...list].reverse(), day)).toEqual(balances);
      }),
    );
  });
});

describe('lowestFrom', () => {
  it('sees the lowest day still to come, not the day alone', () => {
    // 100 on the 2nd, 40 from the 8th, 90 from the 12th: 40 is what can have gone on the 5th.
    const list = [move(1, 100, '2026-11-02'), move(1, -60, '2026-11-08'), move(1, 50, '2026-11-12')];
    expect(lowestFrom(list, '2026-11-05')).toBe(40);
    expect(lowestFrom(list, '2026-11-12')).toBe(90);
    expect(lowestFrom(list, '2026-11-01')).toBe(0);
    expect(lowestFrom([], '2026-11-01')).toBe(0);
  });

  it('is the least of the balances of every day from then on', () => {
    fc.assert(
      fc.property(moves, days, (list, day) => {
        const own = list.filter((each) => each.ballId === 1);
        const each = Array.from({ length: 10 }, (_, index) => addDays('2026-11-01', index)).filter((d) => d >= day);
        expect(lowestFrom(own, day)).toBe(Math.min(...each.map((d) => balancesAt(own, d).get(1) ?? 0)));
      }),
    );
  });
});
