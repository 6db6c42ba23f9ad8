import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LotLeft, placementKey, placeOnLots, type Want } from '#core/buying/lots.ts';

const want = (pairKey: string, mg: number): Want => Object.freeze({ pairKey, yarnColourId: 1, mg });
const lot = (id: number, freeMg: number, fromDay?: string): LotLeft =>
  Object.freeze({ id, yarnColourId: 1, freeMg, ...(fromDay === undefined ? {} : { fromDay }) });

describe('lots on their way', () => {
  it('go to the later of like pairs, whichever lot is numbered first', () => {
    const wants = ['a', 'b', 'c', 'd'].map((key) => want(key, 50));
    const { placed, waits, left } = placeOnLots(wants, [lot(1, 100, '2026-12-01'), lot(2, 100)]);
    expect([...placed]).toEqual([
      ['a/1', 2],
      ['b/1', 2],
      ['c/1', 1],
      ['d/1', 1],
    ]);
    expect([...waits]).toEqual([
      ['c', '2026-12-01'],
      ['d', '2026-12-01'],
    ]);
    expect(left).toEqual([]);
  });

  it('leave room on the shelf to whoever is first', () => {
    // Tightest first would put a on the parcel of 55; the shelf has room for it.
    const { placed } = placeOnLots([want('a', 50)], [lot(1, 55, '2026-12-01'), lot(2, 500)]);
    expect(placed.get('a/1')).toBe(2);
  });

  it('make pairs of unlike weight change places where both fit', () => {
    // 60 + 40 fill the shelf's 100 and the parcel of 50 takes the other: c, the last, waits in the place of a.
    const wants = [want('a', 50), want('b', 60), want('c', 40)];
    const { placed, left } = placeOnLots(wants, [lot(1, 110), lot(2, 50, '2026-12-01')]);
    expect(left).toEqual([]);
    expect(placed.get('a/1')).toBe(1);
    expect(placed.get('c/1')).toBe(2);
  });

  it('place as many grams as without days, within each lot', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 60 }), { maxLength: 9 }),
        fc.array(fc.record({ mg: fc.integer({ min: 0, max: 150 }), wait: fc.nat(3) }), { minLength: 1, maxLength: 4 }),
        (sizes, lots) => {
          const wants = sizes.map((mg, i) => want(`p${i}`, mg));
          const days = lots.map(({ mg, wait }, i) => lot(i + 1, mg, wait === 0 ? undefined : `2026-12-0${wait}`));
          const here = lots.map(({ mg }, i) => lot(i + 1, mg));
          const { placed, left, waits } = placeOnLots(wants, days);
          expect(left).toEqual(placeOnLots(wants, here).left);
          const used = new Map<number, number>();
          for (const each of wants) {
            const id = placed.get(placementKey(each.pairKey, 1));
            if (id === undefined) continue;
            used.set(id, (used.get(id) ?? 0) + each.mg);
            expect(waits.get(each.pairKey)).toBe(days[id - 1]!.fromDay);
          }
          // Nobody waits for a lot while an earlier one has room.
          for (const each of wants) {
            const own = days[(placed.get(placementKey(each.pairKey, 1)) ?? 0) - 1];
            const room = days.filter((one) => (one.fromDay ?? '') < (own?.fromDay ?? ''));
            for (const { id, freeMg } of room) expect(freeMg - (used.get(id) ?? 0)).toBeLessThan(each.mg);
          }
          for (const [id, mg] of used) expect(mg).toBeLessThanOrEqual(days[id - 1]!.freeMg);
        },
      ),
      { numRuns: 300, seed: 12 },
    );
  });
});
