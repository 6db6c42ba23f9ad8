import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import { AppError, type AppErrorCode } from '#core/shared/app-error.ts';
import type { AppEnv } from '#server/app.ts';
import { hostOf } from '#server/middleware/host.ts';
import { readForm, type ShownField } from '#server/read-form.ts';
import { renderPage } from '#server/render.tsx';
import { ErrorPage, type ErrorPageProps } from '#views/pages/error.tsx';

type WayBack = { readonly href: string; readonly words: string };
type Refusal = { readonly title: string; readonly sentence: string };

// Failures that pass: the same form may be sent again as it is.
const passingStatuses: readonly number[] = [503, 507];

const errorPages: Record<AppErrorCode, { readonly status: ContentfulStatusCode; readonly title: string }> = {
  notFound: { status: 404, title: 'That is not here' },
  conflict: { status: 409, title: 'Someone else was here first' },
  busy: { status: 503, title: 'The workshop is busy' },
  readOnly: { status: 503, title: 'Nothing can be saved just now' },
  diskFull: { status: 507, title: 'The disk is full' },
  newerSchema: { status: 503, title: 'This workshop belongs to a newer version' },
  solverStopped: { status: 503, title: 'The search stopped early' },
};

// Back to the page the person came from when it is ours and not this very one, otherwise to the first page.
function wayBack(c: Context<AppEnv>): WayBack {
  const referer = c.req.header('referer');
  if (referer && URL.canParse(referer)) {
    const url = new URL(referer);
    const href = `${url.pathname}${url.search}`;
    const isHere = c.req.method === 'GET' && url.pathname === c.req.path;
    // An address that begins with two strokes would lead to another host.
    if (url.host === hostOf(c) && !isHere && href !== '/' && !href.startsWith('//')) {
      return { href, words: 'Back to where you were' };
    }
  }
  return { href: '/', words: 'Go to Today' };
}

const secretFields = ['passphrase', 'present', 'presentToRemove'];

// What was typed, so that it can be sent once more; files cannot be kept, and a body that was cut off cannot be read,
// and a passphrase is not to stand in a page.
async function typedIn(c: Context<AppEnv>): Promise<Typed> {
  try {
    const body = await c.req.parseBody({ all: true });
    if (Object.keys(body).some((name) => secretFields.includes(name))) return [];
    return Object.entries(body).flatMap(([name, value]) =>
      [value].flat().flatMap((each) => (typeof each === 'string' ? [[name, each] as const] : [])),
    );
  } catch {
    return [];
  }
}

type Extras = Pick<ErrorPageProps, 'errorId' | 'again' | 'compared' | 'typed'>;
type Typed = readonly (readonly [name: string, value: string])[];

/** One of our own pages as the same person sees it; null where it answers with anything but a page. */
export type ReadOwnPage = (path: string) => Promise<string | null>;

const mostCandidates = 5;

/** Pages that may hold the form that was sent: where the person came from, then the address itself and those above it. */
function pagesWithForm(c: Context<AppEnv>): readonly string[] {
  const { href } = wayBack(c);
  const parts = c.req.path.split('/');
  const above = parts.map((_, index) => parts.slice(0, parts.length - index).join('/')).filter((path) => path !== '');
  return [...new Set([href, c.req.path, `${c.req.path}/edit`, ...above])].slice(0, mostCandidates);
}

/** The fields of the form that was sent, as it would be shown now; null where no page has it any more. */
async function formNow(c: Context<AppEnv>, readPage: ReadOwnPage): Promise<readonly ShownField[] | null> {
  for (const path of pagesWithForm(c)) {
    const html = await readPage(path);
    const fields = html === null ? null : readForm(html, c.req.path);
    if (fields) return fields;
  }
  return null;
}

const capitalised = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

/** What stands in the form now and differs from what was typed, field by field, under the labels of the page. */
function comparedWith(fields: readonly ShownField[], typed: Typed) {
  const sent = new Map(typed);
  return fields.flatMap(({ name, label, value, wordsOf }) => {
    const yours = (sent.get(name) ?? '').trim();
    return value.trim() === yours ? [] : [{ label: capitalised(label), theirs: wordsOf(value), yours: wordsOf(yours) }];
  });
}

const unseenFields = /^(?:version|units|rows|like|import|do)(?:-|$)|^sure-/;

/** A field's name in words, where the page with its label is gone: `validUntil` is "valid until". */
const wordsOfName = (name: string) =>
  name
    .replace(/([A-Z])/g, ' $1')
    .replaceAll('-', ' ')
    .toLowerCase();

