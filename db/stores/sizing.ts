import { asc, eq } from 'drizzle-orm';
import { feet, sizeBands } from '#db/schema/sizing.ts';
import type { Reader } from '#db/store.ts';
import type { RowOf } from '#db/stores/record.ts';
import { type RowsQuery, rowsOf } from '#db/stores/rows.ts';

export type SizeBandRow = RowOf<typeof sizeBands>;
export type FootRow = RowOf<typeof feet>;

export const {
  list: listBands,
  find: findBand,
  create: createBand,
  change: changeBand,
  remove: removeBand,
} = rowsOf(sizeBands, asc(sizeBands.rank));

export const {
  list: listFeet,
  find: findFoot,
  create: createFoot,
  change: changeFoot,
  remove: removeFoot,
} = rowsOf(feet);

export function listFeetOfCustomer(from: Reader, customerId: number): RowsQuery<FootRow> {
  return listFeet(from, eq(feet.customerId, customerId));
}
