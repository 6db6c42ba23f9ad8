import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';
import { answerRefusal } from '#server/errors.ts';
import { hostOf } from '#server/middleware/host.ts';

const readingMethods = ['GET', 'HEAD', 'OPTIONS'];

export function isReading(c: Context<AppEnv>): boolean {
  return readingMethods.includes(c.req.method);
}

function isOwnOrigin(c: Context<AppEnv>, origin: string, publicUrl: string | null): boolean {
  if (publicUrl !== null && origin === new URL(publicUrl).origin) return true;
  return origin === `http://${hostOf(c)}`;
}

/** A write is taken only from a page of ours: every sign the browser gives must say so, and it must give one. */
export const checkOrigin = (publicUrl: string | null) =>
  createMiddleware<AppEnv>(async function checkOrigin(c, next) {
    if (isReading(c)) return next();
    const origin = c.req.header('origin');
    const site = c.req.header('sec-fetch-site');
    const isSigned = origin !== undefined || site !== undefined;
    const isOwn =
      (origin === undefined || isOwnOrigin(c, origin, publicUrl)) && (site === undefined || site === 'same-origin');
    if (isSigned && isOwn) return next();
    return answerRefusal(c, 403, {
      title: 'That did not come from this workshop',
      sentence:
        'Nothing was changed. Changes are taken only from the workshop’s own pages: open the page here and send the form again.',
    });
  });
