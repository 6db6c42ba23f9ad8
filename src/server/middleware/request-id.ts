import { randomBytes } from 'node:crypto';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';

/** Names each request, so that what a person reads on an error page can be found in the log. */
export const giveRequestId = createMiddleware<AppEnv>(async function giveRequestId(c, next) {
  c.set('requestId', randomBytes(4).toString('hex'));
  await next();
});
