import { sql } from 'drizzle-orm';
import { check, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { pairs } from '#db/schema/batch.ts';
import { day, id, measure, mostCents, version, whole } from '#db/schema/columns.ts';
import { outlets } from '#db/schema/pricing.ts';

/** A pair that stands in a shop on sale or return: at the shop's price, of which it keeps a share. */
export const placements = sqliteTable(
  'placements',
  {
    id: id(),
    pairId: integer('pair_id')
      .notNull()
      .references(() => pairs.id, { onDelete: 'restrict' }),
    outletId: integer('outlet_id')
      .notNull()
      .references(() => outlets.id, { onDelete: 'restrict' }),
    placedDay: text('placed_day').notNull(),
    priceCents: integer('price_cents').notNull(),
    shareRatio: real('share_ratio').notNull(),
    /** One of the two ends it: sold there, or fetched back. */
    soldDay: text('sold_day'),
    backDay: text('back_day'),
    version: version(),
  },
  (t) => [
    day(t.placedDay),
    whole(t.priceCents, 0, mostCents),
    measure(t.shareRatio, 0, 1),
    day(t.soldDay),
    day(t.backDay),
    check('one_end', sql`${t.soldDay} is null or ${t.backDay} is null`),
    whole(t.version, 1),
    uniqueIndex('placements_open').on(t.pairId).where(sql`${t.soldDay} is null and ${t.backDay} is null`),
    index('placements_outlet').on(t.outletId),
  ],
);

/** What a shop paid for pairs it sold. */
export const shopPayments = sqliteTable(
  'shop_payments',
  {
    id: id(),
    outletId: integer('outlet_id')
      .notNull()
      .references(() => outlets.id, { onDelete: 'restrict' }),
    day: text('day').notNull(),
    cents: integer('cents').notNull(),
    version: version(),
  },
  (t) => [day(t.day), whole(t.cents, 1, mostCents), whole(t.version, 1), index('shop_payments_outlet').on(t.outletId)],
);
