import { sql } from 'drizzle-orm';
import { check, integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { id, whole, words } from '#db/schema/columns.ts';

/** At most one row: what the workshop's passphrase hashes to, with how it was hashed. */
export const passphrase = sqliteTable(
  'passphrase',
  { id: integer('id').primaryKey(), hash: text('hash').notNull() },
  (t) => [check('only_one', sql`${t.id} = 1`), words(t.hash)],
);

/** Who is signed in: the SHA-256 of the word in their cookie, never the word itself. */
export const sessions = sqliteTable(
  'sessions',
  {
    id: id(),
    tokenHash: text('token_hash').notNull().unique(),
    bornMs: integer('born_ms').notNull(),
    lastSeenMs: integer('last_seen_ms').notNull(),
    expiresMs: integer('expires_ms').notNull(),
  },
  (t) => [words(t.tokenHash), whole(t.bornMs, 0), whole(t.lastSeenMs, 0), whole(t.expiresMs, 0)],
);
