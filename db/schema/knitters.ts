import { sql } from 'drizzle-orm';
import { check, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import type { Tightness } from '#core/gauge/hand.ts';
import type { Rates } from '#core/timing/knitter.ts';
import { above0, day, id, oneOf, version, whole, words, yesOrNo } from '#db/schema/columns.ts';

export const knitters = sqliteTable(
  'knitters',
  {
    id: id(),
    name: text('name').notNull().unique(),
    hand: text('hand', { enum: ['loose', 'usual', 'tight'] satisfies Tightness[] as [Tightness, ...Tightness[]] })
      .notNull()
      .default('usual'),
    dailyCapMin: integer('daily_cap_min').notNull().default(240),
    /** "Two pairs a month" in place of hours. */
    pairsAMonth: real('pairs_a_month'),
    lastDay: text('last_day'),
    words: text('words', { enum: ['british', 'american'] })
      .notNull()
      .default('british'),
    isActive: integer('active', { mode: 'boolean' }).notNull().default(true),
    version: version(),
  },
  (t) => [
    words(t.name),
    oneOf(t.hand),
    whole(t.dailyCapMin, 0, 1440),
    above0(t.pairsAMonth, 1000),
    day(t.lastDay),
    oneOf(t.words),
    yesOrNo(t.isActive),
    whole(t.version, 1),
  ],
);

const operations = [
  'stitchesPerMin',
  'castOnPerMin',
  'twoTogetherPerMin',
  'bindOffPerMin',
  'turnMin',
  'seamMinPer10Cm',
  'endMin',
  'colourChangeMin',
  'drawUpMin',
  'setUpMin',
] satisfies (keyof Rates)[] as [keyof Rates, ...(keyof Rates)[]];

/** A knitter's own rate, in the unit that the operation's name carries; operations without a row are as usual. */
export const knitterRates = sqliteTable(
  'knitter_rates',
  {
    id: id(),
    knitterId: integer('knitter_id')
      .notNull()
      .references(() => knitters.id, { onDelete: 'restrict' }),
    operation: text('operation', { enum: operations }).notNull(),
    value: real('value').notNull(),
  },
  (t) => [oneOf(t.operation), above0(t.value, 1000), uniqueIndex('knitter_rates_once').on(t.knitterId, t.operation)],
);

/** Evening minutes by weekday, Monday 1 to Sunday 7; a weekday without a row has none. */
export const knitterHours = sqliteTable(
  'knitter_hours',
  {
    id: id(),
    knitterId: integer('knitter_id')
      .notNull()
      .references(() => knitters.id, { onDelete: 'restrict' }),
    weekday: integer('weekday').notNull(),
    minutes: integer('minutes').notNull(),
  },
  (t) => [
    whole(t.weekday, 1, 7),
    whole(t.minutes, 0, 1440),
    uniqueIndex('knitter_hours_once').on(t.knitterId, t.weekday),
  ],
);

/** Days without knitting, both ends included; without a knitter they are everybody's. */
export const daysOff = sqliteTable(
  'days_off',
  {
    id: id(),
    knitterId: integer('knitter_id').references(() => knitters.id, { onDelete: 'restrict' }),
    fromDay: text('from_day').notNull(),
    toDay: text('to_day').notNull(),
    version: version(),
  },
  (t) => [
    day(t.fromDay),
    day(t.toDay),
    check('from_before_to', sql`${t.fromDay} <= ${t.toDay}`),
    whole(t.version, 1),
    index('days_off_knitter').on(t.knitterId),
  ],
);
