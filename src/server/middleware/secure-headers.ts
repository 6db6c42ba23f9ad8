import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';

const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "form-action 'self'",
  "frame-ancestors 'none'",
  "base-uri 'none'",
  "manifest-src 'self'",
].join('; ');

// No Strict-Transport-Security: the workshop is served over plain http on its own machine.
const headers: readonly (readonly [string, string])[] = [
  ['Content-Security-Policy', contentPolicy],
  ['X-Content-Type-Options', 'nosniff'],
  ['Referrer-Policy', 'same-origin'],
  ['Cross-Origin-Opener-Policy', 'same-origin'],
  ['Cross-Origin-Resource-Policy', 'same-origin'],
];

/** Own files alone, nothing inline, no frames: on every answer, errors too. */
export const setSecureHeaders = createMiddleware<AppEnv>(async function setSecureHeaders(c, next) {
  await next();
  for (const [name, value] of headers) c.res.headers.set(name, value);
  // Pages change with every write, so they are asked for anew; going back still finds a form as it was typed.
  // Files with a hash say otherwise themselves.
  if (!c.res.headers.has('Cache-Control')) c.res.headers.set('Cache-Control', 'private, no-cache');
});
