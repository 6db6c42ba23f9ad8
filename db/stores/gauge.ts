import { asc } from 'drizzle-orm';
import { swatches } from '#db/schema/gauge.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type SwatchRow = RowOf<typeof swatches>;

export const {
  list: listSwatches,
  find: findSwatch,
  create: createSwatch,
  change: changeSwatch,
  remove: removeSwatch,
} = rowsOf(swatches, asc(swatches.yarnId));
