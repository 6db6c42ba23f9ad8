import { and, eq, getTableColumns, getTableName, type InferInsertModel, type InferSelectModel, sql } from 'drizzle-orm';
import type { AnySQLiteColumn, SQLiteTable } from 'drizzle-orm/sqlite-core';
import { AppError } from '#core/shared/app-error.ts';
import { passphrase, sessions } from '#db/schema/sign-in.ts';
import { changes } from '#db/schema/workshop.ts';
import type { Tx } from '#db/store.ts';

/** A table whose rows change here: all but `changes` and `state` themselves. */
export type RecordTable = SQLiteTable & { readonly id: AnySQLiteColumn };
export type RowOf<T extends RecordTable> = InferSelectModel<T>;
export type NewRowOf<T extends RecordTable> = Omit<InferInsertModel<T>, 'id' | 'version'>;

type AnyRow = Record<string, unknown> & { readonly id: number };

/** Who signs in and out is nobody's history. */
const unremembered: readonly RecordTable[] = [sessions];

/** A row as the history keeps it: that the passphrase was changed, and not what it hashes to. */
function rowText(table: RecordTable, row: AnyRow | undefined): string | null {
  if (!row) return null;
  return JSON.stringify((table as RecordTable) === passphrase ? { ...row, hash: undefined } : row);
}

// SQLite takes 32 766 values in one statement.
const mostValues = 30_000;

async function remember(tx: Tx, table: RecordTable, pairs: readonly { before?: AnyRow; after?: AnyRow }[]) {
  if (pairs.length === 0 || unremembered.includes(table)) return;
  await tx.changer.insert(changes).values(
    pairs.map(({ before, after }) => ({
      atMs: tx.atMs,
      who: null,
      flow: tx.flow,
      table: getTableName(table),
      row: (before ?? after)!.id,
      beforeJson: rowText(table, before),
      afterJson: rowText(table, after),
    })),
  );
}

async function findRow(tx: Tx, table: RecordTable, id: number): Promise<AnyRow> {
  const [row] = (await tx.select().from(table).where(eq(table.id, id))) as AnyRow[];
  if (!row) throw new AppError('notFound', 'This is no longer there. Somebody may have removed it.');
  return row;
}

function requireVersion(current: AnyRow, version: number | undefined): void {
  if (version === undefined || current.version === version) return;
  throw new AppError(
    'conflict',
    'Somebody else changed this while you had it open. Look at their change, then save yours again.',
    { current },
  );
}

/** Adds rows in the order given and returns them with their ids. */
export async function insertAll<T extends RecordTable>(
  tx: Tx,
  table: T,
  rows: readonly NewRowOf<T>[],
): Promise<RowOf<T>[]> {
  const columns = Math.max(Object.keys(getTableColumns(table)).length, Object.keys(getTableColumns(changes)).length);
  const size = Math.floor(mostValues / columns);
  const added: AnyRow[] = [];
  for (let from = 0; from < rows.length; from += size) {
    const values = rows.slice(from, from + size) as InferInsertModel<T>[];
    const returned = (await tx.changer.insert(table).values(values).returning()) as unknown as AnyRow[];
    // Ids rise in the order of the values; the order of what is returned is nobody's promise.
    returned.sort((a, b) => a.id - b.id);
    await remember(
      tx,
      table,
      returned.map((after) => ({ after })),
    );
    for (const row of returned) added.push(row);
  }
  return added as RowOf<T>[];
}

/** Adds a row and returns it with its id. */
export async function insert<T extends RecordTable>(tx: Tx, table: T, row: NewRowOf<T>): Promise<RowOf<T>> {
  const [added] = await insertAll(tx, table, [row]);
  return added!;
}

/**
 * Changes the columns given and raises the row's version.
 *
 * @param version the version the change was made against; when the row has moved on, a `conflict` that carries it
 * @throws {AppError} `notFound`, or `conflict` with the other's row in `current`
 */
export async function update<T extends RecordTable>(
  tx: Tx,
  table: T,
  id: number,
  values: Partial<NewRowOf<T>>,
  version?: number,
): Promise<RowOf<T>> {
  const before = await findRow(tx, table, id);
  requireVersion(before, version);
  const isVersioned = 'version' in before;
  const set = { ...values, ...(isVersioned ? { version: (before.version as number) + 1 } : {}) };
  if (Object.keys(set).length === 0) return before as RowOf<T>;
  const versionColumn = (getTableColumns(table) as Record<string, AnySQLiteColumn>).version;
  const [after] = (await tx.changer
    .update(table)
    .set(set as Record<string, unknown>)
    .where(and(eq(table.id, id), isVersioned && versionColumn ? eq(versionColumn, before.version) : sql`true`))
    .returning()) as unknown as AnyRow[];
  await remember(tx, table, [{ before, after: after! }]);
  return after as RowOf<T>;
}

/**
 * Takes a row away and returns it as it was; it stays in the history.
 *
 * @throws {AppError} `notFound`, or `conflict` when the version moved on or other rows still need it
 */
export async function remove<T extends RecordTable>(tx: Tx, table: T, id: number, version?: number): Promise<RowOf<T>> {
  const before = await findRow(tx, table, id);
  requireVersion(before, version);
  await tx.changer.delete(table).where(eq(table.id, id));
  await remember(tx, table, [{ before }]);
  return before as RowOf<T>;
}
