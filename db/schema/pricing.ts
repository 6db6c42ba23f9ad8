import { sql } from 'drizzle-orm';
import { check, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import type { OutletKind, PriceRule } from '#core/pricing/outlet.ts';
import { day, id, measure, mostCents, oneOf, version, whole, words, yesOrNo } from '#db/schema/columns.ts';
import { styles } from '#db/schema/styles.ts';

/** A way out for pairs: a fair, orders, a shop, gifts. A closed one takes no new orders and keeps its old ones. */
export const outlets = sqliteTable(
  'outlets',
  {
    id: id(),
    name: text('name').notNull().unique(),
    kind: text('kind', {
      enum: ['fair', 'order', 'shop', 'gift'] satisfies OutletKind[] as [OutletKind, ...OutletKind[]],
    }).notNull(),
    rank: integer('rank').notNull(),
    priceRule: text('price_rule', {
      enum: ['margin', 'markup', 'fixed'] satisfies PriceRule[] as [PriceRule, ...PriceRule[]],
    }).notNull(),
    priceRatio: real('price_ratio').notNull(),
    fixedPriceCents: integer('fixed_price_cents'),
    feeRatio: real('fee_ratio').notNull().default(0),
    feeFixedCents: integer('fee_fixed_cents').notNull().default(0),
    taxRatio: real('tax_ratio').notNull().default(0),
    isTaxIncluded: integer('tax_included', { mode: 'boolean' }).notNull().default(true),
    rounding: text('rounding', { enum: ['line', 'invoice'] })
      .notNull()
      .default('line'),
    endingCents: integer('ending_cents'),
    depositRatio: real('deposit_ratio').notNull().default(0),
    /** A second is sold for so much less. */
    secondOffRatio: real('second_off_ratio').notNull().default(0.3),
    /** How a shop deals: it buys, or it shows and pays for what was sold. Empty where we sell ourselves. */
    terms: text('terms', { enum: ['wholesale', 'sale or return'] }),
    /** The least pairs of a wholesale order. */
    leastPairs: integer('least_pairs'),
    /** What the shop keeps of its price, on sale or return. */
    shopShareRatio: real('shop_share_ratio').notNull().default(0),
    isClosed: integer('closed', { mode: 'boolean' }).notNull().default(false),
    version: version(),
  },
  (t) => [
    words(t.name),
    oneOf(t.kind),
    whole(t.rank, 0),
    oneOf(t.priceRule),
    measure(t.priceRatio, 0, 100),
    check('margin_below_1', sql`${t.priceRule} <> 'margin' or ${t.priceRatio} < 1`),
    whole(t.fixedPriceCents, 0, mostCents),
    check('fixed_has_price', sql`(${t.priceRule} = 'fixed') = (${t.fixedPriceCents} is not null)`),
    measure(t.feeRatio, 0, 1),
    check('fee_below_1', sql`${t.feeRatio} < 1`),
    whole(t.feeFixedCents, 0, mostCents),
    measure(t.taxRatio, 0, 1),
    yesOrNo(t.isTaxIncluded),
    oneOf(t.rounding),
    whole(t.endingCents, 0, 99),
    measure(t.depositRatio, 0, 1),
    measure(t.secondOffRatio, 0, 1),
    oneOf(t.terms),
    whole(t.leastPairs, 1, 10_000),
    measure(t.shopShareRatio, 0, 1),
    yesOrNo(t.isClosed),
    whole(t.version, 1),
  ],
);

/** Running costs: what was paid that belongs to no pair. */
export const expenses = sqliteTable(
  'expenses',
  {
    id: id(),
    day: text('day').notNull(),
    kind: text('kind').notNull(),
    cents: integer('cents').notNull(),
    version: version(),
  },
  (t) => [day(t.day), words(t.kind), whole(t.cents, 0, mostCents), whole(t.version, 1)],
);

/** What a parcel costs to send: up to a weight, to a part of the world, and the days it takes. */
export const postageBands = sqliteTable(
  'postage_bands',
  {
    id: id(),
    name: text('name').notNull(),
    /** Not whole: eight ounces are 226.8 g. */
    upToG: real('up_to_g').notNull(),
    cents: integer('cents').notNull(),
    days: integer('days').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    measure(t.upToG, 1, 100_000),
    whole(t.cents, 0, mostCents),
    whole(t.days, 0, 365),
    whole(t.version, 1),
    uniqueIndex('postage_bands_once').on(t.name, t.upToG),
  ],
);

/** One price for a run of sizes of a style at an outlet. */
export const priceGroups = sqliteTable(
  'price_groups',
  {
    id: id(),
    outletId: integer('outlet_id')
      .notNull()
      .references(() => outlets.id, { onDelete: 'restrict' }),
    styleId: integer('style_id')
      .notNull()
      .references(() => styles.id, { onDelete: 'restrict' }),
    name: text('name').notNull(),
    fromMm: real('from_mm').notNull(),
    toMm: real('to_mm').notNull(),
    priceCents: integer('price_cents').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    measure(t.fromMm, 50, 400),
    measure(t.toMm, 50, 400),
    check('to_after_from', sql`${t.toMm} >= ${t.fromMm}`),
    whole(t.priceCents, 0, mostCents),
    whole(t.version, 1),
    index('price_groups_outlet').on(t.outletId),
  ],
);

/** What others ask: a note, no part of any price. */
export const pricesSeen = sqliteTable(
  'prices_seen',
  {
    id: id(),
    day: text('day').notNull(),
    place: text('place').notNull(),
    what: text('what').notNull(),
    cents: integer('cents').notNull(),
    version: version(),
  },
  (t) => [day(t.day), words(t.place), words(t.what), whole(t.cents, 0, mostCents), whole(t.version, 1)],
);
