import { type LotLeft, type LotPart, placementKey, type Want } from '#core/buying/lots.ts';
import type { JoinedLot } from '#core/buying/same-lots.ts';
import type { PairWant } from '#core/buying/wants.ts';

/** Which row of the shelf each pair's colour lies on, or on which several. */
type OnRows = {
  readonly lotOf: ReadonlyMap<string, number>;
  readonly mixedOf: ReadonlyMap<string, readonly LotPart[]>;
};

/**
 * What of a row goes to each pair's colour, whole mg.
 *
 * @param rowIds the row, or all rows of one lot
 * @returns the wants that take from them, in their order, with what they take
 */
export function takenFrom<W extends Want>(
  rowIds: ReadonlySet<number>,
  wants: readonly W[],
  { lotOf, mixedOf }: OnRows,
): { readonly want: W; readonly mg: number }[] {
  return wants.flatMap((want) => {
    const key = placementKey(want.pairKey, want.yarnColourId);
    const row = lotOf.get(key);
    if (row !== undefined) return rowIds.has(row) ? [{ want, mg: want.mg }] : [];
    const mg = (mixedOf.get(key) ?? []).reduce((sum, part) => sum + (rowIds.has(part.lotId) ? part.mg : 0), 0);
    return mg > 0 ? [{ want, mg }] : [];
  });
}

/**
 * The rows of the shelf with what the pairs leave of them.
 *
 * @example lotsAfter([{ id: 4, yarnColourId: 1, freeMg: 100 }], [{ pairKey: 'a', yarnColourId: 1, mg: 60 }], { lotOf: new Map([['a/1', 4]]), mixedOf: new Map() }) // => [{ id: 4, yarnColourId: 1, freeMg: 40 }]
 */
export function lotsAfter<L extends LotLeft>(rows: readonly L[], wants: readonly Want[], placed: OnRows): L[] {
  const usedMg = new Map<number, number>();
  const use = (row: number, mg: number) => usedMg.set(row, (usedMg.get(row) ?? 0) + mg);
  for (const { lotId, mg } of [...placed.mixedOf.values()].flat()) use(lotId, mg);
  for (const { pairKey, yarnColourId, mg } of wants) {
    const row = placed.lotOf.get(placementKey(pairKey, yarnColourId));
    if (row !== undefined) use(row, mg);
  }
  return rows.map((row) => ({ ...row, freeMg: Math.max(0, row.freeMg - (usedMg.get(row.id) ?? 0)) }));
}

/** A lot that looks big enough for a pair, and falls short of what is safe for it; whole mg. */
export type NearMiss = {
  readonly lotId: number;
  readonly leftMg: number;
  readonly likelyMg: number;
  /** What is enough for the pair alone. */
  readonly wantMg: number;
};

/**
 * Of lots that have what a pair likely takes but not what is enough for it to be safe, the one that misses by least.
 *
 * @param left wants of one colour that found no lot
 * @param lots lots of that colour with what the other pairs leave of them
 * @returns null where no lot looks big enough; ties go to the first lot
 */
export function nearestMiss(left: readonly PairWant[], lots: readonly (LotLeft | JoinedLot)[]): NearMiss | null {
  let nearest: NearMiss | null = null;
  for (const { id, freeMg } of lots) {
    for (const { mg, likelyMg } of left) {
      if (freeMg < likelyMg || freeMg >= mg) continue;
      if (nearest && mg - freeMg >= nearest.wantMg - nearest.leftMg) continue;
      nearest = { lotId: id, leftMg: freeMg, likelyMg, wantMg: mg };
    }
  }
  return nearest;
}
