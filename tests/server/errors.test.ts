import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppError, type AppErrorCode } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';

// No page here reads the workshop.
const deps = { workshop: {} as Workshop, now: () => new Date('2026-11-25T10:00:00Z'), publicUrl: null };

function appThatThrows(error: Error) {
  const app = createApp(deps);
  app.all('/fails', async function fail(c) {
    if (c.req.method === 'POST') await c.req.parseBody({ all: true });
    throw error;
  });
  return app;
}

let log: string[];
beforeEach(() => {
  log = [];
  vi.spyOn(console, 'error').mockImplementation((...words) => void log.push(words.join(' ')));
});
afterEach(() => vi.restoreAllMocks());

describe('answerNotFound', () => {
  it('answers an unknown address with a page and a way back', async () => {
    const response = await createApp(deps).request('/nowhere');
    const text = await response.text();
    expect(response.status).toBe(404);
    expect(text).toContain('<h1>That page is not here</h1>');
    expect(text).toContain('href="/">Go to Today</a>');
  });

  it('leads back to the page of ours that the person came from', async () => {
    const headers = { Referer: 'http://localhost/orders?page=2' };
    const text = await (await createApp(deps).request('/nowhere', { headers })).text();
    expect(text).toContain('href="/orders?page=2">Back to where you were</a>');
  });

  it.each([
    'https://elsewhere.example/orders',
    'http://localhost//elsewhere.example/',
    'http://localhost/nowhere',
    'x',
  ])('does not lead to %s', async (referer) => {
    const text = await (await createApp(deps).request('/nowhere', { headers: { Referer: referer } })).text();
    expect(text).toContain('href="/">Go to Today</a>');
    expect(text).not.toContain('elsewhere');
  });
});

describe('answerError', () => {
  it.each<[AppErrorCode, number]>([
    ['notFound', 404],
    ['conflict', 409],
    ['busy', 503],
    ['readOnly', 503],
    ['diskFull', 507],
    ['newerSchema', 503],
    ['solverStopped', 503],
  ])('%s answers %i with its sentence', async (code, status) => {
    const response = await appThatThrows(new AppError(code, 'Wait & try <again>.')).request('/fails');
    const text = await response.text();
    expect(response.status).toBe(status);
    expect(text).toContain('Wait &amp; try &lt;again&gt;.');
    expect(text).toContain('Go to Today');
    expect(log.length > 0).toBe(status >= 500);
  });

  it('shows an unknown error by its id alone and logs the rest under that id', async () => {
    const response = await appThatThrows(new TypeError('secret of the workshop')).request('/fails');
    const text = await response.text();
    expect(response.status).toBe(500);
    expect(text).not.toContain('secret');
    const id = /<strong>([0-9a-f]{8})<\/strong>/.exec(text)?.[1];
    expect(log[0]).toMatch(new RegExp(`^\\[${id}\\] GET /fails TypeError: secret of the workshop\\n +at `));
  });

  it('keeps the values of a failed statement out of the log', async () => {
    const cause = new Error('SQLITE_ERROR: no such column');
    const error = new Error('Failed query: insert\nparams: a private note', { cause });
    error.name = 'DrizzleQueryError';
    await appThatThrows(error).request('/fails');
    expect(log.join('\n')).toContain('no such column');
    expect(log.join('\n')).not.toContain('private note');
  });

  it('keeps what was typed, to be sent again when the trouble is over', async () => {
    const app = appThatThrows(new AppError('busy', 'Another program is using the workshop file.'));
    const response = await postForm(app, '/fails', { note: '"soft" <grey>', size: ['38', '39'] });
    const text = await response.text();
    expect(response.headers.get('Retry-After')).toBe('2');
    expect(text).toContain('<form method="post" action="/fails">');
    expect(text).toContain('<input type="hidden" name="note" value="&quot;soft&quot; &lt;grey&gt;"/>');
    expect(text).toContain('name="size" value="38"');
    expect(text).toContain('name="size" value="39"');
    expect(text).toContain('Send it again');
  });

  it('offers nothing to send again where the same form would fail again', async () => {
    const app = appThatThrows(new AppError('conflict', 'Someone changed this order.'));
    expect(await (await postForm(app, '/fails', { note: 'a' })).text()).not.toContain('Send it again');
  });

  it('takes the place of the whole page when a part of it was asked for', async () => {
    const headers = { 'HX-Request': 'true' };
    const response = await appThatThrows(new Error('x')).request('/fails', { headers });
    expect(response.headers.get('HX-Retarget')).toBe('body');
    expect((await appThatThrows(new Error('x')).request('/fails')).headers.has('HX-Retarget')).toBe(false);
  });
});
