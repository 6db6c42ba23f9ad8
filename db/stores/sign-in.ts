import { desc, eq, gt, lte } from 'drizzle-orm';
import { passphrase, sessions } from '#db/schema/sign-in.ts';
import type { Reader, Tx } from '#db/store.ts';
import { insert, type RowOf, remove, update } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type SessionRow = RowOf<typeof sessions>;

const { list: listPassphrases } = rowsOf(passphrase);
const { list: listSessions } = rowsOf(sessions, desc(sessions.lastSeenMs));

/** What the workshop's passphrase hashes to; null while there is none. */
export async function readPassphraseHash(from: Reader): Promise<string | null> {
  return (await listPassphrases(from))[0]?.hash ?? null;
}

/** Keeps another passphrase, or none, and ends every session of the one before. */
export async function setPassphraseHash(tx: Tx, hash: string | null): Promise<void> {
  const [row] = await listPassphrases(tx);
  if (hash === null) {
    if (row) await remove(tx, passphrase, row.id);
  } else if (row) await update(tx, passphrase, row.id, { hash });
  else await insert(tx, passphrase, { hash });
  await removeSessions(tx, await listSessions(tx));
}

async function removeSessions(tx: Tx, rows: readonly SessionRow[]): Promise<void> {
  for (const { id } of rows) await remove(tx, sessions, id);
}

export const createSession = (tx: Tx, row: Omit<SessionRow, 'id'>) => insert(tx, sessions, row);

/** The sessions that have not run out, last seen first. */
export const listOpenSessions = (from: Reader, nowMs: number) => listSessions(from, gt(sessions.expiresMs, nowMs));

export async function findSession(from: Reader, tokenHash: string): Promise<SessionRow | null> {
  return (await listSessions(from, eq(sessions.tokenHash, tokenHash)))[0] ?? null;
}

/** Notes that a session is in use; one that was ended meanwhile stays ended. */
export async function noteSeen(tx: Tx, tokenHash: string, lastSeenMs: number): Promise<void> {
  const row = await findSession(tx, tokenHash);
  if (row) await update(tx, sessions, row.id, { lastSeenMs });
}

/** Ends one session, if there is one. */
export async function endSession(tx: Tx, tokenHash: string): Promise<void> {
  await removeSessions(tx, await listSessions(tx, eq(sessions.tokenHash, tokenHash)));
}

/** Takes away the sessions that have run out. */
export async function removeExpired(tx: Tx, nowMs: number): Promise<void> {
  await removeSessions(tx, await listSessions(tx, lte(sessions.expiresMs, nowMs)));
}
