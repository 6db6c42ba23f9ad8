import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { beginWalk, seenText, type Walker } from '#tests/support/browser-walk.ts';
import { type Served, serveWorkshop } from '#tests/support/served.ts';
import { scriptCases } from '#tests/support/thorough.ts';

const patienceMs = 60_000;
const begunMs = Date.now();
/** A Wednesday morning in November, and time passes. */
const now = () => new Date(Date.parse('2026-11-25T09:00:00Z') + Date.now() - begunMs);

const goodTable = [
  'customer,outlet,due,size,yarn,foot colour,quantity',
  'Nell Harrow,By order,2027-01-15,woman EU 39,Harbour Bulky,Fog,1',
  'Otto Wren,By order,15.1.2027,foot 26.5 cm,Harbour Bulky,Slate,2',
].join('\n');
const faultyTable = goodTable.replace('Slate,2', 'Slat,two');

/** Whatever a page prints as: the number of sheets, and the text when a reader of it is installed. */
async function print({ page }: Walker): Promise<{ sheets: number; text: string | null }> {
  const pdf = await page.pdf({ format: 'A4' });
  const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  const reader = spawnSync('pdftotext', ['-', '-'], { input: pdf });
  return { sheets, text: reader.status === 0 ? reader.stdout.toString('utf8') : null };
}

