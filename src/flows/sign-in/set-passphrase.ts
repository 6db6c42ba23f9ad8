import type { Workshop } from '#db/open.ts';
import { readPassphraseHash, setPassphraseHash } from '#db/stores/sign-in.ts';
import { hashPassphrase, isPassphrase } from '#flows/sign-in/hash-passphrase.ts';
import { plainPassphrase } from '#flows/sign-in/read-passphrase.ts';

/** Whether the workshop has a passphrase. */
export async function hasPassphrase({ store }: Workshop): Promise<boolean> {
  return (await store.read((db) => readPassphraseHash(db))) !== null;
}

/** Whether what was typed is the workshop's passphrase. */
export async function matchesPassphrase({ store }: Workshop, typed: string): Promise<boolean> {
  const stored = await store.read((db) => readPassphraseHash(db));
  return isPassphrase(plainPassphrase(typed), stored);
}

/**
 * Sets, changes or takes away (null) the workshop's passphrase. Everybody who is signed in is signed out.
 *
 * @param passphrase as `readPassphrase` gave it
 */
export async function setPassphrase({ store }: Workshop, passphrase: string | null): Promise<void> {
  const hash = passphrase === null ? null : await hashPassphrase(passphrase);
  const flow = `settings: ${hash === null ? 'take the passphrase away' : 'set a passphrase'}`;
  await store.write(flow, (tx) => setPassphraseHash(tx, hash));
}
