import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import { isSignedIn } from '#flows/sign-in/session.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { hostOf } from '#server/middleware/host.ts';
import { isReading } from '#server/middleware/origin.ts';
import { renderPage } from '#server/render.tsx';
import { readToken } from '#server/session/cookie.ts';
import { signInPath } from '#server/session/return-path.ts';
import { SignedOutPage } from '#views/pages/sign-in/signed-out.tsx';

const openPaths = /^\/(sign-(in|out)\/?$|assets\/)/;

function pathOf(address: string | undefined, c: Context<AppEnv>): string {
  if (!address || !URL.canParse(address)) return '/';
  const url = new URL(address);
  return url.host === hostOf(c) ? `${url.pathname}${url.search}` : '/';
}

/**
 * Where others can reach the workshop, every page and every form but sign-in is for those who are signed in, on this
 * machine too. Nothing of a form that is turned away is read.
 */
export const requireSession = ({ workshop, now }: AppDeps) =>
  createMiddleware<AppEnv>(async function requireSession(c, next) {
    if (openPaths.test(c.req.path)) return next();
    const token = readToken(c);
    if (token !== null && (await isSignedIn(workshop, token, now()))) {
      c.set('isSignedIn', true);
      return next();
    }
    // A part of a page was asked for: the browser is sent to sign in as a whole, and back to the page it shows.
    if (c.req.header('hx-request') === 'true') {
      const page = pathOf(c.req.header('hx-current-url') ?? c.req.header('referer'), c);
      if (isReading(c)) return c.body(null, 401, { 'HX-Redirect': signInPath(page) });
      c.header('HX-Retarget', 'body');
      c.header('HX-Reswap', 'innerHTML');
    }
    if (isReading(c)) {
      const url = new URL(c.req.url);
      return c.redirect(signInPath(`${url.pathname}${url.search}`), 303);
    }
    return renderPage(c, SignedOutPage({ signIn: signInPath(pathOf(c.req.header('referer'), c)) }), 401);
  });
