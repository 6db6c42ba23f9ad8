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
      mixed: new Map(),
      waits: new Map(),
    });
    expect(placeOnLots([], [lot(1, 5)])).toEqual({ placed: new Map(), left: [], mixed: new Map(), waits: new Map() });
    const both = placeOnLots([want('a', 5), want('a', 7, 2)], [lot(1, 5), lot(2, 7, 2)]);
    expect([...both.placed]).toEqual([
      ['a/1', 1],
      ['a/2', 2],
    ]);
  });

  // What is bought is what found no place: a lot of just that much, the newest, must hold it all, however many lots there are.
  it('puts in a new lot of what was left all of what was left', () => {
    const amounts = fc.array(fc.integer({ min: 60_000, max: 130_000 }), { minLength: 10, maxLength: 34 });
    const rests = fc.array(fc.integer({ min: 60_000, max: 450_000 }), { minLength: 4, maxLength: 8 });
    fc.assert(
      fc.property(amounts, rests, (mgs, lotsMg) => {
        const wants = mgs.map((mg, i) => want(`p${i}`, mg));
        const lots = lotsMg.map((mg, i) => lot(i + 1, mg));
        const { left } = placeOnLots(wants, lots);
        if (left.length === 0) return;
        const boughtMg = left.reduce((sum, { mg }) => sum + mg, 0);
        expect(placeOnLots(wants, [...lots, lot(99, boughtMg)]).left).toEqual([]);
      }),
      { numRuns: 30, seed: 3, endOnFailure: true },
    );
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

describe('pairs that may mix lots', () => {
  const gift = (pairKey: string, mg: number): Want => Object.freeze({ pairKey, yarnColourId: 1, mg, mayMix: true });

  it('take what whole pairs left over, from as few lots as will do', () => {
    const { placed, mixed, left } = placeOnLots([gift('g', 60), want('a', 50)], [lot(1, 70), lot(2, 30), lot(3, 25)]);
    // Whole pairs first: the gift fits lot 1 alone, and is more than a; a finds no lot then.
    expect([placed.get('g/1'), mixed.size, left.map(({ pairKey }) => pairKey)]).toEqual([1, 0, ['a']]);
    const rests = placeOnLots([want('a', 50), gift('g', 60)], [lot(1, 55), lot(2, 30), lot(3, 32)]);
    expect(rests.placed.get('a/1')).toBe(1);
    expect(rests.mixed.get('g/1')).toEqual([
      { lotId: 3, mg: 32 },
      { lotId: 2, mg: 28 },
    ]);
    expect(rests.left).toEqual([]);
  });

  it('wait for the last of their lots', () => {
    const onWay = { ...lot(2, 40), fromDay: '2026-12-03' };
    const { mixed, waits } = placeOnLots([gift('g', 60)], [onWay, lot(1, 30)]);
    expect(mixed.get('g/1')).toEqual([
      { lotId: 1, mg: 30 },
      { lotId: 2, mg: 30 },
    ]);
    expect(waits.get('g')).toBe('2026-12-03');
  });

  it('are the only ones that mix, change nothing for the others, and never take more than there is', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ mg: fc.integer({ min: 1, max: 60 }), mayMix: fc.boolean() }), { maxLength: 8 }),
        fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 1, maxLength: 4 }),
        (sizes, frees) => {
          const wants = sizes.map(({ mg, mayMix }, i) => (mayMix ? gift(`p${i}`, mg) : want(`p${i}`, mg)));
          const shelf = frees.map((mg, i) => lot(i + 1, mg));
          const { placed, mixed, left } = placeOnLots(wants, shelf);
          const whole = placeOnLots(
            wants.map(({ pairKey, mg }) => want(pairKey, mg)),
            shelf,
          );
          expect(placed).toEqual(whole.placed);
          const used = new Map<number, number>();
          for (const each of wants) {
            const parts = mixed.get(placementKey(each.pairKey, 1));
            const id = placed.get(placementKey(each.pairKey, 1));
            if (parts) {
              expect(each.mayMix).toBe(true);
              expect(id).toBeUndefined();
              expect(parts.length).toBeGreaterThan(1);
              expect(parts.reduce((sum, part) => sum + part.mg, 0)).toBe(each.mg);
            }
            const taken = parts ?? (id === undefined ? [] : [{ lotId: id, mg: each.mg }]);
            for (const { lotId, mg } of taken) used.set(lotId, (used.get(lotId) ?? 0) + mg);
            expect(left.includes(each)).toBe(parts === undefined && id === undefined);
          }
          for (const [id, mg] of used) expect(mg).toBeLessThanOrEqual(frees[id - 1]!);
          // A gift is left only where all rests together are too few for it.
          const rest = frees.reduce((sum, mg) => sum + mg, 0) - [...used.values()].reduce((sum, mg) => sum + mg, 0);
          for (const each of left) if (each.mayMix) expect(each.mg).toBeGreaterThan(rest);
        },
      ),
      { numRuns: 400, seed: 21 },
    );
  });
});
