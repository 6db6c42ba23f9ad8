import { scryptSync } from 'node:crypto';
import { describe, expect, it, vi } from 'vitest';
import { hashPassphrase, isPassphrase, readStoredHash } from '#flows/sign-in/hash-passphrase.ts';

const counts = vi.hoisted(() => ({ running: 0, most: 0, all: 0 }));
vi.mock('node:crypto', async (original) => {
  const crypto = await original<typeof import('node:crypto')>();
  const scrypt = (...args: Parameters<typeof crypto.scrypt>) => {
    counts.running += 1;
    counts.all += 1;
    counts.most = Math.max(counts.most, counts.running);
    const done = args[4];
    crypto.scrypt(args[0], args[1], args[2], args[3], (error, key) => {
      counts.running -= 1;
      done(error, key);
    });
  };
  return { ...crypto, scrypt };
});

const salt = Buffer.alloc(16, 7);
/** A stored text made here, with the parameters given. */
function storedWith(text: string, cost: number, blockSize: number, lanes: number): string {
  const key = scryptSync(text, salt, 32, { N: cost, r: blockSize, p: lanes, maxmem: 2 ** 28 });
  return ['scrypt', cost, blockSize, lanes, salt.toString('base64url'), key.toString('base64url')].join('$');
}

describe('hashPassphrase', () => {
  it('stores how it was hashed, takes another salt each time, and holds nothing of the passphrase', async () => {
    const [one, two] = await Promise.all([hashPassphrase('otter candle brisk'), hashPassphrase('otter candle brisk')]);
    expect(one).toMatch(/^scrypt\$32768\$8\$3\$[\w-]{22}\$[\w-]{43}$/);
    expect(one).not.toBe(two);
    expect(one).not.toContain('otter');
    expect(readStoredHash(one)).toMatchObject({ cost: 32768, blockSize: 8, lanes: 3 });
    expect(await isPassphrase('otter candle brisk', one)).toBe(true);
    expect(await isPassphrase('otter candle Brisk', one)).toBe(false);
  });

  it('never runs more than two at once', async () => {
    counts.most = 0;
    await Promise.all(['a', 'b', 'c', 'd', 'e'].map((text) => isPassphrase(text, storedWith(text, 4096, 8, 1))));
    expect(counts.most).toBe(2);
  });
});

describe('isPassphrase', () => {
  it('uses the parameters that are stored, so that old hashes go on when ours grow', async () => {
    const stored = storedWith('otter candle brisk', 1024, 4, 2);
    expect(await isPassphrase('otter candle brisk', stored)).toBe(true);
    expect(await isPassphrase('otter candle', stored)).toBe(false);
  });

  it.each([null, 'damaged'])('does the same work for %s, and says no', async (stored) => {
    const before = counts.all;
    expect(await isPassphrase('otter candle brisk', stored)).toBe(false);
    expect(counts.all).toBe(before + 1);
  });
});

describe('readStoredHash', () => {
  const tail = `${'a'.repeat(22)}$${'b'.repeat(43)}`;

  it('reads the parts', () => {
    expect(readStoredHash(`scrypt$1024$8$1$${tail}`)).toMatchObject({ cost: 1024, blockSize: 8, lanes: 1 });
  });

  it.each([
    ['another method', `bcrypt$1024$8$1$${tail}`],
    ['a cost that is no power of two', `scrypt$1000$8$1$${tail}`],
    ['a cost of 1', `scrypt$1$8$1$${tail}`],
    ['no blocks', `scrypt$1024$0$1$${tail}`],
    ['no lanes', `scrypt$1024$8$0$${tail}`],
    ['more memory than it may take: 4 GB', `scrypt$4194304$8$1$${tail}`],
    ['a salt cut short', `scrypt$1024$8$1$aaaa$${'b'.repeat(43)}`],
    ['something after it', `scrypt$1024$8$1$${tail}$`],
    ['nothing', ''],
  ])('refuses %s', (_, stored) => expect(readStoredHash(stored)).toBeNull());
});
