import { createClient } from '@libsql/client';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readSettings } from '#core/shared/settings.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { listSettings, setSetting } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { isEmpty } from '#flows/begin/is-empty.ts';
import { createApp } from '#server/app.ts';
import { seenText, settingValues } from '#server/forms/settings.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';
import { settingNamesHere } from '#views/pages/settings/settings.tsx';

const today = '2026-11-25';
const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const settingsNow = async () => readSettings(await workshop.store.read((db) => listSettings(db)));

/** The form as the page shows it, with changes typed into it. */
async function formWith(changes: Record<string, string>): Promise<Record<string, string>> {
  const settings = await settingsNow();
  return {
    ...settingValues(settingNamesHere, settings),
    seen: seenText(settingNamesHere, settings),
    ...changes,
  };
}

/** Every row of every table, without the name of the workshop, which a copy changes. */
async function rowsOf(file: string): Promise<unknown> {
  const client = createClient({ url: `file:${file}` });
  try {
    const tables = await client.execute(
      "select name from sqlite_master where type = 'table' and name not like 'sqlite_%' order by name",
    );
    const all: Record<string, unknown> = {};
    for (const { name } of tables.rows) {
      const { rows } = await client.execute(`select * from "${name}" order by rowid`);
      all[String(name)] = rows.map((row) => JSON.stringify({ ...row, born: undefined }));
    }
    return all;
  } finally {
    client.close();
  }
}

async function postFile(path: string, file: File | null): Promise<Response> {
  const body = new FormData();
  if (file) body.set('file', file);
  return app.request(path, { method: 'POST', body, headers: { Origin: 'http://localhost' } });
}

describe('GET /settings', () => {
  it('shows each setting with its words, its range and where it comes from', async () => {
    const html = await (await app.request('/settings')).text();
    expect(html).toContain('Minutes of knitting in an hour');
    expect(html).toContain('From 10 to 60.');
    expect(html).toContain('our choice');
  });
});

describe('POST /settings', () => {
  it('saves what was changed and nothing else', async () => {
    const response = await postForm(app, '/settings', await formWith({ spareRatio: '5', currency: 'gbp' }));
    expect(response.status).toBe(303);
    expect(await settingsNow()).toMatchObject({ spareRatio: 0.05, currency: 'GBP' });
    const names = (await workshop.store.read((db) => listSettings(db))).map((row) => row.name);
    expect(names.sort()).toEqual(['currency', 'spareRatio']);
  });

  it('names every faulty field, keeps what was typed and saves nothing', async () => {
    const response = await postForm(
      app,
      '/settings',
      await formWith({ spareRatio: '80', knittingMinutesPerHour: 'ninety', timeZone: 'Atlantis', dailyCapMin: '200' }),
    );
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain('<title>Error:');
    expect(html).toContain('Enter a percentage from 0 to 50');
    expect(html).toContain('value="ninety"');
    expect(html).toContain('href="#field-timeZone"');
    expect(html).toContain('value="200"');
    expect(await workshop.store.read((db) => listSettings(db))).toEqual([]);
  });

  it('tells the second of two who changed the same setting, and leaves alone what only the first changed', async () => {
    const form = await formWith({});
    await postForm(app, '/settings', { ...form, dailyCapMin: '120', spareRatio: '10' });
    const same = await postForm(app, '/settings', { ...form, dailyCapMin: '180' });
    expect(same.status).toBe(409);
    const other = await postForm(app, '/settings', { ...form, orderByBufferDays: '5' });
    expect(other.status).toBe(303);
    expect(await settingsNow()).toMatchObject({ dailyCapMin: 120, spareRatio: 0.1, orderByBufferDays: 5 });
  });

  it('turns off what a box no longer ticks', async () => {
    const { oneSupplierPerColour: _, ...form } = await formWith({});
    await postForm(app, '/settings', form);
    expect((await settingsNow()).oneSupplierPerColour).toBe(false);
  });
});

