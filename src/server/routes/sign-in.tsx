import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { passphraseHint, plainPassphrase, readPassphrase } from '#flows/sign-in/read-passphrase.ts';
import { countSessions, isSignedIn, signOut } from '#flows/sign-in/session.ts';
import { hasPassphrase, matchesPassphrase, setPassphrase } from '#flows/sign-in/set-passphrase.ts';
import { signIn } from '#flows/sign-in/sign-in.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { isReachedByOthers } from '#server/config.ts';
import { type FormBody, textOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { createAttempts } from '#server/session/attempts.ts';
import { giveToken, readToken, takeToken } from '#server/session/cookie.ts';
import { returnPath } from '#server/session/return-path.ts';
import { PassphrasePage } from '#views/pages/sign-in/passphrase.tsx';
import { SignInPage } from '#views/pages/sign-in/sign-in.tsx';

function addressOf(c: Context<AppEnv>): string {
  return (c.env?.incoming?.socket?.remoteAddress ?? '').replace(/^::ffff:/, '');
}

function waitWords(leftMs: number): string {
  const seconds = Math.ceil(leftMs / 1000);
  if (seconds <= 1) return 'a second';
  return seconds < 100 ? `${seconds} seconds` : `${Math.ceil(seconds / 60)} minutes`;
}

const signInNotices: Readonly<Record<string, string>> = {
  changed: 'The passphrase is changed. Sign in with the new one.',
  out: 'You are signed out.',
};
const passphraseNotices: Readonly<Record<string, string>> = {
  set: 'The passphrase is set.',
  gone: 'The passphrase is taken away.',
};

/** Signing in and out, and the page where the passphrase is set. */
export function signInRoutes({ workshop, now, publicUrl, host = '127.0.0.1' }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const isReached = isReachedByOthers({ host, publicUrl });
  const attempts = createAttempts();

  /** What stands in the way of one more try, as a problem of its field; null when it may be made. */
  function problemOfTry(c: Context<AppEnv>, path: string): Problem | null {
    const leftMs = attempts.ask(addressOf(c), now().getTime());
    if (leftMs === 0) return null;
    c.header('Retry-After', String(Math.ceil(leftMs / 1000)));
    return {
      code: 'tooManyTries',
      path,
      message: `There were too many tries. Wait ${waitWords(leftMs)}, then try again.`,
    };
  }

  function showSignIn(c: Context<AppEnv>, to: string, problem: Problem | null) {
    const status = problem === null ? 200 : problem.code === 'tooManyTries' ? 429 : 422;
    const notice = problem ? null : (signInNotices[c.req.query('done') ?? ''] ?? null);
    return renderPage(c, <SignInPage to={to} problems={problem ? [problem] : []} notice={notice} />, status);
  }

  routes.get('/sign-in', async function askPassphrase(c) {
    const to = returnPath(c.req.query('to'));
    const token = readToken(c);
    if (!isReached || (token !== null && (await isSignedIn(workshop, token, now())))) return c.redirect(to, 303);
    return showSignIn(c, to, null);
  });

  routes.post('/sign-in', async function tryPassphrase(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const to = returnPath(textOf(body, 'to'));
    if (!isReached) return c.redirect(to, 303);
    const typed = textOf(body, 'passphrase');
    if (plainPassphrase(typed) === '') {
      return showSignIn(c, to, {
        code: 'empty',
        path: 'passphrase',
        message: 'Enter the passphrase of this workshop.',
      });
    }
    const tooMany = problemOfTry(c, 'passphrase');
    if (tooMany) return showSignIn(c, to, tooMany);
    const token = await signIn(workshop, typed, now());
    if (token === null) {
      const message = 'That is not the passphrase. Mind capital letters and the blanks between words, and try again.';
      return showSignIn(c, to, { code: 'wrong', path: 'passphrase', message });
    }
    attempts.forgive(addressOf(c));
    const before = readToken(c);
    if (before !== null) await signOut(workshop, before);
    giveToken(c, token, publicUrl);
    return c.redirect(to, 303);
  });

  routes.post('/sign-out', async function leave(c) {
    const token = readToken(c);
    if (token !== null) await signOut(workshop, token);
    takeToken(c);
    return c.redirect('/sign-in?done=out', 303);
  });

  async function showPassphrase(c: Context<AppEnv>, problems: readonly Problem[] = []) {
    const status = problems.length === 0 ? 200 : problems.some(({ code }) => code === 'tooManyTries') ? 429 : 422;
    return renderPage(
      c,
      <PassphrasePage
        hasPassphrase={await hasPassphrase(workshop)}
        isReachedByOthers={isReached}
        sessions={await countSessions(workshop, now())}
        hint={passphraseHint}
        problems={problems}
        notice={problems.length > 0 ? null : (passphraseNotices[c.req.query('done') ?? ''] ?? null)}
      />,
      status,
    );
  }

  /** What is wrong with the present passphrase; nothing when there is none. */
  async function problemOfPresent(c: Context<AppEnv>, body: FormBody, path: string): Promise<Problem | null> {
    if (!(await hasPassphrase(workshop))) return null;
    const tooMany = problemOfTry(c, path);
    if (tooMany) return tooMany;
    if (!(await matchesPassphrase(workshop, textOf(body, path)))) {
      const message =
        'Enter the present passphrase. If nobody knows it any more: the command npm run passphrase on the machine itself does not ask for it.';
      return { code: 'wrong', path, message };
    }
    attempts.forgive(addressOf(c));
    return null;
  }

  routes.get('/settings/passphrase', function seePassphrase(c) {
    return showPassphrase(c);
  });

  routes.post('/settings/passphrase', async function changePassphrase(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const wished = readPassphrase(textOf(body, 'passphrase'), 'passphrase');
    const problems: Problem[] = wished.ok ? [] : [...wished.problems];
    if (wished.ok && plainPassphrase(textOf(body, 'again')) !== wished.value) {
      problems.push({
        code: 'notSame',
        path: 'again',
        message: 'The two are not the same. Enter the new one in both boxes.',
      });
    }
    // Asked last, so that a slip in the new one costs no try.
    if (problems.length === 0) {
      const problem = await problemOfPresent(c, body, 'present');
      if (problem) problems.push(problem);
    }
    if (problems.length > 0 || !wished.ok) return showPassphrase(c, problems);
    await setPassphrase(workshop, wished.value);
    return c.redirect(isReached ? '/sign-in?done=changed' : '/settings/passphrase?done=set', 303);
  });

  routes.post('/settings/passphrase/remove', async function removePassphrase(c) {
    if (isReached) {
      const message =
        'The passphrase stays while others can reach the workshop. Start it for this machine alone to take it away, or change it here.';
      return showPassphrase(c, [{ code: 'reached', path: '', message }]);
    }
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const problem = await problemOfPresent(c, body, 'presentToRemove');
    if (problem) return showPassphrase(c, [problem]);
    await setPassphrase(workshop, null);
    return c.redirect('/settings/passphrase?done=gone', 303);
  });

  return routes;
}
