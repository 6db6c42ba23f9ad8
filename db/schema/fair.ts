import { sql } from 'drizzle-orm';
import { type AnySQLiteColumn, check, index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { pairs } from '#db/schema/batch.ts';
import { day, id, mostCents, oneOf, version, whole, words } from '#db/schema/columns.ts';
import { outlets } from '#db/schema/pricing.ts';

/** A fair or market, of one day or more. */
export const fairs = sqliteTable(
  'fairs',
  {
    id: id(),
    name: text('name').notNull(),
    outletId: integer('outlet_id')
      .notNull()
      .references(() => outlets.id, { onDelete: 'restrict' }),
    /** For the table, all its days. */
    feeCents: integer('fee_cents').notNull(),
    version: version(),
  },
  (t) => [words(t.name), whole(t.feeCents, 0, mostCents), whole(t.version, 1)],
);

/** A day's selling. */
export const fairDays = sqliteTable(
  'fair_days',
  {
    id: id(),
    fairId: integer('fair_id')
      .notNull()
      .references(() => fairs.id, { onDelete: 'restrict' }),
    day: text('day').notNull(),
    openMinutes: integer('open_minutes'),
    /** Change in the cash box in the morning. */
    floatCents: integer('float_cents').notNull(),
    /** What was in the cash box in the evening; empty until counted. */
    cashCents: integer('cash_cents'),
    version: version(),
  },
  (t) => [
    day(t.day),
    whole(t.openMinutes, 1, 1440),
    whole(t.floatCents, 0, mostCents),
    whole(t.cashCents, 0, mostCents),
    whole(t.version, 1),
    uniqueIndex('fair_days_once').on(t.fairId, t.day),
  ],
);

/** A pair that was taken along for the day, and whether it came home; empty until counted. */
export const fairPairs = sqliteTable(
  'fair_pairs',
  {
    id: id(),
    fairDayId: integer('fair_day_id')
      .notNull()
      .references(() => fairDays.id, { onDelete: 'restrict' }),
    pairId: integer('pair_id')
      .notNull()
      .references(() => pairs.id, { onDelete: 'restrict' }),
    cameHome: integer('came_home', { mode: 'boolean' }),
    version: version(),
  },
  (t) => [
    check('came_home_yes_or_no', sql`${t.cameHome} is null or ${t.cameHome} in (0, 1)`),
    whole(t.version, 1),
    uniqueIndex('fair_pairs_once').on(t.fairDayId, t.pairId),
    index('fair_pairs_pair').on(t.pairId),
  ],
);

/** Asked for in vain, in words: it may be a size or a colour that was never made. */
export const asked = sqliteTable(
  'asked',
  {
    id: id(),
    fairDayId: integer('fair_day_id')
      .notNull()
      .references(() => fairDays.id, { onDelete: 'restrict' }),
    size: text('size'),
    colour: text('colour'),
    count: integer('count').notNull(),
    version: version(),
  },
  (t) => [
    words(t.size),
    words(t.colour),
    whole(t.count, 1, 9999),
    whole(t.version, 1),
    index('asked_day').on(t.fairDayId),
  ],
);

/** One buyer at the table. A sale typed wrongly is reversed by another. `tillKey` keeps a sale sent twice from counting twice. */
export const sales = sqliteTable(
  'sales',
  {
    id: id(),
    tillKey: text('till_key').notNull().unique(),
    fairDayId: integer('fair_day_id').references(() => fairDays.id, { onDelete: 'restrict' }),
    outletId: integer('outlet_id')
      .notNull()
      .references(() => outlets.id, { onDelete: 'restrict' }),
    day: text('day').notNull(),
    atMs: integer('at_ms').notNull(),
    how: text('how', { enum: ['cash', 'card', 'other'] }).notNull(),
    reversesId: integer('reverses_id')
      .unique()
      .references((): AnySQLiteColumn => sales.id, { onDelete: 'restrict' }),
  },
  (t) => [
    words(t.tillKey),
    day(t.day),
    whole(t.atMs, 0),
    oneOf(t.how),
    index('sales_fair_day').on(t.fairDayId),
    index('sales_day').on(t.day),
  ],
);

/** A pair of a sale. One that nobody can name keeps `pairId` empty, has its words, and waits to be settled. */
export const saleLines = sqliteTable(
  'sale_lines',
  {
    id: id(),
    saleId: integer('sale_id')
      .notNull()
      .references(() => sales.id, { onDelete: 'restrict' }),
    pairId: integer('pair_id').references(() => pairs.id, { onDelete: 'restrict' }),
    what: text('what').notNull(),
    priceCents: integer('price_cents').notNull(),
    /** Why no pair belongs to it, once somebody has said so; it waits no longer then. */
    settledWhy: text('settled_why'),
    version: version(),
  },
  (t) => [
    words(t.what),
    whole(t.priceCents, 0, mostCents),
    words(t.settledWhy),
    whole(t.version, 1),
    index('sale_lines_sale').on(t.saleId),
    index('sale_lines_pair').on(t.pairId),
  ],
);