/** All that was typed into fields that can be seen. */
function typedInto(fields: readonly ShownField[] | null, typed: Typed) {
  if (fields === null) {
    const seen = typed.filter(([name, value]) => value.trim() !== '' && !unseenFields.test(name));
    return seen.map(([name, value]): [string, string] => [capitalised(wordsOfName(name)), value.trim()]);
  }
  const sent = new Map(typed);
  return fields.flatMap(({ name, label, wordsOf }): [string, string][] => {
    const value = (sent.get(name) ?? '').trim();
    return value === '' ? [] : [[capitalised(label), wordsOf(value)]];
  });
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null;

// What was typed stays on the page: beside the record as the other left it, which it can be saved over once that was
// seen; or alone, where the form can no longer be sent.
async function bothChanges(c: Context<AppEnv>, current: unknown, readPage: ReadOwnPage): Promise<Extras> {
  const typed = await typedIn(c);
  if (typed.length === 0) return {};
  const fields = await formNow(c, readPage);
  const version = isObject(current) ? current.version : undefined;
  const canSave = typeof version === 'number' && typed.some(([name]) => name === 'version');
  if (!canSave || fields === null) return { typed: typedInto(fields, typed) };
  const again = typed.map(([name, value]) => [name, name === 'version' ? String(version) : value] as const);
  return { compared: comparedWith(fields, typed), again: { action: c.req.path, fields: again } };
}

function answer(
  c: Context<AppEnv>,
  status: ContentfulStatusCode,
  refusal: Refusal,
  { back = wayBack(c), ...extras }: Extras & { readonly back?: WayBack } = {},
) {
  // A part of a page was asked for: put the whole error page in place of the page rather than inside its form.
  if (c.req.header('hx-request') === 'true') {
    c.header('HX-Retarget', 'body');
    c.header('HX-Reswap', 'innerHTML');
  }
  return renderPage(c, ErrorPage({ ...refusal, ...extras, back }), status);
}

/** A request that is refused before any route sees it. @param back where it came from, if that is known */
export function answerRefusal(c: Context<AppEnv>, status: ContentfulStatusCode, refusal: Refusal, back?: WayBack) {
  return answer(c, status, refusal, back ? { back } : {});
}

/** No such page. */
export function answerNotFound(c: Context<AppEnv>) {
  return answer(c, 404, {
    title: 'That page is not here',
    sentence: 'The address may be mistyped, or what it showed was removed since.',
  });
}

/** What was thrown: a known failure has its page, an unknown one is logged and shown by its id alone. */
export async function answerError(error: Error, c: Context<AppEnv>, readPage: ReadOwnPage) {
  const requestId = c.get('requestId');
  if (error instanceof AppError) {
    const { status, title } = errorPages[error.code];
    if (status >= 500) logError(requestId, c, error);
    if (error.code === 'busy') c.header('Retry-After', '2');
    if (error.code === 'conflict' && c.req.method === 'POST') {
      const isCancelled = isObject(error.current) && error.current.state === 'cancelled';
      const sentence = isCancelled ? `It was cancelled meanwhile. ${error.message}` : error.message;
      return answer(c, status, { title, sentence }, await bothChanges(c, error.current, readPage));
    }
    const fields = c.req.method === 'POST' && passingStatuses.includes(status) ? await typedIn(c) : [];
    const again = fields.length > 0 ? { action: c.req.path, fields } : undefined;
    return answer(c, status, { title, sentence: error.message }, { again });
  }
  logError(requestId, c, error);
  return answer(
    c,
    500,
    {
      title: 'Something went wrong here',
      sentence:
        'The program made a mistake; it is not your doing. See whether your last change is there, then try once more.',
    },
    { errorId: requestId },
  );
}

// A database error's message repeats every value that was sent, so its text is left out and its cause is named.
function logError(requestId: string, c: Context<AppEnv>, error: Error): void {
  const cause = error.cause instanceof Error ? error.cause : null;
  const isQuery = error.name === 'DrizzleQueryError' || error.message.startsWith('Failed query');
  const told = isQuery ? `${error.name}: ${cause?.message ?? 'query failed'}` : `${error.name}: ${error.message}`;
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  console.error([`[${requestId}] ${c.req.method} ${c.req.path} ${told}`, ...frames].join('\n'));
  if (!isQuery && cause) console.error(`[${requestId}] because ${cause.name}: ${cause.message}`);
}
