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
import type { Fit, Person } from '#core/sizing/foot.ts';
import { day, id, measure, mostCents, oneOf, version, whole, words, yesOrNo } from '#db/schema/columns.ts';
import { knitters } from '#db/schema/knitters.ts';
import { outlets } from '#db/schema/pricing.ts';
import { yarnColours } from '#db/schema/shelf.ts';
import { feet, sizeBands } from '#db/schema/sizing.ts';
import { styles } from '#db/schema/styles.ts';

export const customers = sqliteTable(
  'customers',
  { id: id(), name: text('name').notNull(), contact: text('contact'), version: version() },
  (t) => [words(t.name), words(t.contact, 1000), whole(t.version, 1)],
);

export const imports = sqliteTable(
  'imports',
  {
    id: id(),
    contentHash: text('content_hash').notNull().unique(),
    fileName: text('file_name').notNull(),
    atMs: integer('at_ms').notNull(),
  },
  (t) => [words(t.contentHash), words(t.fileName, 500), whole(t.atMs, 0)],
);

/** A customer's wish. A quote is an order that is only asked; a cancelled order stays. */
export const orders = sqliteTable(
  'orders',
  {
    id: id(),
    number: integer('number').notNull().unique(),
    customerId: integer('customer_id').references(() => customers.id, { onDelete: 'restrict' }),
    outletId: integer('outlet_id')
      .notNull()
      .references(() => outlets.id, { onDelete: 'restrict' }),
    state: text('state', { enum: ['asked', 'agreed', 'cancelled'] }).notNull(),
    createdDay: text('created_day').notNull(),
    dueDay: text('due_day'),
    arriveByDay: text('arrive_by_day'),
    validUntilDay: text('valid_until_day'),
    promisedDay: text('promised_day'),
    address: text('address'),
    reference: text('reference'),
    depositCents: integer('deposit_cents'),
    /** A quote that keeps its evenings and its yarn, so that another does not promise the same. */
    holds: integer('holds', { mode: 'boolean' }).notNull().default(false),
    /** Passed on as it is; empty when nothing is posted. */
    postageCents: integer('postage_cents'),
    postDays: integer('post_days'),
    postedDay: text('posted_day'),
    cancelledDay: text('cancelled_day'),
    /** What the customer wrote, or what was agreed beside the lines. */
    remarks: text('remarks'),
    importId: integer('import_id').references(() => imports.id, { onDelete: 'restrict' }),
    version: version(),
  },
  (t) => [
    whole(t.number, 1),
    oneOf(t.state),
    day(t.createdDay),
    day(t.dueDay),
    day(t.arriveByDay),
    day(t.validUntilDay),
    day(t.promisedDay),
    words(t.address, 1000),
    words(t.reference),
    whole(t.depositCents, 0, mostCents),
    yesOrNo(t.holds),
    whole(t.postageCents, 0, mostCents),
    whole(t.postDays, 0, 365),
    day(t.postedDay),
    day(t.cancelledDay),
    words(t.remarks, 2000),
    whole(t.version, 1),
    index('orders_state').on(t.state),
    index('orders_reference').on(t.customerId, t.reference),
  ],
);

/**
 * So many pairs of one style for one foot: a size (person, system and label), a band or a measured foot, and only one
 * of the three. Without a cuff height the cuff is the style's own short one; 0 means no cuff.
 */
