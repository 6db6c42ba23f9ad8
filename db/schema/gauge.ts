import { sql } from 'drizzle-orm';
import { check, index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { above0, day, id, mostMg, version, whole, words, yesOrNo } from '#db/schema/columns.ts';
import { knitters } from '#db/schema/knitters.ts';
import { yarns } from '#db/schema/shelf.ts';

/**
 * A knitted square, or the first foot: so many stitches and rows over so many mm. `secondYarnId` is another yarn held
 * together with the first; empty when all strands are the one yarn. Without a knitter it is the workshop's.
 */
export const swatches = sqliteTable(
  'swatches',
  {
    id: id(),
    knitterId: integer('knitter_id').references(() => knitters.id, { onDelete: 'restrict' }),
    yarnId: integer('yarn_id')
      .notNull()
      .references(() => yarns.id, { onDelete: 'restrict' }),
    secondYarnId: integer('second_yarn_id').references(() => yarns.id, { onDelete: 'restrict' }),
    strands: integer('strands').notNull(),
    needleMm: real('needle_mm'),
    fabric: text('fabric').notNull(),
    stitches: real('stitches').notNull(),
    rows: real('rows').notNull(),
    widthMm: real('width_mm').notNull(),
    heightMm: real('height_mm').notNull(),
    massMg: integer('mass_mg'),
    isWashed: integer('washed', { mode: 'boolean' }).notNull(),
    madeDay: text('made_day'),
    leftOutReason: text('left_out_reason'),
    version: version(),
  },
  (t) => [
    whole(t.strands, 1, 3),
    check('two_yarns_two_strands', sql`${t.secondYarnId} is null or ${t.strands} = 2`),
    above0(t.needleMm, 50),
    words(t.fabric),
    above0(t.stitches, 1000),
    above0(t.rows, 1000),
    above0(t.widthMm, 2000),
    above0(t.heightMm, 2000),
    whole(t.massMg, 1, mostMg),
    yesOrNo(t.isWashed),
    day(t.madeDay),
    words(t.leftOutReason),
    whole(t.version, 1),
    index('swatches_yarn').on(t.yarnId),
    index('swatches_knitter').on(t.knitterId),
  ],
);
