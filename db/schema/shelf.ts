import { sql } from 'drizzle-orm';
import {
  type AnySQLiteColumn,
  check,
  index,
  integer,
  real,
  sqliteTable,
  text,
  uniqueIndex,
} from 'drizzle-orm/sqlite-core';
import type { YarnCategory } from '#core/gauge/hand.ts';
import { batches, pairs } from '#db/schema/batch.ts';
import { purchaseLines } from '#db/schema/buying.ts';
import { above0, day, id, mostCents, mostMg, oneOf, version, whole, words } from '#db/schema/columns.ts';
import { knitters } from '#db/schema/knitters.ts';

export const yarns = sqliteTable(
  'yarns',
  {
    id: id(),
    name: text('name').notNull().unique(),
    fibre: text('fibre'),
    /** Grams in 1000 m. */
    tex: real('tex').notNull(),
    ballMg: integer('ball_mg').notNull(),
    category: integer('category').$type<YarnCategory>().notNull(),
    /** How many strands of it are held together for a slipper. */
    usualStrands: integer('usual_strands').notNull().default(1),
    needleMm: real('needle_mm'),
    /** The gauge on the ball band. */
    usualStitchesPer10Cm: real('usual_stitches_per_10_cm'),
    version: version(),
  },
  (t) => [
    words(t.name),
    words(t.fibre),
    above0(t.tex, 20_000),
    whole(t.ballMg, 1, mostMg),
    whole(t.category, 0, 7),
    whole(t.usualStrands, 1, 3),
    above0(t.needleMm, 50),
    above0(t.usualStitchesPer10Cm, 200),
    whole(t.version, 1),
  ],
);

const hex = '#[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F]';
const hexes = [1, 2, 3, 4].map((count) => `'${Array(count).fill(hex).join(' ')}'`);

/** A colour of a yarn. `swatchHex` holds one to four colours with a blank between: one plain, more for a marl. */
export const yarnColours = sqliteTable(
  'yarn_colours',
  {
    id: id(),
    yarnId: integer('yarn_id')
      .notNull()
      .references(() => yarns.id, { onDelete: 'restrict' }),
    name: text('name').notNull(),
    swatchHex: text('swatch_hex').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    check(
      'swatch_hex_colours',
      sql.join(
        hexes.map((each) => sql`${t.swatchHex} glob ${sql.raw(each)}`),
        sql` or `,
      ),
    ),
    whole(t.version, 1),
    uniqueIndex('yarn_colours_name').on(t.yarnId, t.name),
  ],
);

/** Yarn of one colour from one dye bath, got at one price. Cost a gram is paid over bought. */
export const lots = sqliteTable(
  'lots',
  {
    id: id(),
    yarnColourId: integer('yarn_colour_id')
      .notNull()
      .references(() => yarnColours.id, { onDelete: 'restrict' }),
    dyeLot: text('dye_lot'),
    donor: text('donor'),
    /** Where it lies: a box, a drawer, a shelf board. */
    place: text('place'),
    gotDay: text('got_day').notNull(),
    returnableUntilDay: text('returnable_until_day'),
    paidCents: integer('paid_cents').notNull(),
    boughtMg: integer('bought_mg').notNull(),
    /** What given yarn would have cost. */
    worthCents: integer('worth_cents'),
    version: version(),
  },
  (t) => [
    words(t.dyeLot),
    words(t.donor),
    words(t.place),
    day(t.gotDay),
    day(t.returnableUntilDay),
    whole(t.paidCents, 0, mostCents),
    whole(t.boughtMg, 1, mostMg),
    whole(t.worthCents, 0, mostCents),
    whole(t.version, 1),
    index('lots_yarn_colour').on(t.yarnColourId),
  ],
);

/** A ball or part ball. Its mass is the sum of its moves, and changes in no other way. */
export const balls = sqliteTable(
  'balls',
  {
    id: id(),
    lotId: integer('lot_id')
      .notNull()
      .references(() => lots.id, { onDelete: 'restrict' }),
    massMg: integer('mass_mg').notNull(),
    /** Who has it; empty for the shelf. */
    knitterId: integer('knitter_id').references(() => knitters.id, { onDelete: 'restrict' }),
    /** The day it came to whoever has it now, or home; empty while it never went out. */
    handedDay: text('handed_day'),
    version: version(),
  },
  (t) => [whole(t.massMg, 0, mostMg), day(t.handedDay), whole(t.version, 1), index('balls_lot').on(t.lotId)],
);

/**
 * Why a ball's mass changed. `wound off` comes in twos (out of one ball, into another), `back` is yarn returned to
 * the shop; an undone move stays, and the row that undoes it says so in `reversesId`.
 */
export const ballMoves = sqliteTable(
  'ball_moves',
  {
    id: id(),
    ballId: integer('ball_id')
      .notNull()
      .references(() => balls.id, { onDelete: 'restrict' }),
    changeMg: integer('change_mg').notNull(),
    reason: text('reason', { enum: ['bought', 'given', 'wound off', 'used', 'weighed', 'lost', 'back'] }).notNull(),
    day: text('day').notNull(),
    pairId: integer('pair_id').references(() => pairs.id, { onDelete: 'restrict' }),
    purchaseLineId: integer('purchase_line_id').references(() => purchaseLines.id, { onDelete: 'restrict' }),
    reversesId: integer('reverses_id')
      .unique()
      .references((): AnySQLiteColumn => ballMoves.id, { onDelete: 'restrict' }),
  },
  (t) => [
    whole(t.changeMg, -mostMg, mostMg),
    oneOf(t.reason),
    check(
      'change_fits_reason',
      sql`${t.reversesId} is not null or (${t.reason} in ('bought', 'given') and ${t.changeMg} > 0) or (${t.reason} in ('used', 'lost', 'back') and ${t.changeMg} < 0) or (${t.reason} = 'wound off' and ${t.changeMg} <> 0) or ${t.reason} = 'weighed'`,
    ),
    day(t.day),
    index('ball_moves_ball').on(t.ballId),
  ],
);

/** Yarn of a lot that a started batch will use. */
export const reservations = sqliteTable(
  'reservations',
  {
    id: id(),
    batchId: integer('batch_id')
      .notNull()
      .references(() => batches.id, { onDelete: 'restrict' }),
    lotId: integer('lot_id')
      .notNull()
      .references(() => lots.id, { onDelete: 'restrict' }),
    massMg: integer('mass_mg').notNull(),
    version: version(),
  },
  (t) => [
    whole(t.massMg, 0, mostMg),
    whole(t.version, 1),
    uniqueIndex('reservations_once').on(t.batchId, t.lotId),
    index('reservations_lot').on(t.lotId),
  ],
);
