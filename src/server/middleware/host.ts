import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';

const loopbackNames = ['localhost', '127.0.0.1', '[::1]'];

/** The host a request was sent to, name and port, in small letters. */
export function hostOf(c: Context<AppEnv>): string {
  return (c.req.header('host') ?? new URL(c.req.url).host).toLowerCase();
}

function isOwnHost(host: string, localPort: number | undefined, publicHost: string | null): boolean {
  if (host === publicHost) return true;
  const match = /^(.*?)(?::(\d{1,5}))?$/.exec(host);
  if (!match || !loopbackNames.includes(match[1] ?? '')) return false;
  return localPort === undefined || Number(match[2] ?? 80) === localPort;
}

/**
 * Answers only to this machine's own names and port, or the name in PUBLIC_URL: a page elsewhere that points a name of
 * its own at this machine reaches nothing.
 */
export const checkHost = (publicUrl: string | null) => {
  const publicHost = publicUrl === null ? null : new URL(publicUrl).host;
  return createMiddleware<AppEnv>(async function checkHost(c, next) {
    if (isOwnHost(hostOf(c), c.env?.incoming?.socket?.localPort, publicHost)) return next();
    return c.text(
      'This workshop answers only to the address it was started at. Open the address that the start command printed, or name this one in PUBLIC_URL.\n',
      421,
    );
  });
};
