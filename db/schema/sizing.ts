import { sql } from 'drizzle-orm';
import { check, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import type { Person } from '#core/sizing/foot.ts';
import { id, measure, oneOf, version, whole, words } from '#db/schema/columns.ts';
import { customers } from '#db/schema/orders.ts';

const people = ['woman', 'man', 'child', 'unknown'] satisfies Person[] as [Person, ...Person[]];

/** A band of foot lengths under one name (36/37, S). */
export const sizeBands = sqliteTable(
  'size_bands',
  {
    id: id(),
    name: text('name').notNull(),
    person: text('person', { enum: people }),
    fromMm: real('from_mm').notNull(),
    toMm: real('to_mm').notNull(),
    rank: integer('rank').notNull(),
    version: version(),
  },
  (t) => [
    words(t.name),
    oneOf(t.person),
    measure(t.fromMm, 50, 400),
    measure(t.toMm, 50, 400),
    check('from_before_to', sql`${t.fromMm} <= ${t.toMm}`),
    whole(t.rank, 0),
    whole(t.version, 1),
  ],
);

/** A pair of measured feet. Girths that were not measured are empty. */
export const feet = sqliteTable(
  'feet',
  {
    id: id(),
    customerId: integer('customer_id').references(() => customers.id, { onDelete: 'restrict' }),
    name: text('name'),
    person: text('person', { enum: people }).notNull(),
    leftLengthMm: real('left_length_mm').notNull(),
    rightLengthMm: real('right_length_mm').notNull(),
    leftBallGirthMm: real('left_ball_girth_mm'),
    rightBallGirthMm: real('right_ball_girth_mm'),
    leftHeelAnkleGirthMm: real('left_heel_ankle_girth_mm'),
    rightHeelAnkleGirthMm: real('right_heel_ankle_girth_mm'),
    version: version(),
  },
  (t) => [
    words(t.name),
    oneOf(t.person),
    measure(t.leftLengthMm, 50, 400),
    measure(t.rightLengthMm, 50, 400),
    measure(t.leftBallGirthMm, 50, 600),
    measure(t.rightBallGirthMm, 50, 600),
    measure(t.leftHeelAnkleGirthMm, 50, 800),
    measure(t.rightHeelAnkleGirthMm, 50, 800),
    whole(t.version, 1),
  ],
);
