import { and, asc, desc, eq, gt, like, sql } from 'drizzle-orm';
import { answers, changes, settings, state } from '#db/schema/workshop.ts';
import type { Reader, Tx } from '#db/store.ts';
import { insert, type RowOf, remove, update } from '#db/stores/record.ts';
import { type RowsQuery, rowsOf } from '#db/stores/rows.ts';

export type SettingRow = RowOf<typeof settings>;
export type AnswerRow = RowOf<typeof answers>;
export type ChangeRow = RowOf<typeof changes>;
export type StateRow = RowOf<typeof state>;

export const { list: listSettings } = rowsOf(settings, asc(settings.name));

/** Keeps a setting; one that is set to null is taken away, so that its default holds again. */
export async function setSetting(tx: Tx, name: string, value: unknown): Promise<void> {
  const [row] = await listSettings(tx, eq(settings.name, name));
  const valueJson = JSON.stringify(value);
  if (value === null) {
    if (row) await remove(tx, settings, row.id);
  } else if (!row) {
    await insert(tx, settings, { name, valueJson });
  } else if (row.valueJson !== valueJson) {
    await update(tx, settings, row.id, { valueJson });
  }
}

export async function findAnswer(from: Reader, problemHash: string): Promise<AnswerRow | null> {
  const { list } = rowsOf(answers);
  return (await list(from, eq(answers.problemHash, problemHash)))[0] ?? null;
}

/** Keeps what a search found, in place of what was kept for the same problem. */
export async function saveAnswer(
  tx: Tx,
  answer: {
    readonly problemHash: string;
    readonly answerJson: string;
    readonly bound: number | null;
    readonly isProven: boolean;
  },
): Promise<AnswerRow> {
  const row = await findAnswer(tx, answer.problemHash);
  return row ? await update(tx, answers, row.id, answer) : await insert(tx, answers, answer);
}

export const { list: listAnswers } = rowsOf(answers);

/** Forgets all but the answers that were added last. */
export async function forgetOldAnswers(tx: Tx, most: number): Promise<void> {
  const rows = await listAnswers(tx);
  for (const row of rows.slice(0, Math.max(0, rows.length - most))) await remove(tx, answers, row.id);
}

/** The history of one row, oldest first. */
export function listChangesOf(from: Reader, table: string, row: number): RowsQuery<ChangeRow> {
  return rowsOf(changes).list(from, and(eq(changes.table, table), eq(changes.row, row)));
}

/** A change without the rows themselves: what was done to which. */
export type ChangeMark = Pick<ChangeRow, 'atMs' | 'flow' | 'table' | 'row'> & {
  readonly isNew: boolean;
  readonly isGone: boolean;
};

/** What was changed since a flow of an area last wrote anything, oldest first; everything where none ever did. */
export async function listChangesAfter(from: Reader, area: string): Promise<ChangeMark[]> {
  const [last] = await from
    .select({ id: changes.id })
    .from(changes)
    .where(like(changes.flow, `${area}: %`))
    .orderBy(desc(changes.id))
    .limit(1);
  const { atMs, flow, table, row } = changes;
  const isNew = sql<number>`${changes.beforeJson} is null`;
  const isGone = sql<number>`${changes.afterJson} is null`;
  const marks = await from
    .select({ atMs, flow, table, row, isNew, isGone })
    .from(changes)
    .where(gt(changes.id, last?.id ?? 0))
    .orderBy(asc(changes.id));
  return marks.map((mark) => ({ ...mark, isNew: mark.isNew === 1, isGone: mark.isGone === 1 }));
}

/** The last changes of the workshop, newest first. */
export function listLastChanges(from: Reader, most: number) {
  return from.select().from(changes).orderBy(desc(changes.id)).limit(most);
}

export function listState(from: Reader): RowsQuery<StateRow> {
  return rowsOf(state).list(from);
}

/** The name of what is stored now: which workshop, and how often it was written to. */
export async function readState(from: Reader): Promise<{ born: string; revision: number }> {
  const [row] = await listState(from);
  return { born: row!.born, revision: row!.revision };
}
