import { AsyncLocalStorage } from 'node:async_hooks';
import type { Client, ResultSet } from '@libsql/client';
import { sql } from 'drizzle-orm';
import type { LibSQLDatabase } from 'drizzle-orm/libsql';
import type { BaseSQLiteDatabase } from 'drizzle-orm/sqlite-core';
import { explainFailure, isPoisoned, wasClosedUnderway } from '#db/failures.ts';
import type * as schema from '#db/schema/index.ts';
import { state } from '#db/schema/workshop.ts';

type Schema = typeof schema;
export type Database = LibSQLDatabase<Schema>;
export type Connection = { readonly client: Client; readonly db: Database };

/** What can read: the workshop as it stands, or a write under way. */
export type Reader = Pick<BaseSQLiteDatabase<'async', ResultSet, Schema>, 'select'>;
/** A reader that also reads many queries in one consistent view. */
export type BatchReader = Pick<Database, 'select' | 'batch'>;
type Changer = Pick<BaseSQLiteDatabase<'async', ResultSet, Schema>, 'insert' | 'update' | 'delete'>;

/** A write under way. Rows change through `insert`, `update` and `remove` of `stores/record.ts` alone. */
export type Tx = Reader & {
  readonly changer: Changer;
  readonly flow: string;
  readonly atMs: number;
};

export type Store = {
  /**
   * Runs one flow's changes as a whole: they all stay, or none. Writes wait for each other. A flow that throws, or
   * that returns a refusal (`{ ok: false, problems }`), leaves nothing behind, and the revision as it was.
   */
  readonly write: <T>(flow: string, change: (tx: Tx) => Promise<T>) => Promise<T>;
  /** The same for what no plan and no page is made of (who is signed in): the revision stays as it was. */
  readonly writeAside: <T>(flow: string, change: (tx: Tx) => Promise<T>) => Promise<T>;
  /** Reads outside any write; several queries that must agree go in one `db.batch`. */
  readonly read: <T>(query: (db: BatchReader) => Promise<T>) => Promise<T>;
};

export type Door = {
  readonly store: Store;
  /** Runs work on the connection itself between two writes. */
  readonly runAlone: <T>(work: () => Promise<T>) => Promise<T>;
};

/** Carries a refusal out of a transaction, so that it is undone. */
class Refused extends Error {
  readonly value: unknown;
  constructor(value: unknown) {
    super('refused');
    this.value = value;
  }
}

function isRefusal(value: unknown): boolean {
  return typeof value === 'object' && value !== null && 'ok' in value && value.ok === false && 'problems' in value;
}

/**
 * The only way in for writes. The driver blocks its thread while it waits for a lock, so two overlapping writes of one
 * process would wait for each other; one queue keeps them apart.
 */
export function createDoor({ client, db }: Connection): Door {
  const writing = new AsyncLocalStorage<{ isOpen: boolean }>();
  let lastInQueue: Promise<unknown> = Promise.resolve();

  function queue<T>(work: () => Promise<T>): Promise<T> {
    const result = lastInQueue.then(work);
    lastInQueue = result.catch(() => undefined);
    return result;
  }

  function refuseInsideWrite(what: string): void {
    if (writing.getStore()?.isOpen) throw new Error(`${what} inside a write: use the tx that is there`);
  }

  // A statement that met a lock stays open in its connection and spoils what comes after it there.
  async function mend(error: unknown): Promise<void> {
    if (isPoisoned(error)) await client.reconnect();
  }

  async function runWrite<T>(flow: string, change: (tx: Tx) => Promise<T>, raises: boolean): Promise<T> {
    const here = { isOpen: true };
    let failure: unknown;
    try {
      return await db.transaction(async (raw) => {
        try {
          const select = raw.select.bind(raw) as Tx['select'];
          const value = await writing.run(here, () => change({ select, changer: raw, flow, atMs: Date.now() }));
          if (isRefusal(value)) throw new Refused(value);
          if (raises) await raw.update(state).set({ revision: sql`${state.revision} + 1` });
          return value;
        } catch (error) {
          // A failed rollback would throw in this one's place and hide it.
          failure = error;
          throw error;
        }
      });
    } catch (error) {
      const first = failure ?? error;
      if (first instanceof Refused) return first.value as T;
      await mend(first);
      throw explainFailure(first);
    } finally {
      here.isOpen = false;
    }
  }

  async function write<T>(flow: string, change: (tx: Tx) => Promise<T>): Promise<T> {
    refuseInsideWrite('store.write');
    return await queue(() => runWrite(flow, change, true));
  }

  async function writeAside<T>(flow: string, change: (tx: Tx) => Promise<T>): Promise<T> {
    refuseInsideWrite('store.writeAside');
    return await queue(() => runWrite(flow, change, false));
  }

  async function read<T>(query: (db: BatchReader) => Promise<T>): Promise<T> {
    refuseInsideWrite('store.read');
    try {
      return await query(db);
    } catch (error) {
      if (wasClosedUnderway(error) && !client.closed) return await query(db);
      // In the queue, since a reconnect would cut off a write that is under way.
      if (isPoisoned(error)) await queue(() => mend(error));
      throw explainFailure(error);
    }
  }

  async function runAlone<T>(work: () => Promise<T>): Promise<T> {
    refuseInsideWrite('runAlone');
    return await queue(work);
  }

  return { store: { write, writeAside, read }, runAlone };
}
