import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { beginWalk, seenText, type Walker } from '#tests/support/browser-walk.ts';
import { type Served, sendForm, serveWorkshop } from '#tests/support/served.ts';
import { scriptCases } from '#tests/support/thorough.ts';

const patienceMs = 60_000;
const now = () => new Date('2026-11-25T09:00:00Z');

/** The sheets a page prints on, of a paper. */
async function sheetsOf({ page }: Walker, format: 'A4' | 'Letter'): Promise<number> {
  const pdf = (await page.pdf({ format })).toString('latin1');
  return pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}

describe.skipIf(!hasBrowser).each(scriptCases)(
  'a day’s selling on a phone, scripts allowed: $hasScript',
  ({ hasScript }) => {
    let served: Served;
    let browser: Browser;
    let walker: Walker;
    let stuckAt: string | null = null;
    let day = '';
    /** The day's form as the browser sent it. */
    let sent = '';
    /** One stretch of the way; the stretches after one that failed are left out. */
    const step = (name: string, walk: () => Promise<void>) =>
      it(
        name,
        async ({ skip }) => {
          if (stuckAt !== null) skip(`stuck at: ${stuckAt}`);
          stuckAt = name;
          await walk();
          expect(walker.faults()).toEqual([]);
          stuckAt = null;
        },
        patienceMs,
      );
    const rowOf = (words: string) =>
      seenText(walker.page.locator('table', { hasText: 'What became of the pairs' }).locator('tr', { hasText: words }));

    beforeAll(async () => {
      [served, browser] = await Promise.all([serveWorkshop(now), launchBrowser()]);
      await sendForm(served, '/begin/sample');
      // Pairs in colours that no order asks for: Heather (1) with Fir (3), Fog (6) with Fir, and one with a flaw.
      const stock = (label: string, quantity: string, foot: string, quality = 'good') =>
        sendForm(served, '/batch/stock', {
          style: '1',
          person: 'woman',
          system: 'EU',
          label,
          quantity,
          cuff: 'short',
          fit: 'usual',
          quality,
          'colour-foot': foot,
          'colour-cuff': '3',
        });
      for (const [label, quantity, foot, quality] of [
        ['36', '3', '1', 'good'],
        ['40', '2', '6', 'good'],
        ['40', '1', '1', 'second'],
      ] as const) {
        expect((await stock(label, quantity, foot, quality)).status).toBe(303);
      }
      walker = await beginWalk(browser, served.address, hasScript);
    }, patienceMs);
    afterAll(async () => {
      await browser?.close();
      await served?.stop();
    });

    step('adds the fair and takes all but one pair along', async () => {
      const { open, follow, type, press, title, page, read } = walker;
      await open('/fair');
      await follow('Add a fair');
      await type('Fair or market', 'Quay market');
      await type('Table fee', '24');
      await type('Day', '2026-11-21');
      await type('Hours open', '5');
      await type('Float', '40');
      await press('Save, then choose the pairs');
      expect(await title()).toMatch(/pairs to take along$/);
      // What the sample had before stays at home.
      for (const box of await page.getByLabel(/: taken along$/).all()) {
        const name = await box.getAttribute('aria-label');
        if (!/woman EU (36|40), (Heather|Fog) and Fir/.test(name ?? '')) await box.fill('0');
      }
      await type('woman EU 40, Fog and Fir: taken along', '1');
      await press('Take these along');
      expect(await read()).toContain('5 pairs');
      day = new URL(page.url()).pathname;
    });

    step('prints the tally on one page of either paper', async () => {
      await walker.follow('Tally sheet to print');
      const { page } = walker;
      await page.emulateMedia({ media: 'print' });
      expect(await page.locator('.tally-boxes .tally-box').count()).toBe(5);
      for (const nav of ['.page-nav', '.thumb-nav']) expect(await page.locator(nav).isVisible()).toBe(false);
      await page.emulateMedia({ media: null });
      expect(await sheetsOf(walker, 'A4')).toBe(1);
      expect(await sheetsOf(walker, 'Letter')).toBe(1);
    });

    step('is told of a slip, and loses nothing typed', async () => {
      const { follow, type, pressInVain, read, page } = walker;
      await follow('the day');
      await follow('Type in the day');
      await type('woman EU 36, Heather and Fir: sold in cash', '4');
      await type('Counted in the evening', '120');
      await pressInVain('Save the day', 422);
      expect(await read()).toContain('at most 3 more can have been sold');
      expect(await page.getByLabel('Counted in the evening').inputValue()).toBe('120');
    });

    step('types in the tally: cash, card, a bargain, and what was asked for in vain', async () => {
      const { type, press, page, read, select } = walker;
      await type('woman EU 36, Heather and Fir: sold in cash', '1');
      await type('woman EU 36, Heather and Fir: price of one', '40');
      await type('woman EU 40, Fog and Fir: sold by card', '1');
      await type('woman EU 40, Fog and Fir: price of one', '45');
      await page.locator('summary', { hasText: 'Sold at another price' }).click();
      await select('Pair', 'woman EU 40, Heather and Fir, with a flaw');
      await type('How many', '1');
      await page.locator('input[name=bargained-price-0]').fill('25');
      await type('Size', '43');
      await type('Colour', 'grey');
      await type('How often', '2');
      await type('Counted in the evening', '145');
      const posted = page.waitForRequest((request) => request.method() === 'POST');
      await press('Save the day');
      sent = (await posted).postData() ?? '';
      const text = await read();
      // 40 + 25 in cash and 45 by card; float 40 and cash 65 make 105, counted were 145.
      expect(text).toMatch(/€110\.00 takings: 3 pairs of 5/);
      expect(text).toMatch(/€40\.00 too much in the cash box/);
      expect(text).toMatch(/43, grey.*2/);
    });

    step('sends the same form once more: nothing counts twice', async () => {
      const { read, open } = walker;
      const before = await read();
      expect(sent).toMatch(/token=[0-9a-f]{32}/);
      const again = await sendForm(served, `${day}/tally`, Object.fromEntries(new URLSearchParams(sent)));
      expect(again.status).toBe(303);
      await open(day);
      expect(await read()).toBe(before);
    });

    step('counts what came home, and books the sale that nobody noted', async () => {
      const { follow, type, press, read } = walker;
      await follow('Type in more');
      await type('woman EU 36, Heather and Fir: came home', '1');
      await press('Save the day');
      expect(await rowOf('woman EU 36')).toMatch(/3 .*1 .*1 .*1/);
      expect(await read()).toContain('1 pair is neither sold nor home');
      await type('One at', '40');
      await press('Book these');
      const text = await read();
      expect(text).not.toContain('neither sold nor home');
      expect(text).toMatch(/€150\.00 takings: 4 pairs of 5/);
      expect(text).toMatch(/Right the cash box, to the penny/);
    });

    step('takes a sale back that was typed wrongly, and it is missing again', async () => {
      const { press, page, read } = walker;
      await page.locator('summary', { hasText: 'sales noted' }).click();
      await press(/^Take back woman EU 36/);
      const text = await read();
      expect(text).toContain('1 pair is neither sold nor home');
      expect(text).toMatch(/€110\.00 takings: 3 pairs of 5/);
      await press('Book these');
      expect(await read()).toContain('4 pairs of 5');
    });

    step('finds the day in the books', async () => {
      const { open, read } = walker;
      await open('/pricing/books?from=2026-11-21&to=2026-11-21');
      const books = await read();
      expect(books).toContain('By month');
      expect(books).toContain('Winter fair');
      // The card takes 1.75 % of 45.00, 0.79, and the table 24.00.
      expect(books).toContain('€24.79');
      expect(books).toContain('Two-piece slipper');
    });
  },
);
