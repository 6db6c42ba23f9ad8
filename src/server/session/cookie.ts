import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import { sessionMs } from '#flows/sign-in/session.ts';
import type { AppEnv } from '#server/app.ts';
import { hostOf } from '#server/middleware/host.ts';

const plainName = 'toe-to-till';
/** A browser takes this name over https alone, and from this very host. */
const secureName = '__Host-toe-to-till';

// Through a proxy the host may be ours and the browser's own word for where it is the public address.
function cameByHttps(c: Context<AppEnv>, publicUrl: string | null): boolean {
  if (!publicUrl?.startsWith('https:')) return false;
  return c.req.header('origin') === publicUrl || hostOf(c) === new URL(publicUrl).host;
}

const options = { httpOnly: true, sameSite: 'Lax', path: '/' } as const;

export function readToken(c: Context<AppEnv>): string | null {
  return getCookie(c, secureName) ?? getCookie(c, plainName) ?? null;
}

/** Gives the browser its word. Secure when the browser came by the https address in PUBLIC_URL: over plain http it would be lost. */
export function giveToken(c: Context<AppEnv>, token: string, publicUrl: string | null): void {
  const secure = cameByHttps(c, publicUrl);
  setCookie(c, secure ? secureName : plainName, token, { ...options, secure, maxAge: sessionMs / 1000 });
}

export function takeToken(c: Context<AppEnv>): void {
  deleteCookie(c, plainName, options);
  deleteCookie(c, secureName, { ...options, secure: true });
}
