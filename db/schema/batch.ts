import { sql } from 'drizzle-orm';
import { check, index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { id, json, mostMg, oneOf, version, whole, words, yesOrNo } from '#db/schema/columns.ts';
import { knitters } from '#db/schema/knitters.ts';
import { orderLines } from '#db/schema/orders.ts';
import { lots, yarnColours } from '#db/schema/shelf.ts';
import { styleVersions } from '#db/schema/styles.ts';

/** Pairs made together. At most one batch is being gathered. */
export const batches = sqliteTable(
  'batches',
  {
    id: id(),
    name: text('name').notNull(),
    state: text('state', { enum: ['gathering', 'started', 'finished'] }).notNull(),
    startedMs: integer('started_ms'),
    version: version(),
  },
  (t) => [
    words(t.name),
    oneOf(t.state),
    whole(t.startedMs, 0),
    check('started_has_instant', sql`(${t.state} = 'gathering') = (${t.startedMs} is null)`),
    whole(t.version, 1),
    uniqueIndex('batches_one_gathering').on(t.state).where(sql`${t.state} = 'gathering'`),
  ],
);

export const batchLines = sqliteTable(
  'batch_lines',
  {
    id: id(),
    batchId: integer('batch_id')
      .notNull()
      .references(() => batches.id, { onDelete: 'restrict' }),
    lineId: integer('line_id')
      .notNull()
      .references(() => orderLines.id, { onDelete: 'restrict' }),
    quantity: integer('quantity').notNull(),
    version: version(),
  },
  (t) => [
    whole(t.quantity, 1, 999),
    whole(t.version, 1),
    uniqueIndex('batch_lines_once').on(t.batchId, t.lineId),
    index('batch_lines_line').on(t.lineId),
  ],
);

/** A pair, from the day its batch starts until it has left. Stock that was there before has no batch. */
export const pairs = sqliteTable(
  'pairs',
  {
    id: id(),
    batchId: integer('batch_id').references(() => batches.id, { onDelete: 'restrict' }),
    lineId: integer('line_id').references(() => orderLines.id, { onDelete: 'restrict' }),
    styleVersionId: integer('style_version_id')
      .notNull()
      .references(() => styleVersions.id, { onDelete: 'restrict' }),
    kind: text('kind').notNull(),
    specJson: text('spec_json').notNull(),
    quality: text('quality', { enum: ['good', 'second'] })
      .notNull()
      .default('good'),
    isOwnYarn: integer('own_yarn', { mode: 'boolean' }).notNull().default(false),
    isPinned: integer('pinned', { mode: 'boolean' }).notNull().default(false),
    rank: integer('rank').notNull(),
    left: text('left', { enum: ['handed over', 'sold', 'given', 'lost', 'ripped out'] }),
    version: version(),
  },
  (t) => [
    words(t.kind, 2000),
    json(t.specJson),
    oneOf(t.quality),
    yesOrNo(t.isOwnYarn),
    yesOrNo(t.isPinned),
    whole(t.rank, 0),
    oneOf(t.left),
    whole(t.version, 1),
    index('pairs_batch').on(t.batchId),
    index('pairs_line').on(t.lineId),
    index('pairs_left').on(t.left),
  ],
);

/** A piece of a pair, both slippers' (foot, cuff, sewing up), and who has it. */
export const pairPieces = sqliteTable(
  'pair_pieces',
  {
    id: id(),
    pairId: integer('pair_id')
      .notNull()
      .references(() => pairs.id, { onDelete: 'restrict' }),
    piece: text('piece').notNull(),
    knitterId: integer('knitter_id').references(() => knitters.id, { onDelete: 'restrict' }),
    stage: text('stage', { enum: ['waiting', 'begun', 'done'] })
      .notNull()
      .default('waiting'),
    version: version(),
  },
  (t) => [
    words(t.piece),
    oneOf(t.stage),
    whole(t.version, 1),
    uniqueIndex('pair_pieces_once').on(t.pairId, t.piece),
    index('pair_pieces_knitter').on(t.knitterId),
  ],
);

/** Yarn to weigh out for a pair: a row for each role and strand; strand 0 is the first. */
export const pairColours = sqliteTable(
  'pair_colours',
  {
    id: id(),
    pairId: integer('pair_id')
      .notNull()
      .references(() => pairs.id, { onDelete: 'restrict' }),
    role: text('role').notNull(),
    strand: integer('strand').notNull(),
    yarnColourId: integer('yarn_colour_id')
      .notNull()
      .references(() => yarnColours.id, { onDelete: 'restrict' }),
    lotId: integer('lot_id').references(() => lots.id, { onDelete: 'restrict' }),
    allottedMg: integer('allotted_mg').notNull(),
    version: version(),
  },
  (t) => [
    words(t.role),
    whole(t.strand, 0, 9),
    whole(t.allottedMg, 0, mostMg),
    whole(t.version, 1),
    // A pair to give away may have one strand from several lots: a row for each.
    uniqueIndex('pair_colours_place').on(t.pairId, t.role, t.strand, t.lotId),
    uniqueIndex('pair_colours_waiting').on(t.pairId, t.role, t.strand).where(sql`${t.lotId} is null`),
    index('pair_colours_lot').on(t.lotId),
  ],
);

/** What happened to a pair, in order. */
export const pairEvents = sqliteTable(
  'pair_events',
  {
    id: id(),
    pairId: integer('pair_id')
      .notNull()
      .references(() => pairs.id, { onDelete: 'restrict' }),
    atMs: integer('at_ms').notNull(),
    event: text('event').notNull(),
    who: text('who'),
  },
  (t) => [whole(t.atMs, 0), words(t.event), words(t.who), index('pair_events_pair').on(t.pairId)],
);

/**
 * How far a knitter is with a piece of one slipper: rows done, the cast-on being the first, and steps ticked that have no
 * rows. Sewing up is a piece too.
 */
export const pairRows = sqliteTable(
  'pair_rows',
  {
    id: id(),
    pairId: integer('pair_id')
      .notNull()
      .references(() => pairs.id, { onDelete: 'restrict' }),
    piece: text('piece').notNull(),
    /** 1 the left or first slipper, 2 the other. */
    slipper: integer('slipper').notNull(),
    rowsDone: integer('rows_done').notNull().default(0),
    ticksJson: text('ticks_json').notNull().default('[]'),
    version: version(),
  },
  (t) => [
    words(t.piece),
    whole(t.slipper, 1, 2),
    whole(t.rowsDone, 0, 9999),
    json(t.ticksJson),
    whole(t.version, 1),
    uniqueIndex('pair_rows_once').on(t.pairId, t.piece, t.slipper),
  ],
);
