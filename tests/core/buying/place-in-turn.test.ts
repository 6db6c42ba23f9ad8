import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LotLeft, placeOnLots, type Want } from '#core/buying/lots.ts';
import { placeInTurn } from '#core/buying/place-in-turn.ts';

const want = (pairKey: string, mg: number, mayMix = false): Want => ({ pairKey, yarnColourId: 1, mg, mayMix });
const lot = (id: number, freeMg: number): LotLeft => ({ id, yarnColourId: 1, freeMg });

describe('placeInTurn', () => {
  it('lets the first group have its lots, though more grams would find a place otherwise', () => {
    // Alone 60 + 50 fill the lot of 110 and leave 70 out; what is begun wants 70, and then only 40 are left.
    const [begun, others] = [[want('begun', 70)], [want('a', 60), want('b', 50)]];
    expect(placeOnLots([...begun, ...others], [lot(1, 110)]).left).toEqual(begun);
    const { placed, left } = placeInTurn([begun, others], [lot(1, 110)]);
    expect([...placed]).toEqual([['begun/1', 1]]);
    expect(left).toEqual(others);
  });

  it('mixes rests for a pair to give before pairs that come later have them', () => {
    const { placed, mixed } = placeInTurn([[want('gift', 80, true)], [want('a', 40)]], [lot(1, 50), lot(2, 40)]);
    expect(mixed.get('gift/1')).toEqual([
      { lotId: 1, mg: 50 },
      { lotId: 2, mg: 30 },
    ]);
    expect(placed.size).toBe(0);
  });

  it('places all together where that finds a place for all', () => {
    // Alone, 60 begins in the lot of 70 and 70 in the lot of 120; then 55 finds no place, though all fit: 70; 60 + 55.
    const [begun, others] = [[want('begun', 60), want('too', 70)], [want('a', 55)]];
    expect(placeOnLots([want('begun', 60), want('too', 70)], [lot(1, 70), lot(2, 120)]).placed.get('begun/1')).toBe(1);
    const { placed, left } = placeInTurn([begun, others], [lot(1, 70), lot(2, 120)]);
    expect(left).toEqual([]);
    expect(Object.fromEntries(placed)).toEqual({ 'begun/1': 2, 'too/1': 1, 'a/1': 2 });
  });

  it('places of the first group what would find a place if it were alone, and takes no more of a lot than it has', () => {
    const anyWants = (name: string) =>
      fc
        .array(fc.integer({ min: 1, max: 60 }), { maxLength: 6 })
        .map((sizes) => sizes.map((mg, i) => want(`${name}${i}`, mg)));
    const anyLots = fc.array(fc.integer({ min: 0, max: 120 }), { maxLength: 3 });
    fc.assert(
      fc.property(anyWants('a'), anyWants('b'), anyLots, (first, second, frees) => {
        const lots = frees.map((mg, i) => lot(i + 1, mg));
        const both = placeInTurn([first, second], lots);
        for (const [key] of placeOnLots(first, lots).placed) expect(both.placed.has(key)).toBe(true);
        for (const { id, freeMg } of lots) {
          const used = [...first, ...second].filter(({ pairKey }) => both.placed.get(`${pairKey}/1`) === id);
          expect(used.reduce((sum, { mg }) => sum + mg, 0)).toBeLessThanOrEqual(freeMg);
        }
        expect(both.left.length + both.placed.size).toBe(first.length + second.length);
      }),
    );
  });
});
