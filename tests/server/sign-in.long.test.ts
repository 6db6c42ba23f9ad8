import { createClient } from '@libsql/client';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readState } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { hasPassphrase, matchesPassphrase, setPassphrase } from '#flows/sign-in/set-passphrase.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

// Hashing takes a third of a second: one workshop for all, and each test begins signed out.
const passphrase = 'otter candle brisk meadow';
const other = 'walnut ferry lantern crisp';
const day = 24 * 60 * 60 * 1000;
let nowMs = Date.parse('2026-11-25T10:00:00Z');
const now = () => new Date(nowMs);

let workshop: TestWorkshop;
beforeAll(async () => {
  workshop = await openTestWorkshop();
  await setPassphrase(workshop, passphrase);
});
afterAll(() => workshop.discard());

type App = ReturnType<typeof createApp>;
let app: App;
let alone: App;
beforeEach(() => {
  nowMs += 365 * day;
  app = createApp({ workshop, now, publicUrl: null, host: '0.0.0.0' });
  alone = createApp({ workshop, now, publicUrl: null });
});

const cookieOf = (response: Response) => (response.headers.get('set-cookie') ?? '').split(';')[0]!;
const signIn = (fields: Record<string, string> = {}, headers: Record<string, string> = {}, to = app) =>
  postForm(to, '/sign-in', { passphrase, ...fields }, headers);
const signedIn = async () => ({ Cookie: cookieOf(await signIn()) });
const query = async (sql: string) => {
  const client = createClient({ url: `file:${workshop.file}` });
  try {
    return (await client.execute(sql)).rows.map((row) => ({ ...row }));
  } finally {
    client.close();
  }
};

describe('without a session', () => {
  it.each([
    '/',
    '/orders',
    '/orders/7?show=late',
    '/settings/copy',
    '/settings/passphrase',
    '/nowhere',
    '/assetsx',
    '/sign-inx',
  ])('GET %s leads to sign-in and back', async (path) => {
    const response = await app.request(path);
    expect(response.status).toBe(303);
    const to = new URL(response.headers.get('location')!, 'http://localhost');
    expect([to.pathname, to.searchParams.get('to') ?? '/']).toEqual(['/sign-in', path]);
    expect(await response.text()).toBe('');
  });

  it.each([
    '/orders/new',
    '/settings',
    '/settings/clear',
    '/settings/copy',
    '/settings/passphrase',
    '/begin/sample',
    '/',
  ])('POST %s is answered with a page and keeps nothing', async (path) => {
    const before = await workshop.store.read(readState);
    const response = await postForm(app, path, { name: 'kept nowhere', typed: 'clear all', passphrase: other });
    expect(response.status).toBe(401);
    const html = await response.text();
    expect(html).toContain('Nothing was saved');
    expect(html).toContain('href="/sign-in"');
    expect(html).not.toContain('kept nowhere');
    expect(html).not.toContain('class="page-nav"');
    expect(await workshop.store.read(readState)).toEqual(before);
  });

  it('a part of a page sends the whole browser to sign in, and back to the page it shows', async () => {
    const headers = { 'HX-Request': 'true', 'HX-Current-URL': 'http://localhost/orders?show=late' };
    const response = await app.request('/orders/lengths', { headers });
    expect([response.status, response.headers.get('hx-redirect')]).toEqual([
      401,
      '/sign-in?to=%2Forders%3Fshow%3Dlate',
    ]);
    const foreign = { 'HX-Request': 'true', 'HX-Current-URL': 'http://elsewhere.example/orders' };
    expect((await app.request('/', { headers: foreign })).headers.get('hx-redirect')).toBe('/sign-in');
  });

  it.each(['nonsense', '', 'a'.repeat(43), '__proto__'])('a cookie of %j opens nothing', async (token) => {
    expect((await app.request('/orders', { headers: { Cookie: `toe-to-till=${token}` } })).status).toBe(303);
  });

  it('the stored hash of a cookie is no cookie', async () => {
    await signIn();
    const [row] = await query('select token_hash from sessions order by id desc limit 1');
    expect((await app.request('/', { headers: { Cookie: `toe-to-till=${row!.token_hash}` } })).status).toBe(303);
  });

  it('assets are open', async () => {
    expect((await app.request('/assets/style.css')).status).toBe(200);
    expect((await app.request('/assets/htmx.js')).status).toBe(200);
  });

  it('host and origin are asked as before', async () => {
    expect((await app.request('/', { headers: { Host: 'elsewhere.example' } })).status).toBe(421);
    expect((await signIn({}, { Origin: 'https://elsewhere.example' })).status).toBe(403);
    const cookie = await signedIn();
    const foreign = { ...cookie, Origin: 'https://elsewhere.example' };
    expect((await postForm(app, '/settings/clear', {}, foreign)).status).toBe(403);
    expect((await postForm(app, '/sign-out', {}, foreign)).status).toBe(403);
  });
});

