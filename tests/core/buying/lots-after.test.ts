import { describe, expect, it } from 'vitest';
import type { LotLeft } from '#core/buying/lots.ts';
import { placeOnLots } from '#core/buying/lots.ts';
import { lotsAfter, nearestMiss, takenFrom } from '#core/buying/lots-after.ts';
import type { PairWant } from '#core/buying/wants.ts';

const want = (pairKey: string, mg: number, likelyMg = mg): PairWant =>
  Object.freeze({ pairKey, yarnColourId: 1, mg, likelyMg, safeMg: mg });
const lot = (id: number, freeMg: number, lotKey?: string): LotLeft =>
  Object.freeze({ id, yarnColourId: 1, freeMg, lotKey });
const onRows = (wants: readonly PairWant[], lots: readonly LotLeft[]) => {
  const { placed, mixed } = placeOnLots(wants, lots);
  return { lotOf: placed, mixedOf: mixed };
};

describe('lotsAfter and takenFrom', () => {
  // 60 in row 4; 50 from rows 5 and 6 of one lot, 30 and 25 mg: one gives all, the other 20.
  const wants = [want('a', 60), want('b', 50)];
  const lots = [lot(4, 70), lot(5, 30, 'A7'), lot(6, 25, 'A7'), lot(7, 9)];
  it('take from each row what lies on it, and leave the rest', () => {
    const placed = onRows(wants, lots);
    expect(lotsAfter(lots, wants, placed).map(({ id, freeMg }) => [id, freeMg])).toEqual([
      [4, 10],
      [5, 0],
      [6, 5],
      [7, 9],
    ]);
    expect(takenFrom(new Set([5, 6]), wants, placed)).toEqual([{ want: wants[1], mg: 50 }]);
    expect(takenFrom(new Set([4]), wants, placed)).toEqual([{ want: wants[0], mg: 60 }]);
    expect(takenFrom(new Set([6]), wants, placed)).toEqual([{ want: wants[1], mg: 20 }]);
    expect(takenFrom(new Set([7]), wants, placed)).toEqual([]);
  });
});

describe('nearestMiss', () => {
  // A pair that likely takes 77 g and is given 92 g to be safe: a lot of 90 g looks big enough and lacks 2 g.
  const pair = want('a', 92_000, 77_000);
  it('names the lot that looks big enough and misses by least', () => {
    const lots = [lot(1, 80_000), lot(2, 90_000), lot(3, 60_000)];
    expect(nearestMiss([pair], lots)).toEqual({ lotId: 2, leftMg: 90_000, likelyMg: 77_000, wantMg: 92_000 });
    expect(nearestMiss([want('b', 110_000, 95_000), pair], lots)?.wantMg).toBe(92_000);
    expect(nearestMiss([pair], [lot(5, 90_000), lot(4, 90_000)])?.lotId).toBe(5);
  });

  it('is silent where a lot is plainly too small, or big enough, or no pair is left', () => {
    expect(nearestMiss([pair], [lot(1, 76_999)])).toBeNull();
    expect(nearestMiss([pair], [lot(1, 92_000)])).toBeNull();
    expect(nearestMiss([pair], [lot(1, 77_000)])?.leftMg).toBe(77_000);
    expect(nearestMiss([], [lot(1, 90_000)])).toBeNull();
    expect(nearestMiss([pair], [])).toBeNull();
  });
});
