import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LotLeft, placementKey, placeOnLots, type Want } from '#core/buying/lots.ts';
import { isOneLot, joinLots } from '#core/buying/same-lots.ts';
import { lotKeyOf } from '#core/buying/shelf.ts';

const want = (pairKey: string, mg: number, yarnColourId = 1): Want => Object.freeze({ pairKey, yarnColourId, mg });
const row = (id: number, freeMg: number, lotKey?: string, over: Partial<LotLeft> = {}): LotLeft =>
  Object.freeze({ id, yarnColourId: 1, freeMg, lotKey, ...over });

describe('lotKeyOf', () => {
  it('is the number on the label, however it is written down; none without a number', () => {
    expect(lotKeyOf('A 12')).toBe(lotKeyOf(' a 12'));
    expect(lotKeyOf('A12')).not.toBe(lotKeyOf('A13'));
    expect([lotKeyOf(null), lotKeyOf(''), lotKeyOf('  ')]).toEqual([undefined, undefined, undefined]);
  });
});

describe('rows of one dye lot', () => {
  it('hold together what none of them holds alone', () => {
    const rows = [row(1, 60, 'a'), row(2, 60, 'a')];
    const { placed, mixed, left } = placeOnLots([want('p', 110)], rows);
    expect([placed.size, left]).toEqual([0, []]);
    expect(mixed.get('p/1')).toEqual([
      { lotId: 1, mg: 60 },
      { lotId: 2, mg: 50 },
    ]);
    expect(isOneLot(mixed.get('p/1')!, rows)).toBe(true);
    // Another number, another colour, or no number at all: two lots.
    for (const other of [row(2, 60, 'b'), row(2, 60, 'a', { yarnColourId: 2 }), row(2, 60)])
      expect(placeOnLots([want('p', 110)], [row(1, 60, 'a'), other]).left).toHaveLength(1);
    expect(placeOnLots([want('p', 110)], [row(1, 60), row(2, 60)]).left).toHaveLength(1);
  });

  it('give each pair from one row where that is possible', () => {
    const { placed, mixed } = placeOnLots([want('p', 70), want('q', 50)], [row(1, 55, 'a'), row(2, 70, 'a')]);
    expect([...placed]).toEqual([
      ['p/1', 2],
      ['q/1', 1],
    ]);
    expect(mixed.size).toBe(0);
  });

  it('count as here when some of it is, and a pair waits for the part that is on its way', () => {
    const rows = [row(9, 60, 'parcel 1', { fromDay: '2026-12-05' }), row(8, 60, 'parcel 1', { fromDay: '2026-12-01' })];
    expect(joinLots(rows)).toMatchObject([{ id: 9, freeMg: 120, fromDay: '2026-12-01' }]);
    const { waits } = placeOnLots([want('p', 40), want('q', 70)], rows);
    expect(Object.fromEntries(waits)).toEqual({ p: '2026-12-01', q: '2026-12-05' });
  });

  it('place the same as one row of all of it would, and no row gives more than it has', () => {
    const anyRows = fc.array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.constantFrom('a', 'b', undefined)), {
      maxLength: 6,
    });
    fc.assert(
      fc.property(anyRows, fc.array(fc.integer({ min: 1, max: 70 }), { maxLength: 7 }), (made, amounts) => {
        const rows = made.map(([mg, key], i) => row(i + 1, mg, key));
        const wants = amounts.map((mg, i) => want(`p${i}`, mg));
        const { placed, mixed, left } = placeOnLots(wants, rows);
        const whole = placeOnLots(
          wants,
          joinLots(rows).map(({ id, freeMg }) => row(id, freeMg)),
        );
        const mgOf = (list: readonly Want[]) => list.reduce((sum, { mg }) => sum + mg, 0);
        expect(mgOf(left)).toBe(mgOf(whole.left));
        const used = new Map<number, number>();
        for (const each of wants) {
          const key = placementKey(each.pairKey, 1);
          const own = placed.get(key);
          const parts = own === undefined ? (mixed.get(key) ?? []) : [{ lotId: own, mg: each.mg }];
          if (parts.length === 0) expect(left).toContain(each);
          else expect(parts.reduce((sum, part) => sum + part.mg, 0)).toBe(each.mg);
          if (parts.length > 0) expect(isOneLot(parts, rows)).toBe(true);
          for (const part of parts) used.set(part.lotId, (used.get(part.lotId) ?? 0) + part.mg);
        }
        for (const [id, mg] of used) expect(mg).toBeLessThanOrEqual(rows.find((each) => each.id === id)!.freeMg);
      }),
      { numRuns: 300 },
    );
  });
});