describe('copies', () => {
  it('go out of one workshop and into another, row by row the same', async () => {
    await putSample(workshop, today);
    const sent = await app.request('/settings/copy');
    expect(sent.status).toBe(200);
    expect(sent.headers.get('content-disposition')).toBe('attachment; filename="toe-to-till-2026-11-25.db"');
    const bytes = await sent.arrayBuffer();
    const mine = await rowsOf(workshop.file);

    const first = workshop;
    workshop = await openTestWorkshop();
    try {
      app = createApp({ workshop, now, publicUrl: null });
      await beginOwn(workshop, { purpose: 'give' });
      const opened = await postFile('/settings/copy', new File([bytes], 'copy.db'));
      expect(opened.status).toBe(303);
      expect(await rowsOf(workshop.file)).toEqual(mine);
      const page = await (await app.request(opened.headers.get('location')!)).text();
      expect(page).toMatch(/What was here before is kept as workshop-before-[\d-]+\.db/);
      expect(await (await app.request('/')).text()).toContain('Sample season:');
    } finally {
      await first.discard();
    }
  });

  it.each([
    ['no file', null],
    ['an empty file', new File([], 'copy.db')],
    ['something else', new File(['once upon a time'], 'copy.db')],
  ])('refuses %s with a sentence at the field, and leaves the workshop as it is', async (_, file) => {
    await beginOwn(workshop, { purpose: 'sell' });
    const before = await rowsOf(workshop.file);
    const response = await postFile('/settings/copy', file);
    expect(response.status).toBe(422);
    expect(await response.text()).toContain('id="field-file-error"');
    expect(await rowsOf(workshop.file)).toEqual(before);
  });

  it('takes a file over the 2 MB of other forms, and refuses one over 32 MB', async () => {
    const some = await postFile('/settings/copy', new File([new Uint8Array(3 * 1024 * 1024)], 'copy.db'));
    expect(some.status).toBe(422);
    const much = await postFile('/settings/copy', new File([new Uint8Array(33 * 1024 * 1024)], 'copy.db'));
    expect(much.status).toBe(413);
    expect(await much.text()).toContain('32 MB');
  });
});

describe('the sample season on the settings', () => {
  const partOf = async () => /<p id="see-sample">.*?<\/p>/s.exec(await (await app.request('/settings')).text())?.[0];

  it('is led to from an empty workshop, and by a copy and clearing from one’s own; the sample itself says nothing', async () => {
    expect(await partOf()).toContain('href="/"');
    await beginOwn(workshop, { purpose: 'sell' });
    const own = await partOf();
    expect(own).toContain('href="/settings/copy"');
    expect(own).toContain('href="#field-file"');
    await postForm(app, '/settings/clear', { typed: 'clear all' });
    await putSample(workshop, today);
    expect(await partOf()).toBeUndefined();
  });
});

describe('POST /settings/clear', () => {
  it('takes the sample away at once', async () => {
    await putSample(workshop, today);
    const response = await postForm(app, '/settings/clear', {});
    expect([response.status, response.headers.get('location')]).toEqual([303, '/']);
    expect(isEmpty(await readWorkshop(workshop))).toBe(true);
  });

  it('says what of one’s own would go with the sample, and names the copy kept', async () => {
    await putSample(workshop, today);
    expect(await (await app.request('/settings')).text()).not.toContain('name="typed"');
    await postForm(app, '/settings', await formWith({ dailyCapMin: '120' }));
    const page = await (await app.request('/settings')).text();
    expect(page).toContain('Takes away everything in the sample, with 1 change of yours.');
    const refused = await postForm(app, '/settings/clear', { typed: '' });
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain('to take away the sample with 1 change of yours.');
    const cleared = await postForm(app, '/settings/clear', { typed: 'clear all' });
    const first = await (await app.request(cleared.headers.get('location')!)).text();
    expect(first).toMatch(/kept as workshop-before-clearing-[\d-]+\.db/);
  });

  it('asks for the word before one’s own work goes, and names the copy kept', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const refused = await postForm(app, '/settings/clear', { typed: 'sure' });
    const html = await refused.text();
    expect(refused.status).toBe(422);
    expect(html).toContain('value="sure"');
    expect(isEmpty(await readWorkshop(workshop))).toBe(false);
    const cleared = await postForm(app, '/settings/clear', { typed: 'clear all' });
    expect(cleared.status).toBe(303);
    const page = await (await app.request(cleared.headers.get('location')!)).text();
    expect(page).toMatch(/kept as workshop-before-clearing-[\d-]+\.db/);
  });
});

describe('GET /settings/history', () => {
  it('says in words what was changed, newest first', async () => {
    await workshop.store.write('settings: change settings', (tx) => setSetting(tx, 'wageCentsPerHour', 900));
    await workshop.store.write('settings: change settings', (tx) => setSetting(tx, 'wageCentsPerHour', 1250));
    const html = await (await app.request('/settings/history')).text();
    const [newer, older] = ['from €9.00 to €12.50', 'from as usual to €9.00'].map((text) => html.indexOf(text));
    expect(newer).toBeGreaterThan(0);
    expect(older).toBeGreaterThan(newer!);
    expect(html).toContain('Wage for an hour of knitting');
  });

  it('says so when nothing was changed', async () => {
    expect(await (await app.request('/settings/history')).text()).toContain('Nothing has been changed yet.');
  });
});
