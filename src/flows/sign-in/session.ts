import { createHash } from 'node:crypto';
import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import { endSession, findSession, listOpenSessions, noteSeen } from '#db/stores/sign-in.ts';

/** A session lasts 30 days from sign-in, used or not. */
export const sessionMs = 30 * 24 * 60 * 60 * 1000;
const seenEveryMs = 60 * 60 * 1000;

/** What is stored of the word in a cookie: whoever reads the file cannot sign in with it. */
export function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('base64url');
}

function passOver(error: unknown): void {
  if (!(error instanceof AppError)) throw error;
}

/** Whether the word of a cookie belongs to a session that has not run out. */
export async function isSignedIn({ store }: Workshop, token: string, now: Date): Promise<boolean> {
  const nowMs = now.getTime();
  const tokenHash = hashToken(token);
  const session = await store.read((db) => findSession(db, tokenHash));
  if (!session || session.expiresMs <= nowMs) return false;
  if (nowMs - session.lastSeenMs >= seenEveryMs) {
    // A full disk or a busy file is no reason not to show a page.
    await store.writeAside('sign in: note a visit', (tx) => noteSeen(tx, tokenHash, nowMs)).catch(passOver);
  }
  return true;
}

/** Ends the session of a cookie. */
export async function signOut({ store }: Workshop, token: string): Promise<void> {
  await store.writeAside('sign in: end a session', (tx) => endSession(tx, hashToken(token)));
}

/** On how many browsers somebody is signed in. */
export async function countSessions({ store }: Workshop, now: Date): Promise<number> {
  return (await store.read((db) => listOpenSessions(db, now.getTime()))).length;
}