describe('a workshop for this machine alone', () => {
  it('asks nobody to sign in, though it has a passphrase', async () => {
    expect((await alone.request('/orders')).status).toBe(200);
    const html = await (await alone.request('/settings')).text();
    expect(html).toContain('href="/settings/passphrase"');
    expect(html).not.toContain('Sign out');
    expect((await alone.request('/sign-in?to=/orders')).headers.get('location')).toBe('/orders');
  });

  it('answers under no other address of the machine', async () => {
    expect((await alone.request('/', { headers: { Host: '192.168.1.20:4173' } })).status).toBe(421);
  });
});

describe('the addresses of this machine', () => {
  it('are answered where the workshop listens, with its own port', async () => {
    const here = createApp({ workshop, now, publicUrl: null, host: '192.168.1.20' });
    const env = { incoming: { socket: { localPort: 4173 } } };
    const ask = async (host: string) => (await here.request('/sign-in', { headers: { Host: host } }, env)).status;
    expect(await ask('192.168.1.20:4173')).toBe(200);
    expect(await ask('192.168.1.20:9999')).toBe(421);
    expect(await ask('192.168.1.20')).toBe(421);
    expect(await ask('192.168.1.21:4173')).toBe(421);
    expect(await ask('192.168.1.20.elsewhere.example:4173')).toBe(421);
  });
});

describe('GET /sign-in', () => {
  it('is one field that works without a script, and shows nothing of the workshop', async () => {
    const html = await (await app.request('/sign-in?to=%2Forders%3Fshow%3Dlate')).text();
    expect(html.match(/<input(?! type="hidden")/g)).toHaveLength(1);
    expect(html).toContain('<form method="post" action="/sign-in">');
    expect(html).toContain('name="to" value="/orders?show=late"');
    expect(html).not.toContain('class="page-nav"');
    expect(html).not.toContain('class="thumb-nav"');
  });

  it('does not carry a foreign address along', async () => {
    const html = await (await app.request('/sign-in?to=%2F%2Felsewhere.example')).text();
    expect(html).not.toContain('elsewhere');
  });
});

