import { sql } from 'drizzle-orm';
import { check, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { day, id, measure, mostCents, mostMg, oneOf, version, whole, words } from '#db/schema/columns.ts';
import { yarnColours } from '#db/schema/shelf.ts';

export const suppliers = sqliteTable(
  'suppliers',
  {
    id: id(),
    name: text('name').notNull().unique(),
    shippingCents: integer('shipping_cents').notNull(),
    freeFromCents: integer('free_from_cents'),
    minimumCents: integer('minimum_cents').notNull(),
    deliveryDays: integer('delivery_days').notNull(),
    rank: integer('rank').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    whole(t.shippingCents, 0, mostCents),
    whole(t.freeFromCents, 0, mostCents),
    whole(t.minimumCents, 0, mostCents),
    whole(t.deliveryDays, 0, 365),
    whole(t.rank, 0),
    whole(t.version, 1),
  ],
);

/** A pack a supplier sells of one colour. */
export const offers = sqliteTable(
  'offers',
  {
    id: id(),
    supplierId: integer('supplier_id')
      .notNull()
      .references(() => suppliers.id, { onDelete: 'restrict' }),
    yarnColourId: integer('yarn_colour_id')
      .notNull()
      .references(() => yarnColours.id, { onDelete: 'restrict' }),
    ballMg: integer('ball_mg').notNull(),
    ballsPerPack: integer('balls_per_pack').notNull(),
    priceCents: integer('price_cents').notNull(),
    stockPacks: integer('stock_packs'),
    version: version(),
  },
  (t) => [
    whole(t.ballMg, 1, mostMg),
    whole(t.ballsPerPack, 1, 1000),
    whole(t.priceCents, 0, mostCents),
    whole(t.stockPacks, 0, 1_000_000),
    whole(t.version, 1),
    uniqueIndex('offers_pack').on(t.supplierId, t.yarnColourId, t.ballMg, t.ballsPerPack),
    index('offers_yarn_colour').on(t.yarnColourId),
  ],
);

/** From so many packs of one offer on, each costs so much. */
export const offerBreaks = sqliteTable(
  'offer_breaks',
  {
    id: id(),
    offerId: integer('offer_id')
      .notNull()
      .references(() => offers.id, { onDelete: 'restrict' }),
    fromPacks: integer('from_packs').notNull(),
    priceCents: integer('price_cents').notNull(),
    version: version(),
  },
  (t) => [
    whole(t.fromPacks, 2, 100_000),
    whole(t.priceCents, 0, mostCents),
    whole(t.version, 1),
    uniqueIndex('offer_breaks_once').on(t.offerId, t.fromPacks),
  ],
);

/** From a basket of so much on, a share of it is taken off. */
export const supplierBreaks = sqliteTable(
  'supplier_breaks',
  {
    id: id(),
    supplierId: integer('supplier_id')
      .notNull()
      .references(() => suppliers.id, { onDelete: 'restrict' }),
    fromCents: integer('from_cents').notNull(),
    offRatio: real('off_ratio').notNull(),
    version: version(),
  },
  (t) => [
    whole(t.fromCents, 1, mostCents),
    measure(t.offRatio, 0, 0.9),
    whole(t.version, 1),
    uniqueIndex('supplier_breaks_once').on(t.supplierId, t.fromCents),
  ],
);

export const purchases = sqliteTable(
  'purchases',
  {
    id: id(),
    supplierId: integer('supplier_id')
      .notNull()
      .references(() => suppliers.id, { onDelete: 'restrict' }),
    state: text('state', { enum: ['ordered', 'arrived', 'cancelled'] }).notNull(),
    orderedDay: text('ordered_day').notNull(),
    expectedDay: text('expected_day').notNull(),
    shippingCents: integer('shipping_cents').notNull(),
    /** What the shop took off the goods as a whole. */
    offCents: integer('off_cents').notNull().default(0),
    version: version(),
  },
  (t) => [
    oneOf(t.state),
    day(t.orderedDay),
    day(t.expectedDay),
    check('expected_after_ordered', sql`${t.expectedDay} >= ${t.orderedDay}`),
    whole(t.shippingCents, 0, mostCents),
    whole(t.offCents, 0, mostCents),
    whole(t.version, 1),
    index('purchases_state').on(t.state),
  ],
);

export const purchaseLines = sqliteTable(
  'purchase_lines',
  {
    id: id(),
    purchaseId: integer('purchase_id')
      .notNull()
      .references(() => purchases.id, { onDelete: 'restrict' }),
    offerId: integer('offer_id')
      .notNull()
      .references(() => offers.id, { onDelete: 'restrict' }),
    /** The pack as it was ordered: what the shop sells under the offer may change later. */
    ballMg: integer('ball_mg').notNull(),
    ballsPerPack: integer('balls_per_pack').notNull(),
    packs: integer('packs').notNull(),
    arrivedPacks: integer('arrived_packs').notNull().default(0),
    /** What one pack cost that day. */
    priceCents: integer('price_cents').notNull(),
    version: version(),
  },
  (t) => [
    whole(t.ballMg, 1, mostMg),
    whole(t.ballsPerPack, 1, 1000),
    whole(t.packs, 1, 100_000),
    whole(t.arrivedPacks, 0, 100_000),
    check('arrived_of_packs', sql`${t.arrivedPacks} <= ${t.packs}`),
    whole(t.priceCents, 0, mostCents),
    whole(t.version, 1),
    index('purchase_lines_purchase').on(t.purchaseId),
    index('purchase_lines_offer').on(t.offerId),
  ],
);
