import { asc, desc, sql } from 'drizzle-orm';
import { asked, fairDays, fairPairs, fairs, saleLines, sales } from '#db/schema/fair.ts';
import type { Reader } from '#db/store.ts';
import { listPairColours, listPairPieces, listPairs } from '#db/stores/batch.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type FairRow = RowOf<typeof fairs>;
export type FairDayRow = RowOf<typeof fairDays>;
export type FairPairRow = RowOf<typeof fairPairs>;
export type AskedRow = RowOf<typeof asked>;
export type SaleRow = RowOf<typeof sales>;
export type SaleLineRow = RowOf<typeof saleLines>;

export const {
  list: listFairs,
  find: findFair,
  create: createFair,
  change: changeFair,
  remove: removeFair,
} = rowsOf(fairs);

/** The newest first. */
export const {
  list: listFairDays,
  find: findFairDay,
  create: createFairDay,
  change: changeFairDay,
  remove: removeFairDay,
} = rowsOf(fairDays, desc(fairDays.day));

export const {
  list: listFairPairs,
  create: createFairPair,
  change: changeFairPair,
  remove: removeFairPair,
} = rowsOf(fairPairs);

export const { list: listAsked, create: createAsked, change: changeAsked, remove: removeAsked } = rowsOf(asked);

/** A sale is never removed: one typed wrongly is reversed. */
export const { list: listSales, find: findSale, create: createSale } = rowsOf(sales, asc(sales.day), asc(sales.atMs));

export const {
  list: listSaleLines,
  find: findSaleLine,
  create: createSaleLine,
  change: changeSaleLine,
} = rowsOf(saleLines);

const pairIds = sql`(select ${fairPairs.pairId} from ${fairPairs} union select ${saleLines.pairId} from ${saleLines} where ${saleLines.pairId} is not null)`;

/** Every pair that was taken along or sold, with its pieces and colours; most of them have left. */
export const listFairsPairs = (from: Reader) => listPairs(from, sql`pairs.id in ${pairIds}`);
export const listFairsPairPieces = (from: Reader) => listPairPieces(from, sql`pair_pieces.pair_id in ${pairIds}`);
export const listFairsPairColours = (from: Reader) => listPairColours(from, sql`pair_colours.pair_id in ${pairIds}`);

type Left = 'sold' | 'given' | 'handed over';
const leftIds = (...ways: readonly Left[]) =>
  sql`(select id from pairs where "left" in (${sql.raw(ways.map((way) => `'${way}'`).join(', '))}))`;

/** Pairs that left in these ways, with their pieces and colours. */
export const listLeftPairs = (from: Reader, ...ways: readonly Left[]) =>
  listPairs(from, sql`pairs.id in ${leftIds(...ways)}`);
export const listLeftPairPieces = (from: Reader, ...ways: readonly Left[]) =>
  listPairPieces(from, sql`pair_pieces.pair_id in ${leftIds(...ways)}`);
export const listLeftPairColours = (from: Reader, ...ways: readonly Left[]) =>
  listPairColours(from, sql`pair_colours.pair_id in ${leftIds(...ways)}`);