describe('POST /sign-in', () => {
  it('gives a session for 30 days that no script can read and no other site can use, and goes to the page asked for', async () => {
    const response = await signIn({ to: '/orders?show=late' });
    expect([response.status, response.headers.get('location')]).toEqual([303, '/orders?show=late']);
    expect(response.headers.get('set-cookie')).toMatch(
      /^toe-to-till=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Lax$/,
    );
    const headers = { Cookie: cookieOf(response) };
    const page = await (await app.request('/settings', { headers })).text();
    // In the settings, and behind "More" on a phone.
    expect(page.match(/action="\/sign-out"/g)).toHaveLength(2);
    expect((await app.request('/sign-in?to=/orders', { headers })).headers.get('location')).toBe('/orders');
    nowMs += 30 * day - 1;
    expect((await app.request('/', { headers })).status).toBe(200);
    nowMs += 1;
    expect((await app.request('/', { headers })).status).toBe(303);
  });

  it('takes what a phone’s keyboard adds', async () => {
    expect((await signIn({ passphrase: ` ${passphrase.replace(' ', '  ')} ` })).status).toBe(303);
  });

  it('marks the cookie for https alone where the browser came by the public https address, also through a proxy', async () => {
    const behind = createApp({ workshop, now, publicUrl: 'https://knitting.example' });
    const Origin = 'https://knitting.example';
    for (const Host of ['knitting.example', '127.0.0.1:4173']) {
      const response = await signIn({}, { Host, Origin }, behind);
      expect(response.headers.get('set-cookie')).toMatch(
        /^__Host-toe-to-till=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; Secure; SameSite=Lax$/,
      );
      const headers = { Host, Cookie: cookieOf(response) };
      expect((await behind.request('/', { headers })).status).toBe(200);
    }
    expect((await behind.request('/', { headers: { Host: 'knitting.example' } })).status).toBe(303);
  });

  it('says at the field that it is wrong, and shows nothing of what was typed', async () => {
    const response = await signIn({ passphrase: 'otter candle brisk', to: '/orders' });
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(response.headers.has('set-cookie')).toBe(false);
    expect(html).toContain('<title>Error: Sign in');
    expect(html).toContain('id="field-passphrase-error"');
    expect(html).toContain('name="to" value="/orders"');
    expect(html).not.toContain('otter');
  });

  it('answers the same while there is no passphrase', async () => {
    const bare = await openTestWorkshop();
    try {
      const open = createApp({ workshop: bare, now, publicUrl: null, host: '0.0.0.0' });
      const [with_, without] = [await signIn({ passphrase: other }), await signIn({ passphrase: other }, {}, open)];
      expect([without.status, await without.text()]).toEqual([with_.status, await with_.text()]);
      expect((await signIn({ passphrase: '' }, {}, open)).status).toBe(422);
      expect((await open.request('/')).status).toBe(303);
    } finally {
      await bare.discard();
    }
  });

  it('ignores a foreign return address', async () => {
    for (const to of ['https://elsewhere.example/', '//elsewhere.example', '/\\elsewhere.example']) {
      expect((await signIn({ to })).headers.get('location')).toBe('/');
    }
  });

  it('ends the session that this browser had before', async () => {
    const before = await signedIn();
    const after = { Cookie: cookieOf(await signIn({}, before)) };
    expect(after).not.toEqual(before);
    expect((await app.request('/', { headers: before })).status).toBe(303);
    expect((await app.request('/', { headers: after })).status).toBe(200);
  });

  it('makes the sixth wait after five wrong ones, right or wrong, with the time in words and in the header', async () => {
    const socket = (remoteAddress: string) => ({ incoming: { socket: { remoteAddress } } });
    const from = (remoteAddress: string, text: string) =>
      app.request(
        '/sign-in',
        { method: 'POST', body: new URLSearchParams({ passphrase: text }), headers: { Origin: 'http://localhost' } },
        socket(remoteAddress),
      );
    // All at one moment, so that none can slip in before the first is known to be wrong.
    const wrong = await Promise.all(Array.from({ length: 8 }, () => from('192.168.1.7', 'wrong')));
    expect(wrong.map(({ status }) => status).sort()).toEqual([422, 422, 422, 422, 422, 429, 429, 429]);
    const right = await from('192.168.1.7', passphrase);
    expect([right.status, right.headers.get('retry-after')]).toEqual([429, '30']);
    expect(await right.text()).toContain('Wait 30 seconds, then try again.');
    expect((await from('::ffff:192.168.1.7', passphrase)).status).toBe(429);
    expect((await from('192.168.1.8', passphrase)).status).toBe(303);
    nowMs += 30_000;
    expect((await from('192.168.1.7', passphrase)).status).toBe(303);
  }, 30_000);

  it('leaves plan and history alone, and notes a visit once an hour at most', async () => {
    const before = await workshop.store.read(readState);
    const changes = await query('select count(*) as number from changes');
    const headers = await signedIn();
    const seen = async () => (await query('select max(last_seen_ms) as ms from sessions'))[0]!.ms;
    const bornMs = nowMs;
    nowMs += 59 * 60_000;
    await app.request('/', { headers });
    expect(await seen()).toBe(bornMs);
    nowMs += 60_000;
    await app.request('/', { headers });
    expect(await seen()).toBe(nowMs);
    expect(await workshop.store.read(readState)).toEqual(before);
    expect(await query('select count(*) as number from changes')).toEqual(changes);
  });
});

describe('clearing everything', () => {
  it('leaves the passphrase, so that the empty workshop is not open to all, and ends every session', async () => {
    const own = await openTestWorkshop();
    try {
      await beginOwn(own, { purpose: 'sell' });
      await setPassphrase(own, passphrase);
      const open = createApp({ workshop: own, now, publicUrl: null, host: '0.0.0.0' });
      const headers = { Cookie: cookieOf(await signIn({}, {}, open)) };
      expect((await postForm(open, '/settings/clear', { typed: 'clear all' }, headers)).status).toBe(303);
      expect((await open.request('/', { headers })).status).toBe(303);
      expect((await signIn({}, {}, open)).headers.has('set-cookie')).toBe(true);
    } finally {
      await own.discard();
    }
  });
});

