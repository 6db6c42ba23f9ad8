// Every state of a search that goes on beside a page, in every width and scheme.
process.env.THOROUGH = 'yes';

import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Workshop } from '#db/open.ts';
import { createSolver } from '#solver/solver.ts';
import { brokenWorker } from '#tests/support/broken-worker.ts';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { addCoupledSeason } from '#tests/support/coupled-season.ts';
import { addLargeShelf } from '#tests/support/large-shelf.ts';
import { serveWorkshop } from '#tests/support/served.ts';

const { expectUsable } = await import('#tests/support/usable.ts');

const patienceMs = 60_000;

async function largeShelf(workshop: Workshop): Promise<string> {
  const fields = await addLargeShelf(workshop);
  const sent = Object.entries(fields).flatMap(([name, value]) => [value].flat().map((each) => [name, each]));
  return `/shelf/most-pairs?${new URLSearchParams(sent)}`;
}

async function coupledSeason(workshop: Workshop): Promise<string> {
  await addCoupledSeason(workshop, { colours: 4 });
  return '/buying';
}

const late = { list: { graceMs: -2100 }, pairs: { graceMs: -14_900 } };
const stop = (page: Page) => page.getByRole('button', { name: 'Stop looking' }).click();
const untilEnded = (page: Page) =>
  page.getByText(/^Looking (for|what)/).waitFor({ state: 'detached', timeout: 20_000 });

/** Each state: what the worker is, how it comes about on the page, and what the page then says of the search. */
const states = [
  {
    state: 'looking',
    options: { scripts: brokenWorker('worker-silent'), graceMs: 60_000 },
    until: async () => {},
    says: { list: 'Looking for a cheaper list', pairs: 'Looking for more pairs' },
  },
  {
    state: 'found and proven',
    options: {},
    until: untilEnded,
    says: { list: 'it cannot be cheaper', pairs: 'cannot be more' },
  },
  {
    state: 'stopped',
    options: { scripts: brokenWorker('worker-silent') },
    until: stop,
    says: { list: 'The search was stopped', pairs: 'The search for more was stopped' },
  },
  {
    state: 'failed',
    options: { scripts: brokenWorker('worker-crashing') },
    until: untilEnded,
    says: { list: 'The search broke off', pairs: 'The search for more broke off' },
  },
  {
    state: 'out of time',
    options: { scripts: brokenWorker('worker-silent') },
    until: untilEnded,
    says: { list: 'ran out of time', pairs: 'The search for more ran out of time' },
  },
] as const;
const pages = [
  { name: 'Yarn to buy', kind: 'list', add: coupledSeason },
  { name: 'Most pairs', kind: 'pairs', add: largeShelf },
] as const;
const cases = pages.flatMap((page) => states.map((state) => ({ ...page, ...state })));

describe.skipIf(!hasBrowser)('a search beside the page, told to everybody', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  }, patienceMs);
  afterAll(() => browser?.close());

  it.each(cases)(
    '$name: $state',
    async ({ kind, add, state, options, until, says }) => {
      const solver = createSolver({ ...options, ...(state === 'out of time' ? late[kind] : {}) });
      const served = await serveWorkshop(undefined, solver);
      // Out of reach of the content policy so that the checker can be put in.
      const context = await browser.newContext({ bypassCSP: true });
      try {
        const page = await context.newPage();
        const path = await add(served.workshop);
        await page.goto(served.address + path);
        await until(page);
        await page.waitForLoadState();
        await page.getByText(says[kind]).first().waitFor();
        // What stands there now is looked at; it must not be swapped meanwhile.
        await page.route('**/search*', () => {});
        await expectUsable(page);
        expect(await page.getByText(says[kind]).count()).toBeGreaterThan(0);
      } finally {
        await context.close();
        await solver.close();
        // What a search that was closed had found is kept before the file goes.
        await new Promise((resolve) => setTimeout(resolve, 50));
        await served.stop();
      }
    },
    patienceMs,
  );

  it(
    'keeps what is typed while more pairs are looked for, and makes a batch of those that are shown',
    async () => {
      const solver = createSolver();
      const served = await serveWorkshop(undefined, solver);
      const context = await browser.newContext();
      try {
        const page = await context.newPage();
        await page.goto(served.address + (await largeShelf(served.workshop)));
        const due = page.getByLabel('Due, if there is a day');
        await due.fill('2028-12-20');
        await untilEnded(page);
        expect(await due.inputValue()).toBe('2028-12-20');
        const pairs = await page.locator('#shelf-answer .figure-row').first().textContent();
        await page.getByRole('button', { name: 'Put them in the batch' }).click();
        await page.getByText(`Order 1 is in the batch with ${Number.parseInt(pairs!, 10)} pairs to knit.`).waitFor();
      } finally {
        await context.close();
        await solver.close();
        await served.stop();
      }
    },
    patienceMs,
  );
});
