import { sql } from 'drizzle-orm';
import { check, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import type { OutletKind, PriceRule } from '#core/pricing/outlet.ts';
import { day, id, measure, mostCents, oneOf, version, whole, words, yesOrNo } from '#db/schema/columns.ts';

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