describe('POST /sign-out', () => {
  it('ends this session and no other', async () => {
    const [mine, theirs] = [await signedIn(), await signedIn()];
    const response = await postForm(app, '/sign-out', {}, mine);
    expect([response.status, response.headers.get('location')]).toEqual([303, '/sign-in?done=out']);
    expect(response.headers.get('set-cookie')).toContain('Max-Age=0');
    expect((await app.request('/', { headers: mine })).status).toBe(303);
    expect((await app.request('/', { headers: theirs })).status).toBe(200);
    expect((await postForm(app, '/sign-out', {})).status).toBe(303);
  });
});

describe('/settings/passphrase', () => {
  const change = (fields: Record<string, string>, headers: Record<string, string> = {}, to = app) =>
    postForm(to, '/settings/passphrase', { present: passphrase, passphrase: other, again: other, ...fields }, headers);

  it('shows a form without any passphrase in it', async () => {
    const response = await app.request('/settings/passphrase', { headers: await signedIn() });
    const html = await response.text();
    expect(response.status).toBe(200);
    expect(html).toContain('At least 12 letters. Four words');
    expect(html).not.toContain('scrypt');
    expect(html).not.toContain('Take it away');
  });

  it.each([
    ['a wrong present one', { present: other }, 'present'],
    ['no present one', { present: '' }, 'present'],
    ['a short new one', { passphrase: 'short', again: 'short' }, 'passphrase'],
    ['two that differ', { again: 'walnut ferry' }, 'again'],
  ])('refuses %s at its field', async (_, fields, path) => {
    const response = await change(fields, await signedIn());
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain(`id="field-${path}-error"`);
    expect(html).toContain('<title>Error: ');
    expect(html).not.toContain('walnut');
    expect(await matchesPassphrase(workshop, passphrase)).toBe(true);
  });

  it('limits guesses at the present one too', async () => {
    const headers = await signedIn();
    const guesses = await Promise.all(Array.from({ length: 6 }, () => change({ present: 'wrong' }, headers)));
    expect(guesses.map(({ status }) => status).sort()).toEqual([422, 422, 422, 422, 422, 429]);
  }, 30_000);

  it('stays while others can reach the workshop', async () => {
    const response = await postForm(
      app,
      '/settings/passphrase/remove',
      { presentToRemove: passphrase },
      await signedIn(),
    );
    expect(response.status).toBe(422);
    expect(await hasPassphrase(workshop)).toBe(true);
  });

  it('a change signs everybody out, and the history tells of it without the hash', async () => {
    const [mine, theirs] = [await signedIn(), await signedIn()];
    const response = await change({}, mine);
    expect([response.status, response.headers.get('location')]).toEqual([303, '/sign-in?done=changed']);
    for (const headers of [mine, theirs]) expect((await app.request('/', { headers })).status).toBe(303);
    expect((await signIn()).status).toBe(422);
    expect((await signIn({ passphrase: other })).status).toBe(303);
    const history = JSON.stringify(await query('select * from changes'));
    expect(history).toContain('"table":"passphrase"');
    expect(history).not.toMatch(/scrypt|hash|session/i);
    const html = await (await alone.request('/settings/history')).text();
    expect(html).toContain('Set a passphrase');
    expect(html).not.toContain('scrypt');
  });

  it('can be taken away where the workshop is for this machine alone, and set again without a present one', async () => {
    const gone = await postForm(alone, '/settings/passphrase/remove', { presentToRemove: 'wrong' });
    expect(gone.status).toBe(422);
    expect(await gone.text()).toContain('id="field-presentToRemove-error"');
    await postForm(alone, '/settings/passphrase/remove', { presentToRemove: other });
    expect(await hasPassphrase(workshop)).toBe(false);
    const set = await change({ present: '', passphrase, again: passphrase }, {}, alone);
    expect(set.headers.get('location')).toBe('/settings/passphrase?done=set');
    expect(await matchesPassphrase(workshop, passphrase)).toBe(true);
  });
});
