import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { takeTurns } from '#flows/sign-in/take-turns.ts';

/** How a passphrase was hashed: scrypt's cost, block size and lanes. */
type Way = { readonly cost: number; readonly blockSize: number; readonly lanes: number };
export type StoredHash = Way & { readonly salt: Buffer; readonly key: Buffer };

// From memory, one of the published equivalents for storing passwords with scrypt; a third of a second and 32 MB here.
const wayNow: Way = { cost: 2 ** 15, blockSize: 8, lanes: 3 };
const saltBytes = 16;
const keyBytes = 32;
// A stored text may not ask for more than this, so that a damaged one cannot eat the machine's memory.
const mostBytes = 256 * 1024 * 1024;

// Each takes 32 MB for a third of a second: many at once would leave neither for the pages.
const inTurn = takeTurns(2);

function deriveKey(text: string, salt: Buffer, { cost, blockSize, lanes }: Way): Promise<Buffer> {
  const options = { N: cost, r: blockSize, p: lanes, maxmem: 2 * mostBytes };
  return inTurn(
    () =>
      new Promise((resolve, reject) => {
        scrypt(text, salt, keyBytes, options, (error, key) => (error ? reject(error) : resolve(key)));
      }),
  );
}

/** What is stored in place of a passphrase: `scrypt$cost$block size$lanes$salt$key`. */
export async function hashPassphrase(text: string): Promise<string> {
  const salt = randomBytes(saltBytes);
  const key = await deriveKey(text, salt, wayNow);
  const { cost, blockSize, lanes } = wayNow;
  return ['scrypt', cost, blockSize, lanes, salt.toString('base64url'), key.toString('base64url')].join('$');
}

/** The parts of a stored text; null when it is not one of ours. */
export function readStoredHash(stored: string): StoredHash | null {
  const match = /^scrypt\$(\d{1,8})\$(\d{1,3})\$(\d{1,2})\$([\w-]{22})\$([\w-]{43})$/.exec(stored);
  if (!match) return null;
  const [cost, blockSize, lanes] = match.slice(1, 4).map(Number) as [number, number, number];
  const isPowerOfTwo = cost > 1 && Number.isInteger(Math.log2(cost));
  if (!isPowerOfTwo || blockSize < 1 || lanes < 1 || 128 * cost * blockSize > mostBytes) return null;
  return {
    cost,
    blockSize,
    lanes,
    salt: Buffer.from(match[4]!, 'base64url'),
    key: Buffer.from(match[5]!, 'base64url'),
  };
}

/**
 * Whether a passphrase is the stored one. Without a stored one as much work is done, and the answer is no: how long it
 * takes does not tell whether there is one.
 */
export async function isPassphrase(text: string, stored: string | null): Promise<boolean> {
  const known = stored === null ? null : readStoredHash(stored);
  const { salt, key, ...way } = known ?? { ...wayNow, salt: randomBytes(saltBytes), key: randomBytes(keyBytes) };
  const isSame = timingSafeEqual(await deriveKey(text, salt, way), key);
  return known !== null && isSame;
}
