import { inflateSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createOrder } from '#db/stores/orders.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createFoot } from '#db/stores/sizing.ts';
import { readRuns } from '#flows/cards/read-runs.ts';
import { readPlan } from '#flows/read-plan.ts';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { type Served, serveSample } from '#tests/support/served.ts';

const now = () => new Date('2026-11-25T09:00:00Z');
const pxPerMm = 96 / 25.4;

describe.skipIf(!hasBrowser)('knitting cards in a browser', () => {
  let served: Served;
  let browser: Browser;
  let page: Page;
  let runs: ReturnType<typeof readRuns>['knitters'][number]['runs'];

  beforeAll(async () => {
    [served, browser] = await Promise.all([serveSample(now), launchBrowser()]);
    const { styles, yarnColours, outlets } = await readWorkshop(served.workshop);
    const colours = [yarnColours[0]!, yarnColours[1]!];
    await served.workshop.store.write('test: odd feet', async (tx) => {
      const feet = [
        { name: 'Wim', leftLengthMm: 260, rightLengthMm: 275, cuffHeightMm: null },
        { name: 'Otto', leftLengthMm: 295, rightLengthMm: 310, cuffHeightMm: 150 },
      ];
      for (const { cuffHeightMm, ...lengths } of feet) {
        const foot = await createFoot(tx, { person: 'man', ...lengths });
        await createOrder(tx, {
          outletId: outlets[0]!.id,
          state: 'agreed',
          createdDay: '2026-11-25',
          dueDay: '2027-03-01',
          lines: [
            {
              styleId: styles[0]!.id,
              footId: foot.id,
              fit: 'usual',
              cuffHeightMm,
              quantity: 1,
              colours: ['foot', 'cuff'].map((role, index) => ({ role, strand: 0, yarnColourId: colours[index]!.id })),
            },
          ],
        });
      }
    });
    runs = readRuns(await readPlan(served.workshop, now())).knitters.flatMap((knitter) => knitter.runs);
    page = await browser.newPage();
  });
  afterAll(async () => {
    await browser?.close();
    await served?.stop();
  });

  const runQuery = (chosen: readonly { readonly key: string }[]) =>
    chosen.map(({ key }) => `run=${encodeURIComponent(key)}`).join('&');
  const started = () => runs.find((run) => run.isStarted)!;
  const odd = () => runs.filter(({ right }) => right !== null);

  async function printed(query: string): Promise<Buffer> {
    await page.goto(`${served.address}/cards/print?${query}`);
    return await page.pdf({ preferCSSPageSize: true });
  }

  /** The pages a print takes, and their size in mm. */
  async function print(query: string): Promise<{ pages: number; widthMm: number; heightMm: number }> {
    const pdf = (await printed(query)).toString('latin1');
    const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf)!;
    const mm = (points: string | undefined) => Math.round((Number(points) * 25.4) / 72);
    return { pages: pdf.match(/\/Type\s*\/Page\b/g)!.length, widthMm: mm(width), heightMm: mm(height) };
  }

  /** The first letters of each page, as the glyphs that are drawn for them, four digits each. */
  async function firstGlyphs(query: string, letters: number): Promise<string[]> {
    const pdf = (await printed(query)).toString('latin1');
    return [...pdf.matchAll(/\/Contents (\d+) 0 R/g)].map(([, object]) => {
      const start = pdf.indexOf('stream\n', pdf.indexOf(`\n${object} 0 obj`)) + 'stream\n'.length;
      const drawn = inflateSync(Buffer.from(pdf.slice(start, pdf.indexOf('endstream', start)), 'latin1'));
      const glyphs = [...drawn.toString('latin1').matchAll(/<([0-9A-F]+)> Tj/gi)].map(([, each]) => each).join('');
      return glyphs.slice(0, 4 * letters);
    });
  }

  it('a pair is one page of A4 or of US letter, two at most in large print', async () => {
    const run = runQuery([started()]);
    expect(await print(run)).toEqual({ pages: 1, widthMm: 210, heightMm: 297 });
    expect(await print(`${run}&paper=letter`)).toEqual({ pages: 1, widthMm: 216, heightMm: 279 });
    expect((await print(`${run}&print=large`)).pages).toBeLessThanOrEqual(2);
  });

  it('every pair takes one page of either paper, whether its feet are alike or odd', async () => {
    expect(runs.length).toBeGreaterThan(10);
    const pairs = runs.reduce((sum, run) => sum + run.count, 0);
    expect((await print(runQuery(runs))).pages).toBe(pairs);
    expect((await print(`${runQuery(runs)}&paper=letter`)).pages).toBe(pairs);
    // Among them feet of a tall man with cuffs to turn down.
    expect(odd().length).toBeGreaterThan(1);
  });

  it('says on the second page of large print which pair it is', async () => {
    const pages = await firstGlyphs(`${runQuery([odd()[0]!])}&print=large`, 'Two-piece slipper'.length);
    expect(pages).toHaveLength(2);
    expect(pages[0]).toMatch(/^[0-9A-F]{68}$/i);
    expect(pages[1]).toBe(pages[0]);
  });

  it('four small cards share a page', async () => {
    const four = runs.filter((run) => run.right === null && run.count === 1).slice(0, 8);
    expect(await print(`${runQuery(four)}&layout=four`)).toEqual({ pages: 2, widthMm: 210, heightMm: 297 });
  });

  it.each(['', '&layout=four', '&print=large', '&print=large&layout=four'])(
    'cuts nothing off at the sides %s',
    async (choice) => {
      await page.goto(`${served.address}/cards/print?${runQuery(runs)}${choice}`);
      await page.setViewportSize({ width: Math.floor(188 * pxPerMm), height: 1000 });
      await page.emulateMedia({ media: 'print' });
      const cut = await page.evaluate(() =>
        [...document.querySelectorAll('.sheet, .small-card')].flatMap((card) => {
          const frame = card.getBoundingClientRect();
          return [...card.querySelectorAll('li, td, th, p, dd, svg, h2, h3')]
            .filter((each) => {
              const box = each.getBoundingClientRect();
              return box.left < frame.left - 1 || box.right > frame.right + 1;
            })
            .map((each) => each.outerHTML.slice(0, 80));
        }),
      );
      await page.emulateMedia({ media: null });
      expect(cut).toEqual([]);
    },
  );

  it.each([true, false])('rows done survive a closed phone, scripts allowed: %s', async (javaScriptEnabled) => {
    const context = await browser.newContext({ javaScriptEnabled, viewport: { width: 390, height: 800 } });
    const phone = await context.newPage();
    const slipper = javaScriptEnabled ? 1 : 2;
    const address = `${served.address}/cards/pair/${started().pairIds[0]}?piece=foot&slipper=${slipper}`;
    await phone.goto(address);
    for (const expected of ['1', '2', '3']) {
      await phone.getByRole('button', { name: 'One row more' }).click();
      await phone.locator('.rows-done strong', { hasText: new RegExp(`^${expected}$`) }).waitFor();
    }
    await phone.getByRole('button', { name: 'One back' }).click();
    await phone.locator('.rows-done strong', { hasText: /^2$/ }).waitFor();
    await context.close();
    const other = await browser.newPage();
    await other.goto(address);
    expect(await other.locator('.rows-done strong').textContent()).toBe('2');
    await other.close();
  });
});
