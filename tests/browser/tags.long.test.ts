import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { changePairPiece, listCurrentPairPieces } from '#db/stores/batch.ts';
import { createOrder } from '#db/stores/orders.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createYarn, createYarnColour } from '#db/stores/shelf.ts';
import { createFoot } from '#db/stores/sizing.ts';
import { readTagChoices } from '#flows/pricing/tags.ts';
import { readPlan } from '#flows/read-plan.ts';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { type Served, serveSample } from '#tests/support/served.ts';

const now = () => new Date('2026-11-25T09:00:00Z');

const a4 = { widthMm: 210, heightMm: 297 };
const letter = { widthMm: 216, heightMm: 279 };
const across = ({ widthMm, heightMm }: typeof a4) => ({ widthMm: heightMm, heightMm: widthMm });

describe.skipIf(!hasBrowser)('tags and price sheets in a browser', () => {
  let served: Served;
  let browser: Browser;
  let page: Page;
  let kindLineIds: readonly number[];

  beforeAll(async () => {
    [served, browser] = await Promise.all([serveSample(now), launchBrowser()]);
    const { styles, yarnColours, outlets } = await readWorkshop(served.workshop);
    await served.workshop.store.write('test: the fullest tags', async (tx) => {
      const foot = await createFoot(tx, {
        name: 'Wim',
        person: 'man',
        leftLengthMm: 260,
        rightLengthMm: 275,
        leftBallGirthMm: 250,
        rightBallGirthMm: 256,
      });
      const yarn = await createYarn(tx, {
        name: 'A yarn from the attic with a long name',
        fibre: null,
        tex: 1000,
        ballMg: 100_000,
        category: 5,
      });
      const colour = await createYarnColour(tx, { yarnId: yarn.id, name: 'Faded forget-me-not', swatchHex: '#7a8fb5' });
      const colours = [colour.id, yarnColours[1]!.id].map((yarnColourId, index) => ({
        role: ['foot', 'cuff'][index]!,
        strand: 0,
        yarnColourId,
      }));
      const line = { styleId: styles[0]!.id, fit: 'usual' as const, quantity: 1, colours };
      const child = { person: 'child' as const, sizeSystem: 'age', sizeLabel: '5' };
      await createOrder(tx, {
        outletId: outlets[0]!.id,
        state: 'agreed',
        createdDay: '2026-11-25',
        dueDay: '2027-03-01',
        lines: [
          { ...line, footId: foot.id },
          { ...line, ...child },
        ],
      });
      for (const piece of await listCurrentPairPieces(tx)) await changePairPiece(tx, piece.id, { stage: 'done' });
    });
    kindLineIds = readTagChoices(await readPlan(served.workshop, now())).kinds.map(({ lineId }) => lineId);
    page = await browser.newPage();
  });
  afterAll(async () => {
    await browser?.close();
    await served?.stop();
  });

  const query = (fields: Record<string, string>) =>
    new URLSearchParams({
      ...{ copies: '1', outlet: '2', name: 'Harbour Lane Slippers', paper: 'a4' },
      ...{ 'system-EU': 'yes', 'system-UK': 'yes', 'system-US': 'yes', 'system-Japan': 'yes' },
      ...fields,
    });
  const ofKinds = (count: number) => ({ pairs: 'kinds', [`count-${kindLineIds[0]}`]: String(count) });

  const print = (fields: Record<string, string>) => printAt(`/pricing/tags/print?${query(fields)}`);

  /** The pages a print takes, and their size in mm. */
  async function printAt(path: string) {
    await page.goto(`${served.address}${path}`);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf)!;
    const mm = (points: string | undefined) => Math.round((Number(points) * 25.4) / 72);
    return { pages: pdf.match(/\/Type\s*\/Page\b/g)!.length, widthMm: mm(width), heightMm: mm(height) };
  }

  it.each([
    ['tag', 15, a4, letter],
    ['care', 12, a4, letter],
    ['both', 6, across(a4), across(letter)],
  ] as const)(
    '%s: as many as a page holds take one page, one more takes two, on both papers',
    async (shows, full, onA4, onLetter) => {
      expect(await print({ shows, ...ofKinds(full) })).toEqual({ pages: 1, ...onA4 });
      expect(await print({ shows, ...ofKinds(full), paper: 'letter' })).toEqual({ pages: 1, ...onLetter });
      expect(await print({ shows, ...ofKinds(full + 1) })).toEqual({ pages: 2, ...onA4 });
      expect(await print({ shows, ...ofKinds(full + 1), paper: 'letter' })).toEqual({ pages: 2, ...onLetter });
    },
  );

  it.each(['tag', 'care', 'both'])('%s: cuts no word off, on the screen and on paper', async (shows) => {
    const counts = Object.fromEntries(kindLineIds.map((id) => [`count-${id}`, '1']));
    await page.goto(`${served.address}/pricing/tags/print?${query({ shows, pairs: 'kinds', ...counts })}`);
    expect(await page.locator('.tag-piece').count()).toBe(kindLineIds.length);
    for (const media of ['screen', 'print'] as const) {
      await page.emulateMedia({ media });
      const cut = await page.evaluate(() =>
        [...document.querySelectorAll('.tag-half')].flatMap((half) => {
          const frame = half.getBoundingClientRect();
          return [...half.querySelectorAll('p, h2, li, strong, .chip')]
            .filter((each) => {
              const box = each.getBoundingClientRect();
              return (
                (box.height < 4 ||
                  box.bottom > frame.bottom + 0.5 ||
                  box.right > frame.right + 0.5 ||
                  each.scrollHeight > each.clientHeight + 3 * Number(each.matches('h2, li'))) &&
                getComputedStyle(each).display !== 'inline'
              );
            })
            .map((each) => `${each.tagName} ${each.textContent}`);
        }),
      );
      expect([media, cut]).toEqual([media, []]);
    }
    await page.emulateMedia({ media: null });
  });

  it.each([390, 1280])('the form goes to the tags without scripts, %d wide', async (width) => {
    const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width, height: 800 } });
    const own = await context.newPage();
    await own.goto(`${served.address}/pricing/tags`);
    await own.getByLabel('Name of the workshop').fill('Harbour Lane');
    await own.getByRole('button', { name: 'Show them to print' }).click();
    // The two pairs of the order that was begun are finished, and three came home from the autumn market.
    expect(await own.locator('.tag-piece').count()).toBe(5);
    expect(await own.locator('.tag-workshop').first().textContent()).toBe('Harbour Lane');
    const { scroll, client } = await own
      .locator('html')
      .evaluate((html) => ({ scroll: html.scrollWidth, client: html.clientWidth }));
    expect(scroll).toBeLessThanOrEqual(client);
    await own.getByRole('link', { name: 'Choose again' }).click();
    expect(await own.getByLabel('Name of the workshop').inputValue()).toBe('Harbour Lane');
    await context.close();
  });

  const sheet = (fields: Record<string, string>) => {
    const asked = { paper: 'a4', type: 'large', outlet: '2', 'style-1': 'yes', 'yarn-1': 'yes', name: 'Harbour Lane' };
    const labels = { 'system-EU': 'yes', 'system-UK': 'yes', 'system-US': 'yes', 'system-Japan': 'yes' };
    return `/pricing/sheet?${new URLSearchParams({ ...asked, ...labels, ...fields })}`;
  };
  const women = { 'run-woman': 'yes', second: 'yes' };
  const sixColumns = { ...women, type: 'usual', 'style-2': 'yes', 'style-3': 'yes', 'yarn-2': 'yes' };

  it('a price sheet of women’s sizes in large type is one page, upright, on both papers', async () => {
    expect(await printAt(sheet(women))).toEqual({ pages: 1, ...a4 });
    expect(await printAt(sheet({ ...women, paper: 'letter' }))).toEqual({ pages: 1, ...letter });
  });

  it('everybody’s sizes in large type take two pages, six columns lie across', async () => {
    const everybody = { 'run-woman': 'yes', 'run-man': 'yes', 'run-child': 'yes' };
    expect(await printAt(sheet(everybody))).toEqual({ pages: 2, ...a4 });
    expect(await printAt(sheet({ ...everybody, paper: 'letter' }))).toEqual({ pages: 2, ...letter });
    expect(await printAt(sheet(sixColumns))).toEqual({ pages: 1, ...across(a4) });
    expect(await printAt(sheet({ ...sixColumns, paper: 'letter' }))).toEqual({ pages: 1, ...across(letter) });
  });

  it.each([
    // Children's labels are the longest, and A4 is the narrower upright.
    [sheet({ ...women, 'run-child': 'yes', 'run-bands': 'yes' }), a4.widthMm - 28],
    [sheet({ ...women, 'run-child': 'yes', 'run-bands': 'yes', 'style-2': 'yes' }), letter.heightMm - 28],
    [sheet({ ...sixColumns, 'run-child': 'yes', 'run-bands': 'yes' }), letter.heightMm - 28],
  ])('cuts nothing off a price sheet at the sides %#', async (path, widthMm) => {
    await page.goto(`${served.address}${path}`);
    await page.setViewportSize({ width: Math.floor((widthMm * 96) / 25.4), height: 1000 });
    await page.emulateMedia({ media: 'print' });
    const cut = await page.evaluate(() => {
      const frame = document.querySelector('.price-sheet')!.getBoundingClientRect();
      return [...document.querySelectorAll('.price-sheet :is(th, td, small, strong, p)')]
        .filter((each) => each.getBoundingClientRect().right > frame.right + 1)
        .map((each) => each.textContent);
    });
    await page.emulateMedia({ media: null });
    expect(cut).toEqual([]);
  });

  it.each([sheet(women), sheet({ ...sixColumns, 'run-bands': 'yes' })])(
    'a price sheet fits a phone %#',
    async (path) => {
      await page.setViewportSize({ width: 390, height: 800 });
      await page.goto(`${served.address}${path}`);
      const { scroll, client } = await page
        .locator('html')
        .evaluate((html) => ({ scroll: html.scrollWidth, client: html.clientWidth }));
      expect(scroll).toBeLessThanOrEqual(client);
      // Each label once: below the size, its own column is gone.
      expect(await page.locator('.price-table .on-wide:visible').count()).toBe(0);
      expect(await page.locator('.price-table .on-narrow').first().isVisible()).toBe(true);
    },
  );
});