export const orderLines = sqliteTable(
  'order_lines',
  {
    id: id(),
    orderId: integer('order_id')
      .notNull()
      .references(() => orders.id, { onDelete: 'restrict' }),
    styleId: integer('style_id')
      .notNull()
      .references(() => styles.id, { onDelete: 'restrict' }),
    person: text('person', { enum: ['woman', 'man', 'child', 'unknown'] satisfies Person[] as [Person, ...Person[]] }),
    sizeSystem: text('size_system'),
    sizeLabel: text('size_label'),
    bandId: integer('band_id').references(() => sizeBands.id, { onDelete: 'restrict' }),
    footId: integer('foot_id').references(() => feet.id, { onDelete: 'restrict' }),
    fit: text('fit', { enum: ['snug', 'usual', 'roomy'] satisfies Fit[] as [Fit, ...Fit[]] }).notNull(),
    cuffHeightMm: real('cuff_height_mm'),
    quantity: integer('quantity').notNull(),
    agreedCents: integer('agreed_cents'),
    /** Who is to knit it; empty when whoever has time may. */
    knitterId: integer('knitter_id').references(() => knitters.id, { onDelete: 'restrict' }),
    version: version(),
  },
  (t) => [
    oneOf(t.person),
    words(t.sizeSystem),
    words(t.sizeLabel),
    check(
      'one_size',
      sql`(${t.person} is not null and ${t.sizeSystem} is not null and ${t.sizeLabel} is not null and ${t.bandId} is null and ${t.footId} is null) or (${t.person} is null and ${t.sizeSystem} is null and ${t.sizeLabel} is null and (${t.bandId} is null) <> (${t.footId} is null))`,
    ),
    oneOf(t.fit),
    measure(t.cuffHeightMm, 0, 500),
    whole(t.quantity, 1, 999),
    whole(t.agreedCents, 0, mostCents),
    whole(t.version, 1),
    index('order_lines_order').on(t.orderId),
    index('order_lines_knitter').on(t.knitterId),
  ],
);

/** The colours of a line: a row for each role and strand; strand 0 is the first. */
export const lineColours = sqliteTable(
  'line_colours',
  {
    id: id(),
    lineId: integer('line_id')
      .notNull()
      .references(() => orderLines.id, { onDelete: 'restrict' }),
    role: text('role').notNull(),
    strand: integer('strand').notNull(),
    yarnColourId: integer('yarn_colour_id')
      .notNull()
      .references(() => yarnColours.id, { onDelete: 'restrict' }),
  },
  (t) => [
    words(t.role),
    whole(t.strand, 0, 9),
    uniqueIndex('line_colours_place').on(t.lineId, t.role, t.strand),
    index('line_colours_yarn_colour').on(t.yarnColourId),
  ],
);

/** What may be added to an order, so that it need not be typed each time. */
export const extras = sqliteTable(
  'extras',
  {
    id: id(),
    name: text('name').notNull().unique(),
    cents: integer('cents').notNull(),
    minutes: integer('minutes').notNull(),
    materialCents: integer('material_cents').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    whole(t.cents, 0, mostCents),
    whole(t.minutes, 0, 10_000),
    whole(t.materialCents, 0, mostCents),
    whole(t.version, 1),
  ],
);

/** What was added to an order: its price, the work and what it is made of, as agreed that day. */
export const orderExtras = sqliteTable(
  'order_extras',
  {
    id: id(),
    orderId: integer('order_id')
      .notNull()
      .references(() => orders.id, { onDelete: 'restrict' }),
    name: text('name').notNull(),
    cents: integer('cents').notNull(),
    minutes: integer('minutes').notNull(),
    materialCents: integer('material_cents').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    whole(t.cents, 0, mostCents),
    whole(t.minutes, 0, 10_000),
    whole(t.materialCents, 0, mostCents),
    whole(t.version, 1),
    index('order_extras_order').on(t.orderId),
  ],
);

/** Money that changed hands for an order; `returned` went back to the customer. One typed wrongly is reversed, not removed. */
export const payments = sqliteTable(
  'payments',
  {
    id: id(),
    orderId: integer('order_id')
      .notNull()
      .references(() => orders.id, { onDelete: 'restrict' }),
    day: text('day').notNull(),
    kind: text('kind', { enum: ['deposit', 'balance', 'returned'] }).notNull(),
    cents: integer('cents').notNull(),
    how: text('how', { enum: ['cash', 'card', 'transfer', 'other'] }).notNull(),
    reversesId: integer('reverses_id')
      .unique()
      .references((): AnySQLiteColumn => payments.id, { onDelete: 'restrict' }),
  },
  (t) => [
    day(t.day),
    oneOf(t.kind),
    whole(t.cents, 1, mostCents),
    oneOf(t.how),
    index('payments_order').on(t.orderId),
    index('payments_day').on(t.day),
  ],
);
