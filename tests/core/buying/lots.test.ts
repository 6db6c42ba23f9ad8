import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LotLeft, placementKey, placeOnLots, type Want } from '#core/buying/lots.ts';

const want = (pairKey: string, mg: number, yarnColourId = 1): Want => Object.freeze({ pairKey, yarnColourId, mg });
const lot = (id: number, freeMg: number, yarnColourId = 1): LotLeft => Object.freeze({ id, yarnColourId, freeMg });

/** Most milligrams by trying every lot, or none, for every want. */
function enumerate(wants: readonly Want[], lots: readonly LotLeft[]): number {
  const free = new Map(lots.map((each) => [each.id, each.freeMg]));
  const visit = (index: number): number => {
    const next = wants[index];
    if (!next) return 0;
    let most = visit(index + 1);
    for (const each of lots) {
      const left = free.get(each.id)!;
      if (each.yarnColourId !== next.yarnColourId || left < next.mg) continue;
      free.set(each.id, left - next.mg);
      most = Math.max(most, next.mg + visit(index + 1));
      free.set(each.id, left);
    }
    return most;
  };
  return visit(0);
}

function placedMg(wants: readonly Want[], lots: readonly LotLeft[]): number {
  const { placed, left } = placeOnLots(wants, lots);
  const used = new Map<number, number>();
  let total = 0;
  for (const each of wants) {
    const id = placed.get(placementKey(each.pairKey, each.yarnColourId));
    expect(left.includes(each)).toBe(id === undefined);
    if (id === undefined) continue;
    expect(lots.find((one) => one.id === id)!.yarnColourId).toBe(each.yarnColourId);
    used.set(id, (used.get(id) ?? 0) + each.mg);
    total += each.mg;
  }
  for (const [id, mg] of used) expect(mg).toBeLessThanOrEqual(lots.find((one) => one.id === id)!.freeMg);
  return total;
}

describe('placeOnLots', () => {
  it('places nothing without lots, and everything where there is room', () => {
    expect(placeOnLots([want('a', 5)], [])).toEqual({
      placed: new Map(),
      left: [want('a', 5)],
      waits: new Map(),
    });
    expect(placeOnLots([], [lot(1, 5)])).toEqual({ placed: new Map(), left: [], waits: new Map() });
    const both = placeOnLots([want('a', 5), want('a', 7, 2)], [lot(1, 5), lot(2, 7, 2)]);
    expect([...both.placed]).toEqual([
      ['a/1', 1],
      ['a/2', 2],
    ]);
  });

  it('never splits a pair over two lots', () => {
    expect(placeOnLots([want('a', 60)], [lot(1, 59), lot(2, 59)]).left).toHaveLength(1);
    expect(placeOnLots([want('a', 60)], [lot(1, 59), lot(2, 60)]).placed.get('a/1')).toBe(2);
  });

  it('prefers two pairs that fill the lot to one that comes first', () => {
    // 70 first would leave 30 unused; 60 + 40 fill the lot.
    const { placed } = placeOnLots([want('a', 70), want('b', 60), want('c', 40)], [lot(1, 100)]);
    expect([...placed.keys()]).toEqual(['b/1', 'c/1']);
  });

  it('places earlier pairs first among equals', () => {
    const { left } = placeOnLots([want('a', 50), want('b', 50), want('c', 50)], [lot(1, 100)]);
    expect(left.map((each) => each.pairKey)).toEqual(['c']);
  });

  it('finds the split over two lots that greedy misses', () => {
    // Lots 10 and 9, wants 6 5 4 4: only 6 + 4 and 5 + 4 place all 19.
    const wants = [want('a', 6), want('b', 5), want('c', 4), want('d', 4)];
    expect(placedMg(wants, [lot(1, 10), lot(2, 9)])).toBe(19);
  });

  it('refuses a pair that wants a colour twice, and negative amounts', () => {
    expect(() => placeOnLots([want('a', 1), want('a', 2)], [lot(1, 5)])).toThrow(/a\/1 twice/);
    expect(() => placeOnLots([want('a', -1)], [])).toThrow(RangeError);
    expect(() => placeOnLots([want('a', 1)], [lot(1, Number.NaN)])).toThrow(RangeError);
  });

  it.each([1, 2, 3])('places as many grams as enumeration finds, %i lots', (lots) => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 60 }), { maxLength: 7 }),
        fc.array(fc.integer({ min: 0, max: 120 }), { minLength: lots, maxLength: lots }),
        (sizes, frees) => {
          const wants = sizes.map((mg, i) => want(`p${i}`, mg));
          const shelf = frees.map((mg, i) => lot(i + 1, mg));
          expect(placedMg(wants, shelf)).toBe(enumerate(wants, shelf));
        },
      ),
      { numRuns: 200, seed: 31 },
    );
  });

  it('stays quick and within each lot for thousands of pairs on several lots', () => {
    const wants = Array.from({ length: 5000 }, (_, i) => want(`p${i}`, 45_000 + ((i * 7919) % 9000), 1 + (i % 10)));
    const lots = Array.from({ length: 40 }, (_, i) => lot(i + 1, 300_000 + i * 777, 1 + (i % 10)));
    const started = performance.now();
    const total = placedMg(wants, lots);
    expect(performance.now() - started).toBeLessThan(3000);
    const room = lots.reduce((sum, each) => sum + each.freeMg, 0);
    expect(total).toBeGreaterThan(0.99 * room); // six or seven pairs a lot, of hundreds of weights
  });
});
