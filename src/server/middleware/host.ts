import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';
import { ownAddresses } from '#server/session/own-addresses.ts';

const loopbackNames = ['localhost', '127.0.0.1', '[::1]'];

/** The host a request was sent to, name and port, in small letters. */
export function hostOf(c: Context<AppEnv>): string {
  return (c.req.header('host') ?? new URL(c.req.url).host).toLowerCase();
}

function isOwnHost(host: string, localPort: number | undefined, listensAt: string): boolean {
  const match = /^(.*?)(?::(\d{1,5}))?$/.exec(host);
  const name = match?.[1] ?? '';
  if (!match || !(loopbackNames.includes(name) || ownAddresses(listensAt).includes(name))) return false;
  return localPort === undefined || Number(match[2] ?? 80) === localPort;
}

/**
 * Answers only to this machine's own addresses and port, those on the network only when it listens there, or the name in
 * PUBLIC_URL: a page elsewhere that points a name of its own at this machine reaches nothing.
 */
export const checkHost = (publicUrl: string | null, listensAt = '127.0.0.1') => {
  const publicHost = publicUrl === null ? null : new URL(publicUrl).host;
  return createMiddleware<AppEnv>(async function checkHost(c, next) {
    const host = hostOf(c);
    if (host === publicHost || isOwnHost(host, c.env?.incoming?.socket?.localPort, listensAt)) return next();
    return c.text(
      'This workshop answers only to the address it was started at. Open the address that the start command printed, or name this one in PUBLIC_URL.\n',
      421,
    );
  });
};
