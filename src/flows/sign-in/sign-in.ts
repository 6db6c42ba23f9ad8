import { randomBytes } from 'node:crypto';
import type { Workshop } from '#db/open.ts';
import { createSession, readPassphraseHash, removeExpired } from '#db/stores/sign-in.ts';
import { isPassphrase } from '#flows/sign-in/hash-passphrase.ts';
import { plainPassphrase } from '#flows/sign-in/read-passphrase.ts';
import { hashToken, sessionMs } from '#flows/sign-in/session.ts';

const tokenBytes = 32;

/** Begins a session for whoever knows the passphrase: the word for their cookie; null when it is not the passphrase. */
export async function signIn({ store }: Workshop, typed: string, now: Date): Promise<string | null> {
  const stored = await store.read((db) => readPassphraseHash(db));
  if (!(await isPassphrase(plainPassphrase(typed), stored))) return null;
  const token = randomBytes(tokenBytes).toString('base64url');
  const nowMs = now.getTime();
  return await store.writeAside('sign in: begin a session', async (tx) => {
    // Changed while this one was being compared: it is the old one then.
    if ((await readPassphraseHash(tx)) !== stored) return null;
    await removeExpired(tx, nowMs);
    const expiresMs = nowMs + sessionMs;
    await createSession(tx, { tokenHash: hashToken(token), bornMs: nowMs, lastSeenMs: nowMs, expiresMs });
    return token;
  });
}
