import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let place: TestWorkshop;
let app: ReturnType<typeof createApp>;
let publicApp: ReturnType<typeof createApp>;
const now = () => new Date('2026-11-25T10:00:00Z');

beforeAll(async () => {
  place = await openTestWorkshop();
  app = createApp({ workshop: place, now, publicUrl: null });
  publicApp = createApp({ workshop: place, now, publicUrl: 'https://knitting.example' });
});
afterAll(() => place.discard());

// The check of host and origin comes before any route, so an address that no page has shows it best: 404 means let in.
// With a public address it is sign-in that a stranger who is let in meets: 303, and 401 for a form.
const nowhere = '/nowhere';
const form = { 'Content-Type': 'application/x-www-form-urlencoded' };

function post(headers: Record<string, string>, body = 'a=1', target = app): Promise<Response> {
  return Promise.resolve(target.request(nowhere, { method: 'POST', headers, body }));
}

describe('checkHost', () => {
  it.each(['localhost:4173', '127.0.0.1:4173', '[::1]:4173', 'LOCALHOST:4173'])('lets in %s', async (host) => {
    expect((await app.request(nowhere, { headers: { Host: host } })).status).toBe(404);
  });

  it.each(['elsewhere.example', 'localhost.elsewhere.example:4173', '127.0.0.1.elsewhere.example', '0.0.0.0:4173', ''])(
    'refuses %s',
    async (host) => {
      const response = await app.request(nowhere, { headers: { Host: host } });
      expect(response.status).toBe(421);
      expect(await response.text()).toContain('the address it was started at');
    },
  );

  it('refuses a loopback name with a port that is not the one listened on', async () => {
    const env = { incoming: { socket: { localPort: 4173 } } };
    expect((await app.request(nowhere, { headers: { Host: 'localhost:4173' } }, env)).status).toBe(404);
    expect((await app.request(nowhere, { headers: { Host: 'localhost:9999' } }, env)).status).toBe(421);
  });

  it('lets in the host of PUBLIC_URL and none beside it', async () => {
    expect((await publicApp.request(nowhere, { headers: { Host: 'knitting.example' } })).status).toBe(303);
    expect((await publicApp.request(nowhere, { headers: { Host: 'other.example' } })).status).toBe(421);
  });
});

describe('checkOrigin', () => {
  it('lets in a form of our own page', async () => {
    expect((await postForm(app, nowhere, { a: '1' })).status).toBe(404);
    expect((await post({ ...form, 'Sec-Fetch-Site': 'same-origin' })).status).toBe(404);
  });

  it.each([
    ['a foreign origin', { Origin: 'https://elsewhere.example' }],
    ['our name with another port', { Origin: 'http://localhost:9999' }],
    ['an origin that is hidden', { Origin: 'null' }],
    ['no sign at all', {}],
    ['a foreign site', { 'Sec-Fetch-Site': 'cross-site' }],
    ['a neighbouring site', { 'Sec-Fetch-Site': 'same-site' }],
    ['our origin and a foreign site', { Origin: 'http://localhost', 'Sec-Fetch-Site': 'cross-site' }],
    ['our site and a foreign origin', { Origin: 'https://elsewhere.example', 'Sec-Fetch-Site': 'same-origin' }],
  ])('refuses %s', async (_, headers) => {
    const response = await post({ ...form, ...(headers as Record<string, string>) });
    expect(response.status).toBe(403);
    expect(await response.text()).toContain('Nothing was changed');
  });

  it('takes the https origin of PUBLIC_URL, where a proxy speaks plain http to us', async () => {
    const headers = { ...form, Host: 'knitting.example', Origin: 'https://knitting.example' };
    expect((await post(headers, 'a=1', publicApp)).status).toBe(401);
  });

  it.each(['PUT', 'PATCH', 'DELETE'])('is asked of %s too', async (method) => {
    const headers = { ...form, Origin: 'https://elsewhere.example' };
    expect((await app.request(nowhere, { method, headers, body: 'a=1' })).status).toBe(403);
  });
});

describe('checkContentType', () => {
  it.each(['application/json', 'text/plain', ''])('refuses %s', async (type) => {
    const response = await post({ Origin: 'http://localhost', 'Content-Type': type }, '{}');
    expect(response.status).toBe(415);
  });

  it('takes a form with a file', async () => {
    const body = new FormData();
    body.append('file', new File(['a;b'], 'orders.csv'));
    const response = await app.request(nowhere, { method: 'POST', headers: { Origin: 'http://localhost' }, body });
    expect(response.status).toBe(404);
  });
});

describe('limitBody', () => {
  const twoMegabytes = 2 * 1024 * 1024;

  it('refuses more than 2 MB with a page that can be read', async () => {
    const response = await post({ ...form, Origin: 'http://localhost' }, 'a'.repeat(twoMegabytes + 1));
    expect(response.status).toBe(413);
    const text = await response.text();
    expect(text).toContain('up to 2 MB');
    expect(text).toContain('<a class="button button-main" href="/">');
  });

  it('refuses them too when the length is not told beforehand', async () => {
    const chunk = new Uint8Array(64 * 1024).fill(97);
    let sent = 0;
    const body = new ReadableStream({
      pull(controller) {
        sent += chunk.length;
        if (sent > twoMegabytes + chunk.length) controller.close();
        else controller.enqueue(chunk);
      },
    });
    const init = { method: 'POST', headers: { ...form, Origin: 'http://localhost' }, body, duplex: 'half' };
    expect((await app.request(nowhere, init as RequestInit)).status).toBe(413);
  });
});

describe('setSecureHeaders', () => {
  it.each(['/', nowhere, '/assets/style.css', '/assets/htmx.js'])('says what %s may load', async (path) => {
    const { headers } = await app.request(path);
    expect(headers.get('Content-Security-Policy')).toBe(
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'; manifest-src 'self'",
    );
    expect(headers.get('X-Content-Type-Options')).toBe('nosniff');
    expect(headers.get('Referrer-Policy')).toBe('same-origin');
    expect(headers.has('Strict-Transport-Security')).toBe(false);
  });

  it('says it on refusals as well', async () => {
    const { headers } = await app.request('/', { headers: { Host: 'elsewhere.example' } });
    expect(headers.get('Content-Security-Policy')).toContain("default-src 'none'");
  });

  it.each(['/', nowhere])('%s has no script or style inside, which the policy would block', async (path) => {
    const text = await (await app.request(path)).text();
    expect(text).toMatch(/^<!doctype html><html lang="en-GB">/);
    expect(text).not.toMatch(/<style|\sstyle=|\son[a-z]+=|<script(?![^>]*\ssrc=)/i);
    expect(text).not.toMatch(/(?:src|href|action)="(?:https?:)?\/\//i);
  });
});

describe('assetsRoutes', () => {
  it('lets a browser keep a file whose address names its content', async () => {
    const page = await (await app.request(nowhere)).text();
    const url = /href="(\/assets\/style\.css\?v=[0-9a-f]+)"/.exec(page)?.[1];
    const kept = await app.request(url!);
    expect(kept.headers.get('Cache-Control')).toContain('immutable');
    const asked = await app.request('/assets/style.css?v=old');
    expect(asked.headers.get('Cache-Control')).toBe('no-cache');
    const again = await app.request('/assets/style.css', { headers: { 'If-None-Match': asked.headers.get('ETag')! } });
    expect(again.status).toBe(304);
  });

  it.each(['/assets/none.css', '/assets/..%2fpackage.json', '/assets/constructor', '/assets/__proto__'])(
    'has nothing at %s',
    async (path) => expect((await app.request(path)).status).toBe(404),
  );
});
