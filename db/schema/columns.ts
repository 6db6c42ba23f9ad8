import { type SQL, sql } from 'drizzle-orm';
import { type AnySQLiteColumn, check, integer } from 'drizzle-orm/sqlite-core';

/** Row numbers are never used twice, so that the history of a removed row is never taken for another's. */
export const id = () => integer('id').primaryKey({ autoIncrement: true });

/** Raised by every change; a form that was filled in against an older number is told what changed. */
export const version = () => integer('version').notNull().default(1);

const nothing = (column: AnySQLiteColumn): SQL => (column.notNull ? sql.raw('') : sql`${column} is null or `);
const number = (value: number): SQL => sql.raw(String(value));

/**
 * Whole numbers. The driver binds every number as a float, and an INTEGER column keeps 1.5 as it is:
 * only the type check refuses it.
 */
export function whole(column: AnySQLiteColumn, least: number, most = Number.MAX_SAFE_INTEGER) {
  return check(
    `${column.name}_whole`,
    sql`${nothing(column)}(typeof(${column}) = 'integer' and ${column} between ${number(least)} and ${number(most)})`,
  );
}

/** Measures and ratios: floats from `least` to `most`, both included. */
export function measure(column: AnySQLiteColumn, least: number, most: number) {
  return check(
    `${column.name}_measure`,
    sql`${nothing(column)}(typeof(${column}) = 'real' and ${column} between ${number(least)} and ${number(most)})`,
  );
}

/** Floats above 0, to `most` included. */
export function above0(column: AnySQLiteColumn, most: number) {
  return check(
    `${column.name}_above_0`,
    sql`${nothing(column)}(typeof(${column}) = 'real' and ${column} > 0 and ${column} <= ${number(most)})`,
  );
}

export function yesOrNo(column: AnySQLiteColumn) {
  return check(`${column.name}_yes_or_no`, sql`${column} in (0, 1)`);
}

/** A day of the calendar as YYYY-MM-DD; `date()` moves 30 February to March, so that it no longer equals itself. */
export function day(column: AnySQLiteColumn) {
  return check(
    `${column.name}_day`,
    sql`${nothing(column)}(${column} glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date(${column}) is ${column})`,
  );
}

/** One of the words the column was declared with. */
export function oneOf(column: AnySQLiteColumn) {
  const words = (column.enumValues ?? []).map((word) => `'${word}'`).join(', ');
  return check(`${column.name}_one_of`, sql`${nothing(column)}${column} in (${sql.raw(words)})`);
}

/** Text that says something, and not a book. */
export function words(column: AnySQLiteColumn, most = 200) {
  return check(
    `${column.name}_words`,
    sql`${nothing(column)}(typeof(${column}) = 'text' and length(trim(${column})) > 0 and length(${column}) <= ${number(most)})`,
  );
}

export function json(column: AnySQLiteColumn) {
  return check(`${column.name}_json`, sql`${nothing(column)}json_valid(${column})`);
}

export const mostCents = 100_000_000_000;
export const mostMg = 1_000_000_000;
