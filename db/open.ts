import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Client, createClient } from '@libsql/client';
import { drizzle } from 'drizzle-orm/libsql';
import { migrate } from 'drizzle-orm/libsql/migrator';
import { AppError } from '#core/shared/app-error.ts';
import { explainFailure } from '#db/failures.ts';
import * as schema from '#db/schema/index.ts';
import { type Connection, createDoor, type Door, type Store } from '#db/store.ts';

export const defaultDatabaseUrl = 'file:.data/workshop.db';
const migrationsFolder = fileURLToPath(new URL('./migrations', import.meta.url));
// The driver waits on the thread that serves the pages: long enough for another's write, too short to be missed.
const busyMs = 2000;

/** One open workshop. It stays the same object when a saved copy is put in its place. */
export type Workshop = {
  readonly url: string;
  readonly store: Store;
  readonly close: () => Promise<void>;
};

type Inside = Connection & { readonly runAlone: Door['runAlone'] };
const insides = new WeakMap<Workshop, Inside>();

/**
 * Opens a workshop, makes its file when there is none and brings its tables up to date.
 *
 * @param url `file:...`, or a libSQL server's address
 * @throws {AppError} `newerSchema`, `readOnly`, `busy`, `diskFull`
 */
export async function openWorkshop(url: string, { waitMs = busyMs } = {}): Promise<Workshop> {
  const connection = await connect(url, waitMs);
  const { store, runAlone } = createDoor(connection);
  const workshop: Workshop = { url, store, close: () => runAlone(async () => connection.client.close()) };
  insides.set(workshop, { ...connection, runAlone });
  return workshop;
}

/** The machinery behind a workshop, for `copy.ts` alone. */
export function insideOf(workshop: Workshop): Inside {
  const inside = insides.get(workshop);
  if (!inside) throw new Error('insideOf: not a workshop that openWorkshop made');
  return inside;
}

/** The path of a `file:` address; null for a server's. */
export function filePathOf(url: string): string | null {
  if (!url.startsWith('file:')) return null;
  return url.startsWith('file://') ? fileURLToPath(url) : decodeURIComponent(url.slice('file:'.length));
}

/** Connects and brings the tables up to date; on failure nothing stays open and the file is as it was. */
export async function connect(url: string, waitMs = busyMs): Promise<Connection> {
  const path = filePathOf(url);
  let client: Client | undefined;
  try {
    if (path !== null) mkdirSync(dirname(path), { recursive: true });
    client = createClient({ url, timeout: waitMs });
    await requireKnownSchema(client);
    if (path !== null) await client.execute('pragma journal_mode = wal');
    const db = drizzle(client, { schema });
    await migrate(db, { migrationsFolder });
    await giveName(client);
    return { client, db };
  } catch (error) {
    client?.close();
    throw explainFailure(error);
  }
}

/** A name for a workshop's beginning; with the revision it names one state of one workshop. */
export function newBorn(): string {
  return randomBytes(16).toString('hex');
}

// Only when there is none: opening must not wait for somebody else's write.
async function giveName(client: Client): Promise<void> {
  const { rows } = await client.execute('select 1 from state');
  if (rows.length > 0) return;
  const sql = 'insert into state (id, born, revision) values (1, ?, 0) on conflict do nothing';
  await client.execute({ sql, args: [newBorn()] });
}

/** When the newest migration that this program knows was made. */
export function newestMigrationMs(): number {
  const journal = JSON.parse(readFileSync(`${migrationsFolder}/meta/_journal.json`, 'utf8')) as {
    entries: { when: number }[];
  };
  return Math.max(...journal.entries.map((entry) => entry.when));
}

/**
 * @throws {AppError} `newerSchema` when a later version of the program has written to the file
 */
export async function requireKnownSchema(client: Client): Promise<void> {
  const { rows } = await client.execute("select 1 from sqlite_master where name = '__drizzle_migrations'");
  if (rows.length === 0) return;
  const applied = await client.execute('select max(created_at) as newest from __drizzle_migrations');
  if (Number(applied.rows[0]?.newest ?? 0) > newestMigrationMs()) {
    throw new AppError(
      'newerSchema',
      'This workshop was last used with a newer version of the program. Nothing was changed; update the program and open it again.',
    );
  }
}
