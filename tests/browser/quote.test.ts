import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { beginWalk, type Walker } from '#tests/support/browser-walk.ts';
import { type Served, sendForm, serveWorkshop } from '#tests/support/served.ts';
import { scriptCases } from '#tests/support/thorough.ts';

const patienceMs = 60_000;
const now = () => new Date('2026-11-25T09:00:00Z');

describe.skipIf(!hasBrowser).each(scriptCases)(
  'from a message to the post, on a phone, scripts allowed: $hasScript',
  ({ hasScript }) => {
    let served: Served;
    let browser: Browser;
    let walker: Walker;
    let stuckAt: string | null = null;
    let total = '';
    let deposit = '';
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

    beforeAll(async () => {
      [served, browser] = await Promise.all([serveWorkshop(now), launchBrowser()]);
      await sendForm(served, '/begin/sample');
      walker = await beginWalk(browser, served.address, hasScript);
    }, patienceMs);
    afterAll(async () => {
      await browser?.close();
      await served?.stop();
    });

    const reply = () => walker.page.getByLabel('To copy into your answer').inputValue();

    step('a message comes in: a size, a colour and where it goes are enough for the answer', async () => {
      const { open, follow, tap, type, select, press, title, takeCounts } = walker;
      await open('/orders');
      takeCounts();
      await follow('New quote');
      await tap('woman');
      await type('Size', '37');
      await tap('Rosehip');
      await type('For whom, if you know', 'Lena Holt');
      await type('Where to reach them', 'lena@holt.example');
      await walker.page.locator('summary', { hasText: 'By post' }).click();
      await select('How does it go?', 'by post: Inland');
      await press('Show price and day');
      expect(takeCounts()).toEqual({ pages: 2, fields: 6 });
      expect(await title()).toMatch(/^Quote \d+ for Lena Holt$/);
    });

    step('the answer has price, deposit, day, postage and how long it is good', async () => {
      const { read, page } = walker;
      const text = await reply();
      const said = /That makes (€[\d.]+) in all\.\nI ask for (€[\d.]+) before I begin/.exec(text);
      total = said?.[1] ?? '';
      deposit = said?.[2] ?? '';
      expect(text).toMatch(/^Hello Lena Holt,/);
      expect(text).toMatch(/1 pair of slippers, woman EU 37, in Rosehip, short cuff: €[\d.]+\n- Postage: €[\d.]+/);
      expect(text).toMatch(/I can post them on .* 20\d\d; they should be with you by .* 20\d\d\./);
      expect(text).toContain('good until Wed 9 Dec 2026');
      expect(text).toContain('before I begin if that is not so');
      const shown = await read();
      expect(shown).toContain(total);
      expect(shown).toContain(`${deposit} deposit before it is begun`);
      expect(shown).toMatch(/pays your wage at €/);
      expect(shown).toMatch(/balls? of 100 g at|is bought anyway/);
      // Nothing is wider than the phone.
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(390);
    });

    step('the words may be changed before they are copied', async () => {
      const { page } = walker;
      await page.getByLabel('To copy into your answer').fill('Dear Lena,');
      expect(await reply()).toBe('Dear Lena,');
    });

    step('a price by hand shows what an hour earns, and the sheet’s comes back', async () => {
      const { page, type, press, read } = walker;
      await page.locator('summary', { hasText: 'Ask another price' }).click();
      await type('A pair of woman EU 37', '25');
      await press('Ask this, and see what an hour earns');
      expect(await read()).toMatch(/€[\d.]+ an hour, below your wage/);
      expect(await reply()).toContain('short cuff: €25.00');
      if (!(await page.getByLabel('A pair of woman EU 37').isVisible())) {
        await page.locator('summary', { hasText: 'Ask another price' }).click();
      }
      await type('A pair of woman EU 37', '');
      await press('Ask this, and see what an hour earns');
      expect(await reply()).toContain(`That makes ${total} in all`);
    });

    step('it prints on one sheet', async () => {
      const { follow, page, read } = walker;
      await follow('A page to print or send');
      expect(await read()).toMatch(/In all €[\d.]+/);
      for (const format of ['A4', 'Letter']) {
        const pdf = await page.pdf({ format });
        expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
      }
      await follow('Back to the quote');
    });

    step('they said yes: it is an order at its price, and the deposit is due', async () => {
      const { press, title, read } = walker;
      await press('They said yes');
      expect(await title()).toMatch(/^Order \d+ for Lena Holt$/);
      const order = await read();
      expect(order).toContain(total);
      expect(order).toContain(deposit);
    });

    step('the deposit is paid, and the rest is owed', async () => {
      const { page, press, read } = walker;
      const note = page.locator('details.more', { hasText: 'Note a payment' });
      if (!(await note.getByLabel('Amount').isVisible())) await note.locator('summary').click();
      expect(await note.getByLabel('Amount').inputValue()).toBe(deposit.slice(1));
      await note.getByLabel('bank transfer').check();
      await press('Note the payment');
      const rest = (Number(total.slice(1)) - Number(deposit.slice(1))).toFixed(2);
      expect(await read()).toContain(`Owed €${rest}`);
    });

    step('the pair is knitted', async () => {
      const { open, follow, page, tap, press, read } = walker;
      await open('/batch');
      await follow('Start knitting');
      for (const box of await page.locator('input[type=checkbox]').all()) await box.uncheck();
      await tap(/Lena Holt/);
      await press('Look again with these orders');
      await press(/^Start 1 pair/);
      await press(/^Finished/);
      // No yarn of its colour is here yet, so it is asked what the pair was knitted from.
      expect(await read()).toContain('still waits for yarn');
      await page.getByLabel('Yarn that is not on the shelf').check();
      await press(/^Finished/);
      expect(await read()).toMatch(/1 of 1 pairs finished/);
    });

    step('the rest is paid and it is put in the post', async () => {
      const { open, follow, page, press, read } = walker;
      await open('/orders');
      await follow('Lena Holt');
      await press('Note the payment');
      expect(await read()).toMatch(/Owed €0\.00|paid/i);
      await press('It is posted');
      expect(await read()).toMatch(/posted/i);
      const { orders, pairs, lines, payments } = await readWorkshop(served.workshop);
      const order = orders.find((each) => each.postedDay === '2026-11-25')!;
      expect(order).toMatchObject({ state: 'agreed', holds: false });
      const own = lines.filter(({ orderId }) => orderId === order.id).map(({ id }) => id);
      expect(pairs.filter(({ lineId }) => own.includes(lineId ?? 0))).toMatchObject([{ left: 'handed over' }]);
      const paid = payments.filter(({ orderId }) => orderId === order.id).reduce((sum, { cents }) => sum + cents, 0);
      expect(paid).toBe(Math.round(Number(total.slice(1)) * 100));
      expect(await page.locator('h1').textContent()).toContain('Lena Holt');
    });
  },
);
