import { standingSales } from '#core/fair/day-account.ts';
import type { Workshop } from '#db/open.ts';
import type { PairColourRow, PairPieceRow, PairRow } from '#db/stores/batch.ts';
import {
  type AskedRow,
  type FairDayRow,
  type FairPairRow,
  type FairRow,
  listAsked,
  listFairDays,
  listFairPairs,
  listFairs,
  listFairsPairColours,
  listFairsPairPieces,
  listFairsPairs,
  listSaleLines,
  listSales,
  type SaleLineRow,
  type SaleRow,
} from '#db/stores/fair.ts';
import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** All of selling at tables, as it stood at one moment. */
export type FairRows = {
  readonly fairs: readonly FairRow[];
  /** The newest first. */
  readonly days: readonly FairDayRow[];
  readonly taken: readonly FairPairRow[];
  readonly asked: readonly AskedRow[];
  readonly sales: readonly SaleRow[];
  readonly lines: readonly SaleLineRow[];
  readonly pairs: readonly PairRow[];
  readonly pairPieces: readonly PairPieceRow[];
  readonly pairColours: readonly PairColourRow[];
};

/** Reads all of selling at tables in one batch. */
export async function readFairRows({ store }: Workshop): Promise<FairRows> {
  return await store.read(async (db) => {
    const [fairs, days, taken, asked, sales, lines, pairs, pairPieces, pairColours] = await db.batch([
      listFairs(db),
      listFairDays(db),
      listFairPairs(db),
      listAsked(db),
      listSales(db),
      listSaleLines(db),
      listFairsPairs(db),
      listFairsPairPieces(db),
      listFairsPairColours(db),
    ]);
    return { fairs, days, taken, asked, sales, lines, pairs, pairPieces, pairColours };
  });
}

// A list of days asks for them again and again.
const knownPairs = new WeakMap<FairRows, ReadonlyMap<number, StoredPair>>();

/** The pairs of those rows put together, by id. */
export function pairsOf(rows: FairRows, workshopPlan: WorkshopPlan): ReadonlyMap<number, StoredPair> {
  const known = knownPairs.get(rows);
  if (known) return known;
  const { pairs, pairPieces, pairColours } = rows;
  const stored = readPairs({ ...workshopPlan.rows, pairs, pairPieces, pairColours });
  const byId = new Map(stored.map((pair) => [pair.row.id, pair]));
  knownPairs.set(rows, byId);
  return byId;
}

/** The lines of sales that stand. */
export function standingLines({ sales, lines }: Pick<FairRows, 'sales' | 'lines'>): readonly {
  readonly sale: SaleRow;
  readonly line: SaleLineRow;
}[] {
  const standing = new Map(standingSales(sales).map((sale) => [sale.id, sale]));
  return lines.flatMap((line) => {
    const sale = standing.get(line.saleId);
    return sale ? [{ sale, line }] : [];
  });
}
