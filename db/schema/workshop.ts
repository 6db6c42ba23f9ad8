import { sql } from 'drizzle-orm';
import { check, index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { id, json, whole, words, yesOrNo } from '#db/schema/columns.ts';

/** Settings that differ from their default, or were set on purpose. Names, ranges and defaults live in the core. */
export const settings = sqliteTable(
  'settings',
  { id: id(), name: text('name').notNull().unique(), valueJson: text('value_json').notNull() },
  (t) => [words(t.name), json(t.valueJson)],
);

/** What a search found, kept by its problem, so that the plan is the same on every run. */
export const answers = sqliteTable(
  'answers',
  {
    id: id(),
    problemHash: text('problem_hash').notNull().unique(),
    answerJson: text('answer_json').notNull(),
    bound: real('bound'),
    isProven: integer('proven', { mode: 'boolean' }).notNull(),
  },
  (t) => [words(t.problemHash), json(t.answerJson), yesOrNo(t.isProven)],
);

/** Every change of every row, before and after. */
export const changes = sqliteTable(
  'changes',
  {
    id: id(),
    atMs: integer('at_ms').notNull(),
    who: text('who'),
    flow: text('flow').notNull(),
    table: text('table').notNull(),
    row: integer('row').notNull(),
    beforeJson: text('before_json'),
    afterJson: text('after_json'),
  },
  (t) => [
    whole(t.atMs, 0),
    words(t.flow),
    words(t.table),
    whole(t.row, 1),
    json(t.beforeJson),
    json(t.afterJson),
    check('before_or_after', sql`${t.beforeJson} is not null or ${t.afterJson} is not null`),
    index('changes_row').on(t.table, t.row),
  ],
);

/** One row: which workshop this is, and how often it has been written to. */
export const state = sqliteTable(
  'state',
  { id: integer('id').primaryKey(), born: text('born').notNull(), revision: integer('revision').notNull() },
  (t) => [check('only_one', sql`${t.id} = 1`), words(t.born), whole(t.revision, 0)],
);
