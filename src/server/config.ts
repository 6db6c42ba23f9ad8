import { isIP } from 'node:net';
import { z } from 'zod';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { defaultDatabaseUrl } from '#db/open.ts';

export type Config = {
  readonly host: string;
  readonly port: number;
  /** Where the workshop is reached from outside, without a path; null for this machine alone. */
  readonly publicUrl: string | null;
  readonly databaseUrl: string;
};

const loopbackHosts = ['127.0.0.1', 'localhost', '::1'];
const databaseSchemes = ['file:', 'libsql:', 'http:', 'https:'];

function isWebAddress(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const url = new URL(text);
  const isWeb = url.protocol === 'http:' || url.protocol === 'https:';
  return isWeb && url.pathname === '/' && url.search === '' && url.hash === '' && url.username === '';
}

// An empty variable counts as one that is not set.
const setting = (whenUnset: string) =>
  z
    .string()
    .default('')
    .transform((text) => text.trim() || whenUnset);

const environment = z.object({
  HOST: setting('127.0.0.1').refine((host) => host === 'localhost' || isIP(host) !== 0, {
    error:
      'HOST must be an address of this machine: 127.0.0.1 for this machine alone, 0.0.0.0 for the home network too, or one like 192.168.1.20.',
  }),
  PORT: setting('4173').refine((port) => /^\d{1,5}$/.test(port) && Number(port) >= 1 && Number(port) <= 65535, {
    error: 'PORT must be a whole number from 1 to 65535, like 4173.',
  }),
  PUBLIC_URL: setting('').refine((url) => url === '' || isWebAddress(url), {
    error: 'PUBLIC_URL must be an address without a path, like https://knitting.example.',
  }),
  DATABASE_URL: setting(defaultDatabaseUrl).refine(
    (url) => databaseSchemes.some((scheme) => url.startsWith(scheme) && url.length > scheme.length),
    { error: 'DATABASE_URL must begin with file:, libsql:, http: or https:, like file:.data/workshop.db.' },
  ),
});

/**
 * Whether others than this machine can reach the workshop: it listens beyond loopback, or something passes on to it what
 * is sent to a public address. Then it needs a passphrase.
 */
export function isReachedByOthers({ host, publicUrl }: Pick<Config, 'host' | 'publicUrl'>): boolean {
  if (!loopbackHosts.includes(host)) return true;
  return publicUrl !== null && !loopbackHosts.includes(new URL(publicUrl).hostname.replace(/^\[|\]$/g, ''));
}

/** The settings from outside, or everything that is wrong with them at once. */
export function readConfig(env: Readonly<Record<string, string | undefined>>): Result<Config> {
  const parsed = environment.safeParse(env);
  if (!parsed.success) {
    return refuse(
      ...parsed.error.issues.map(({ path, message }) => ({ code: 'config', path: path.join('.'), message })),
    );
  }
  const { HOST, PORT, PUBLIC_URL, DATABASE_URL } = parsed.data;
  return succeed({
    host: HOST,
    port: Number(PORT),
    publicUrl: PUBLIC_URL === '' ? null : new URL(PUBLIC_URL).origin,
    databaseUrl: DATABASE_URL,
  });
}
