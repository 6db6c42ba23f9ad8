import type { TakenPair } from '#core/fair/came-home.ts';
import type { PairRow } from '#db/stores/batch.ts';
import type { FairPairRow, SaleLineRow, SaleRow } from '#db/stores/fair.ts';
import { standingLines } from '#flows/fair/fair-rows.ts';

/** A pair taken along for a day, with its rows. */
export type TakenRow = TakenPair & { readonly row: FairPairRow; readonly pair: PairRow };

type DayRows = {
  readonly taken: readonly FairPairRow[];
  readonly pairs: readonly PairRow[];
  readonly sales: readonly SaleRow[];
  readonly lines: readonly SaleLineRow[];
};

/**
 * What became of the pairs taken along for a day, in the order in which they are sold. One that left in another way is
 * `gone` with the reason when it did not come home first, and otherwise left later.
 */
export function takenOf(
  dayId: number,
  rows: DayRows,
): { readonly here: readonly TakenRow[]; readonly gone: readonly TakenRow[] } {
  const byId = new Map(rows.pairs.map((pair) => [pair.id, pair]));
  const soldHere = new Set(
    standingLines(rows).flatMap(({ sale, line }) => (sale.fairDayId === dayId ? (line.pairId ?? []) : [])),
  );
  const all = rows.taken
    .filter((row) => row.fairDayId === dayId)
    .map((row): TakenRow & { readonly isGone: boolean } => {
      const pair = byId.get(row.pairId)!;
      const isSold = soldHere.has(pair.id);
      const hasLeft = !isSold && pair.left !== null;
      const isGone = hasLeft && pair.left !== 'sold' && row.cameHome !== true;
      return { row, pair, pairId: pair.id, isSold, cameHome: row.cameHome, leftLater: hasLeft && !isGone, isGone };
    })
    .sort((a, b) => a.pair.rank - b.pair.rank || a.pairId - b.pairId);
  return { here: all.filter(({ isGone }) => !isGone), gone: all.filter(({ isGone }) => isGone) };
}
