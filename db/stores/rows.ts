import { eq, type QueryPromise, type SQL } from 'drizzle-orm';
import type { RunnableQuery } from 'drizzle-orm/runnable-query';
import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import type { Reader, Tx } from '#db/store.ts';
import { insert, insertAll, type NewRowOf, type RecordTable, type RowOf, remove, update } from '#db/stores/record.ts';

/** A query for rows: await it, or hand it to one `db.batch` with others for a consistent view. */
export type RowsQuery<R> = QueryPromise<R[]> & RunnableQuery<R[], 'sqlite'>;

/** The plain six of a table. `list` is in the order given, ties by id; `find` gives null when there is no such row. */
export type Rows<T extends RecordTable> = {
  readonly list: (from: Reader, where?: SQL) => RowsQuery<RowOf<T>>;
  readonly find: (from: Reader, id: number) => Promise<RowOf<T> | null>;
  readonly create: (tx: Tx, row: NewRowOf<T>) => Promise<RowOf<T>>;
  /** Many rows in few statements, in the order given. */
  readonly createAll: (tx: Tx, rows: readonly NewRowOf<T>[]) => Promise<RowOf<T>[]>;
  readonly change: (tx: Tx, id: number, values: Partial<NewRowOf<T>>, version?: number) => Promise<RowOf<T>>;
  readonly remove: (tx: Tx, id: number, version?: number) => Promise<RowOf<T>>;
};

export function rowsOf<T extends RecordTable>(table: T, ...order: readonly SQL[]): Rows<T> {
  const list = (from: Reader, where?: SQL) =>
    from
      .select()
      .from(table as SQLiteTable)
      .where(where)
      .orderBy(...order, table.id) as unknown as RowsQuery<RowOf<T>>;
  return {
    list,
    find: async (from, id) => (await list(from, eq(table.id, id)))[0] ?? null,
    create: (tx, row) => insert(tx, table, row),
    createAll: (tx, rows) => insertAll(tx, table, rows),
    change: (tx, id, values, version) => update(tx, table, id, values, version),
    remove: (tx, id, version) => remove(tx, table, id, version),
  };
}
