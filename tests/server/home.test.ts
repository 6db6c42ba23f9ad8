import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatMinutes } from '#core/shared/format.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { isSample } from '#flows/begin/is-empty.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const today = '2026-11-25';
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T10:00:00Z'), publicUrl: null });
});
afterEach(() => workshop.discard());

const pageAt = async (path: string) => {
  const response = await app.request(path);
  return { status: response.status, html: await response.text() };
};

describe('the first page of an empty workshop', () => {
  it('offers to try one pair first, then the sample season and one’s own beginning', async () => {
    const { status, html } = await pageAt('/');
    expect(status).toBe(200);
    const places = ['href="/try"', 'action="/begin/sample"', 'action="/begin/own"'].map((text) => html.indexOf(text));
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(html).not.toContain('Sample season:');
  });

  it('begins one’s own for the purpose chosen', async () => {
    const response = await postForm(app, '/begin/own', { purpose: 'give' });
    expect(response.status).toBe(303);
    const rows = await readWorkshop(workshop);
    expect(rows.knitters).toHaveLength(1);
    expect(rows.settings.find((row) => row.name === 'purpose')?.valueJson).toBe('"give"');
  });

  it('asks for the purpose when none was chosen, and begins nothing', async () => {
    const response = await postForm(app, '/begin/own', {});
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain('<title>Error:');
    expect(html).toContain('Choose whether you knit to sell, to order or to give.');
    expect((await readWorkshop(workshop)).styles).toEqual([]);
  });

  it('opens the sample season, which is called one on every page', async () => {
    expect((await postForm(app, '/begin/sample', {})).status).toBe(303);
    expect(isSample(await readWorkshop(workshop))).toBe(true);
    for (const path of ['/', '/knitters', '/pricing', '/settings', '/no-such-page']) {
      expect((await pageAt(path)).html, path).toContain('Sample season:');
    }
  });

  it('refuses the sample beside one’s own work', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const response = await postForm(app, '/begin/sample', {});
    expect(response.status).toBe(422);
    expect(isSample(await readWorkshop(workshop))).toBe(false);
  });
});

describe('Today', () => {
  it('says what is late and what would help, what is due, what yarn to order and what comes in', async () => {
    await putSample(workshop, today);
    const { status, html } = await pageAt('/');
    expect(status).toBe(200);
    expect(html).toContain('Today, Wed 25 Nov 2026');
    expect(html).toMatch(/\d orders? late as planned/);
    // Selma Brook's order of the sample is due in five days.
    expect(html).toMatch(/Selma Brook.*due Mon 30 Nov/s);
    // Two days in the post, to be there on Wednesday: it goes on the day it is due.
    expect(html.replace(/<[^>]+>/g, '')).toMatch(/Selma Brook[^;]*by Mon 30 Nov, to be there Wed 2 Dec/);
    expect(html).toContain('Or promise');
    expect(html).toMatch(/Lanternside Yarns|Quillmoor Wool Post/);
    expect(html).toContain('Money ahead');
  });

  it('hides money where slippers are given away, on the page and in the row of pages', async () => {
    await putSample(workshop, today);
    await workshop.store.write('test: give', (tx) => setSetting(tx, 'purpose', 'give'));
    const { html } = await pageAt('/');
    expect(html).not.toContain('Money ahead');
    expect(html).not.toContain('€');
    expect(html).not.toContain('href="/pricing"');
  });

  it('speaks of prices in a workshop without orders only where slippers are sold', async () => {
    await beginOwn(workshop, { purpose: 'give' });
    expect((await pageAt('/')).html).toContain('Ready for the first order');
    expect((await pageAt('/')).html).not.toMatch(/price/i);
    await workshop.store.write('test: sell', (tx) => setSetting(tx, 'purpose', 'sell'));
    expect((await pageAt('/')).html).toContain('the days and the price');
  });

  it('calls guessed hours a guess, until they are said', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    expect((await pageAt('/')).html).toContain('Your hours are a guess');
    expect((await pageAt('/')).html).toContain('href="/orders/new"');
    await postForm(app, '/knitters/1', {
      name: 'Knitter 1',
      hand: 'usual',
      words: 'british',
      dailyCapMin: '240',
      isActive: 'yes',
      'minutes-1': '45',
      version: '1',
    });
    expect((await pageAt('/')).html).not.toContain('Your hours are a guess');
    expect((await pageAt('/knitters')).html).toContain(formatMinutes(45));
  });

  it('flags more than four hours a day', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    await postForm(app, '/knitters/1', {
      name: 'Knitter 1',
      hand: 'usual',
      words: 'british',
      dailyCapMin: '400',
      isActive: 'yes',
      // 300 minutes by the clock are 250 of knitting, at 50 in the hour
      'minutes-6': '300',
      version: '1',
    });
    expect((await pageAt('/')).html).toContain('more than four hours a day');
    expect((await pageAt('/knitters/1')).html).toContain('More than four hours a day');
  });
});