describe.skipIf(!hasBrowser).each(scriptCases)(
  'the main job on a phone, scripts allowed: $hasScript',
  ({ hasScript }) => {
    let served: Served;
    let second: Served;
    let browser: Browser;
    let walker: Walker;
    let folder: string;
    let stuckAt: string | null = null;
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
      [served, second, browser] = await Promise.all([serveWorkshop(now), serveWorkshop(now), launchBrowser()]);
      walker = await beginWalk(browser, served.address, hasScript);
      folder = mkdtempSync(join(tmpdir(), 'walk-'));
    }, patienceMs);
    afterAll(async () => {
      await browser?.close();
      await served?.stop();
      await second?.stop();
      rmSync(folder, { recursive: true, force: true });
    });

    step('tries one pair before anything is there', async () => {
      const { open, follow, tap, type, press, read, takeCounts } = walker;
      await open('/');
      await follow('Try one pair');
      await tap('a woman');
      await type('Size', '38');
      await type('Stitches in 10 cm', '13');
      await type('Rows in 10 cm', '18');
      await press('Show the pair');
      const counts = takeCounts();
      expect(counts.pages).toBeLessThanOrEqual(3);
      expect(counts.fields).toBeLessThanOrEqual(6);
      const answer = await read();
      expect(answer).toContain('28 stitches');
      // The pair that the method page works by hand: 103 g and 3 h 32, each to within its last rounding.
      const [, grams] = /(\d+) g ±/.exec(answer) ?? [];
      expect(Math.abs(Number(grams) - 103)).toBeLessThanOrEqual(2);
      expect(answer).toMatch(/3 h 3[1-3]/);
    });

    step('keeps it as the first order', async () => {
      await walker.press('Keep as my first order');
      expect(await walker.title()).toMatch(/^Order 1, By order/);
      expect(await walker.read()).toContain('woman EU 38');
    });

    step('clears all, looks at the sample, and clears it in one step', async () => {
      const { open, type, press, pressInVain, title, page } = walker;
      await open('/settings');
      await pressInVain('Clear everything', 422);
      await type(/^To be sure/, 'clear all');
      await press('Clear everything');
      expect(await title()).toBe('Slippers, from foot to finished price');
      await press('Open the sample season');
      expect(await seenText(page.locator('.sample-band'))).toContain('Sample season');
      await walker.follow('Clear it and begin your own');
      await press('Clear the sample season');
      expect(await title()).toBe('Slippers, from foot to finished price');
    });

    step('begins one’s own to give: no money is in the way', async () => {
      const { tap, press, page, read } = walker;
      await tap(/^to give/);
      await press('Begin my own');
      const places = await seenText(page.locator('.thumb-nav'));
      expect(places).toContain('Batch');
      expect(places).not.toContain('Costs and prices');
      expect(await read()).not.toMatch(/€|earn/);
      await walker.open('/settings');
      await walker.type(/^To be sure/, 'clear all');
      await press('Clear everything');
      await press('Open the sample season');
    });

    step('takes an order with a size and a colour, and the same again', async () => {
      const { open, follow, type, tap, press, title, read, takeCounts } = walker;
      await open('/orders');
      takeCounts();
      await follow('New order');
      await tap('woman');
      await type('Size', '38');
      await tap('Heather');
      await press('Save the order');
      expect(takeCounts()).toEqual({ pages: 2, fields: 3 });
      const first = await title();
      expect(await read()).toMatch(/woman EU 38.*Heather/);
      await press('Same again');
      expect(await title()).not.toBe(first);
      expect(await read()).toMatch(/woman EU 38.*Heather/);
    });

    step('adds a line by a measured foot, and one by band', async () => {
      const { follow, tap, type, select, press, read } = walker;
      await follow('Add another line');
      await tap(/measured f/);
      await type(/left foot.*(toe|length)/i, '24.5');
      await tap('Fog');
      await press('Add the line');
      expect(await read()).toContain('24.5 cm');
      await follow('Add another line');
      await tap(/^a band/);
      await select('Band', '37/38');
      await press('Add the line');
      expect(await read()).toMatch(/37\/38/);
    });

    step('fills a grid and saves it once', async () => {
      const { open, type, select, press, read } = walker;
      await open('/orders/grid');
      await select('Whose feet', 'women');
      await select('Sizes in', 'EU');
      await select('Yarn', 'Harbour Bulky');
      await type('Which sizes', '37-39');
      await press('Show these');
      await type('woman EU 37, Heather', '2');
      await type('woman EU 38, Oat', '3');
      await type('woman EU 39, Oat', '1');
      await press('Save all pairs');
      const order = await read();
      expect(order).toMatch(/6 pairs/);
      expect(order).toMatch(/EU 38/);
    });

    step('changes an order, cancels it and takes that back', async () => {
      const { follow, type, press, title, read } = walker;
      await follow('Change customer or day');
      await type('For whom, if anybody', 'Mara Linden');
      await press('Save the order');
      expect(await title()).toContain('Mara Linden');
      await press('Cancel the order');
      expect(await read()).toContain('Cancelled');
      await press('Take the cancelling back');
      expect(await read()).not.toContain('Cancelled');
    });

    step('imports a table: faults named, then mended, then known again', async () => {
      const { open, type, press, pressInVain, read, page } = walker;
      await open('/orders/import');
      await type('Or the table itself', faultyTable);
      await pressInVain('Import', 422);
      const faults = await read();
      expect(faults).toMatch(/row 3, foot colour: .*Slat/);
      expect(faults).toMatch(/row 3, quantity: .*two/);
      expect(await page.getByLabel('Or the table itself').inputValue()).toBe(faultyTable);
      await open('/orders?show=all');
      expect(await read()).not.toContain('Nell Harrow');

      await open('/orders/import');
      await type('Or the table itself', goodTable);
      await press('Import');
      expect(await read()).toMatch(/Nell Harrow.*Otto Wren|Otto Wren.*Nell Harrow/);
      await open('/orders/import');
      await type('Or the table itself', goodTable);
      await pressInVain('Import', 409);
      expect(await read()).toContain('This table was imported before');
    });

    step('reads all of a line', async () => {
      const { open, follow, read } = walker;
      await open('/orders');
      await follow('Nell Harrow');
      await follow('woman EU 39');
      const line = await read();
      for (const part of [
        'Length',
        'Round the ball',
        'Round heel and ankle',
        'Heel to toe, lying flat',
        'Width, flat',
      ]) {
        expect(line).toContain(part);
      }
      for (const part of ['Cast on for the foot', 'Rows of the foot', 'Mark for the opening', 'Toe', 'Cuff, round']) {
        expect(line).toContain(part);
      }
      expect(line).toMatch(/Opening, all round/);
      expect(line).toMatch(/Yes: The opening is .*so the foot gets in/);
      expect(line).toMatch(/Yes: The cuff is .*so the foot gets in/);
    });

    step('gathers the batch and says who knits what by when', async () => {
      const { open, read, title, page } = walker;
      await open('/batch');
      expect(await title()).toMatch(/pairs for Winter fair and/);
      const batch = await read();
      expect(batch).toMatch(/What to make/);
      expect(batch).toMatch(/Who knits what/);
      for (const name of ['Ada', 'Bram', 'Ines']) {
        const row = page.locator('table', { hasText: 'Begins' }).locator('tr', { hasText: name }).first();
        expect(await seenText(row)).toMatch(/\d+ h \d\d.*\d+ (Nov|Dec|Jan|Feb)/);
      }
    });

    step('starts knitting one order', async () => {
      const { follow, page, type, tap, press, title, read } = walker;
      await follow('Start knitting');
      for (const box of await page.locator('input[type=checkbox]').all()) await box.uncheck();
      await tap(/Order 3, Mrs Alder/);
      await press('Look again with these orders');
      expect(await read()).toMatch(/Start this pair\?/);
      await type('Name of the batch', 'Mrs Alder’s pair');
      await press(/^Start 1 pair/);
      expect(await title()).toBe('Mrs Alder’s pair');
      expect(await read()).toMatch(/Weigh out .* g Heather/);
    });

    step('finishes the pair; its order falls through, and it answers another by fit', async () => {
      const { open, follow, tap, type, press, read } = walker;
      await press(/^Finished/);
      expect(await read()).toMatch(/1 of 1 pairs finished/);
      await follow(/order 3, Mrs Alder/);
      // She had paid a deposit.
      await walker.page.locator('summary', { hasText: 'Cancel the order' }).click();
      await tap(/^it goes back today/);
      await press('Cancel the order');
      await open('/batch/stock');
      expect(await read()).toMatch(/woman EU 38 .*Heather/);
      // A new customer with her own foot, not a 38 by name.
      await open('/orders/new');
      await tap(/measured f/);
      await tap('woman');
      await type(/left foot.*(toe|length)/i, '23.9');
      await tap('Heather');
      await walker.select('Cuff colour', 'Fog');
      await type('For whom, if anybody', 'Greta Vale');
      await type('Due day, if any', '2026-12-01');
      await press('Save the order');
      await open('/batch');
      expect(await read()).toMatch(/Taken from finished pairs .*23\.9 cm.*Greta Vale.*woman EU 38/);
    });

    step('reads what yarn to buy, from whom, and what will be left', async () => {
      const { open, title, read } = walker;
      await open('/buying');
      expect(await title()).toMatch(/balls to buy for €\d/);
      // A colour of one usual word stands whole: on one line.
      const broken = await walker.page
        .locator('.basket .chip > span')
        .evaluateAll((names) =>
          names
            .filter((name) => /^\S{1,9}$/.test(name.textContent ?? '') && name.getClientRects()[0]!.height > 40)
            .map((name) => name.textContent),
        );
      expect(broken).toEqual([]);
      const buying = await read();
      for (const part of ['The likely list', 'The safe list', 'Lanternside Yarns', 'Quillmoor Wool Post']) {
        expect(buying).toContain(part);
      }
      expect(buying).toMatch(/Postage (none|€\d)/);
      expect(buying).toMatch(/Together €\d/);
      expect(buying).toContain('What will likely be left');
    });

    step('puts what came on the shelf', async () => {
      const { follow, page, press, open, read } = walker;
      await follow('It is here');
      await follow('Lanternside Yarns');
      await page.getByLabel('Dye lot').first().fill('L-77');
      await press('Put it on the shelf');
      expect(await read()).toContain('The yarn is on the shelf');
      await open('/shelf');
      expect(await read()).toContain('L-77');
    });

    step('reads costs and prices, both lines and an hour’s worth', async () => {
      const { open, follow, read, title } = walker;
      await open('/pricing');
      expect(await title()).toMatch(/^A pair costs me €\d/);
      const prices = await read();
      expect(prices).toMatch(/gets the money of a pair back/);
      expect(prices).toMatch(/€\d+\.\d\d an hour/);
      await follow('woman EU 38');
      const pair = await read();
      expect(pair).toMatch(/money back/i);
      expect(pair).toMatch(/pays (my|your) wage/i);
      expect(pair).toMatch(/an hour earns €\d/);
    });

    step('opens the working of a figure and follows it', async () => {
      const { open, page, follow, title, read } = walker;
      await open('/batch');
      // The third kind: one knitter has all of it, so that one weight stands there.
      await page.locator('main summary:visible', { hasText: 'More' }).nth(2).click();
      await follow(/^\d+ g$/);
      expect(await title()).toMatch(/^How \d+ g comes about$/);
      expect(await read()).toMatch(/Step by step/);
      const steps = page.locator('.figure-step:visible');
      const shown = await steps.count();
      await page.locator('.figure-tree details:not([open]) > summary').first().click();
      expect(await steps.count()).toBeGreaterThan(shown);
      await follow('What the words mean, and one pair worked by hand');
      expect(await title()).toBe('How the numbers come about');
    });

    step('prints what goes on paper, without what is for the screen', async () => {
      const { open, page } = walker;
      const tried = '/try?person=woman&size=38&stitches=13&rows=18';
      const line = await servedLine();
      for (const [path, words] of [
        ['/batch', 'What to make'],
        ['/buying', 'The safe list'],
        ['/pricing/sheet', 'Size'],
        [line, 'Counts'],
        [tried, 'How to knit it'],
      ] as const) {
        await open(path);
        const { sheets, text } = await print(walker);
        expect(sheets, path).toBeGreaterThanOrEqual(1);
        if (text !== null) {
          expect(text, path).toContain(words);
          expect(text, path).not.toContain('Yarn shelf');
        }
        await page.emulateMedia({ media: 'print' });
        for (const nav of ['.page-nav', '.thumb-nav']) expect(await page.locator(nav).isVisible(), path).toBe(false);
        await page.emulateMedia({ media: null });
      }
    });

    async function servedLine(): Promise<string> {
      await walker.open('/orders');
      await walker.follow('Nell Harrow');
      return (await walker.page.getByRole('link', { name: 'woman EU 39', exact: true }).getAttribute('href'))!;
    }

    step('saves a copy and opens it in another workshop', async () => {
      const { open, page } = walker;
      await open('/settings');
      const coming = page.waitForEvent('download');
      await page.getByRole('link', { name: 'Save a copy' }).click();
      const download = await coming;
      expect(download.suggestedFilename()).toBe('toe-to-till-2026-11-25.db');
      const file = join(folder, 'copy.db');
      await download.saveAs(file);

      const other = await beginWalk(browser, second.address, hasScript);
      await other.open('/');
      await other.follow('Open a copy');
      writeFileSync(join(folder, 'letter.db'), 'Dear Greta, the slippers are done.');
      await other.page.getByLabel('Open a copy').setInputFiles(join(folder, 'letter.db'));
      await other.pressInVain('Open this copy', 422);
      await other.page.getByLabel('Open a copy').setInputFiles(file);
      await other.press('Open this copy');
      expect(await other.read()).toContain('The copy is open now');
      await other.open('/orders');
      const orders = await other.read();
      for (const name of ['Mara Linden', 'Greta Vale', 'Otto Wren']) expect(orders).toContain(name);
      expect(other.faults()).toEqual([]);
      await other.leave();
    });
  },
);
