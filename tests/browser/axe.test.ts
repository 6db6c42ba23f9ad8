import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fillerFor, pages } from '#tests/browser/pages.ts';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { type Served, serveSample } from '#tests/support/served.ts';
import { isThorough } from '#tests/support/thorough.ts';
import { expectUsable } from '#tests/support/usable.ts';

const patienceMs = 60_000;

/** Forms with something wrong in them: the page, the address its form goes to, and what is typed. */
const faultyForms: readonly {
  readonly page: string;
  readonly action: string;
  readonly typed: Record<string, string>;
}[] = [
  { page: '/orders/new', action: '/orders', typed: { label: 'huge', quantity: '-3', due: '' } },
  { page: '/orders/quotes/new', action: '/orders/quotes', typed: { label: 'huge', postage: 'x', deposit: 'y' } },
  { page: '/orders/:quote/quote', action: '/orders/:quote/quote/prices', typed: { deposit: 'much' } },
  { page: '/orders/grid', action: '/orders/grid', typed: { sizes: '36-' } },
  { page: '/orders/import', action: '/orders/import', typed: { text: 'size,colour\n38,Nothing' } },
  { page: '/orders/lines/:line/edit', action: '/orders/lines/:line', typed: { quantity: 'none', label: '900' } },
  { page: '/batch/start', action: '/batch/start', typed: { name: '' } },
  { page: '/batch/stock', action: '/batch/stock', typed: { label: '', quantity: '0' } },
  { page: '/buying/shops/new', action: '/buying/shops/new', typed: { name: '', shipping: 'much' } },
  { page: '/buying/prices', action: '/buying/prices', typed: { price: '-1' } },
  { page: '/shelf/add', action: '/shelf/add', typed: { gotDay: '' } },
  { page: '/shelf/yarns/new', action: '/shelf/yarns/new', typed: { name: '', strands: '99' } },
  { page: '/shelf/lots/:lot/weigh', action: '/shelf/lots/:lot/weigh', typed: {} },
  { page: '/knitters/new', action: '/knitters', typed: { name: '' } },
  { page: '/knitters/swatches/new', action: '/knitters/swatches', typed: {} },
  { page: '/pricing/hour', action: '/pricing/hour', typed: { wageCentsPerHour: 'much' } },
  { page: '/pricing/outlets/new', action: '/pricing/outlets', typed: { name: '', fee: '200' } },
  { page: '/pricing/groups/new', action: '/pricing/groups', typed: { name: '', price: 'x' } },
  { page: '/pricing/seen', action: '/pricing/seen', typed: { what: '', price: 'x' } },
  { page: '/pricing/shops/:seller', action: '/pricing/shops/:seller/count', typed: {} },
  { page: '/pricing/materials/new', action: '/pricing/materials', typed: { name: '', each: 'x' } },
  { page: '/fair/new', action: '/fair', typed: { name: '', hours: '30', fee: 'much' } },
  { page: '/fair/days/:day/tally', action: '/fair/days/:day/tally', typed: { cash: 'much', 'asked-count-0': '0' } },
  { page: '/sizing/bands/new', action: '/sizing/bands', typed: { name: '' } },
  { page: '/settings', action: '/settings/copy', typed: {} },
];

/** Pages used every day; they are gone through with the tab key too. */
const dailyPages = [
  '/',
  `/try?person=woman&size=38&stitches=13&rows=18`,
  '/orders',
  '/orders/new',
  '/orders/quotes/new',
  '/orders/:quote/quote',
  '/orders/grid',
  '/orders/lines/:line',
  '/batch',
  '/batch/start',
  '/buying',
  '/shelf',
  '/pricing',
  '/settings',
];

type Stop = { readonly name: string; readonly isMarked: boolean };

/** The control that has the focus, and whether one sees it; null on none. */
function readFocus(): Stop | null {
  const element = document.activeElement;
  if (!element || element === document.body) return null;
  const style = getComputedStyle(element);
  const isMarked = style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 2;
  return { name: element.getAttribute('data-stop') ?? element.outerHTML.slice(0, 100), isMarked };
}

/** Names every control that a hand can use; radios of one name are one stop. */
function nameControls(): string[] {
  const names = new Set<string>();
  const controls = document.querySelectorAll<HTMLElement>(
    'a[href], button, input:not([type=hidden]), select, textarea, summary',
  );
  for (const [index, control] of [...controls].entries()) {
    if (!control.checkVisibility({ visibilityProperty: true }) || control.matches(':disabled')) continue;
    const isRadio = control instanceof HTMLInputElement && control.type === 'radio';
    const what = isRadio ? `radio ${control.name}` : `${index} ${control.outerHTML.replace(/\s+/g, ' ').slice(0, 100)}`;
    control.setAttribute('data-stop', what);
    names.add(what);
  }
  return [...names];
}

describe.skipIf(!hasBrowser)('every page can be used by everybody', () => {
  let served: Served;
  let browser: Browser;
  let fill: (page: string) => string;

  beforeAll(async () => {
    served = await serveSample();
    browser = await launchBrowser();
    fill = await fillerFor(served.workshop);
  }, patienceMs);
  afterAll(async () => {
    await browser?.close();
    await served?.stop();
  });

  /** A page of its own, out of reach of the content policy so that the checker can be put in. */
  async function withPage(use: (page: Page) => Promise<void>): Promise<void> {
    const context = await browser.newContext({ bypassCSP: true });
    try {
      await use(await context.newPage());
    } finally {
      await context.close();
    }
  }

  it.each(isThorough ? pages : dailyPages)(
    '%s',
    async (path) => {
      await withPage(async (page) => {
        const answer = await page.goto(served.address + fill(path));
        expect(answer?.status()).toBe(path === '/no-such-page' ? 404 : 200);
        await expectUsable(page);
      });
    },
    patienceMs,
  );

  it.each(isThorough ? faultyForms : faultyForms.slice(0, 3))(
    '$page, sent to $action with faults',
    async ({ page: path, action, typed }) => {
      await withPage(async (page) => {
        await page.goto(served.address + fill(path));
        const answer = page.waitForResponse((response) => response.request().method() === 'POST');
        const drawn = page.waitForEvent('load');
        await page.evaluate(
          ({ action, typed }) => {
            const form = [...document.querySelectorAll('form')].find((each) => each.getAttribute('action') === action);
            if (!form) throw new Error(`No form goes to ${action}.`);
            for (const box of form.querySelectorAll<HTMLInputElement>('input[type=checkbox]')) box.checked = false;
            for (const [name, value] of Object.entries(typed)) {
              const field = form.querySelector<HTMLInputElement>(`[name="${name}"]:not([type=radio])`);
              if (!field) throw new Error(`${action} has no field ${name}.`);
              field.value = value;
            }
            form.noValidate = true;
            form.requestSubmit();
          },
          { action: fill(action), typed },
        );
        expect((await answer).status()).toBe(422);
        await drawn;
        expect(await page.title()).toMatch(/^Error: /);
        await expectUsable(page);
      });
    },
    patienceMs,
  );

  it.each(isThorough ? dailyPages : ['/'])(
    '%s by the keyboard alone',
    async (path) => {
      await withPage(async (page) => {
        await page.setViewportSize({ width: 1280, height: 900 });
        await page.goto(served.address + fill(path));
        const controls = await page.evaluate(nameControls);
        const stops: Stop[] = [];
        for (let presses = 0; presses <= controls.length + 20; presses += 1) {
          await page.keyboard.press('Tab');
          const stop = await page.evaluate(readFocus);
          if (stop === null) break;
          stops.push(stop);
        }
        expect(stops[0]?.name).toContain('class="skip-link"');
        // A date has stops within it, and the browser marks the last of them, its calendar, by itself.
        const marked = new Set(stops.filter(({ isMarked }) => isMarked).map(({ name }) => name));
        expect(controls.filter((name) => !marked.has(name))).toEqual([]);
      });
    },
    patienceMs,
  );

  it(
    'skips to the page with the first key',
    async () => {
      await withPage(async (page) => {
        await page.goto(`${served.address}/orders`);
        await page.keyboard.press('Tab');
        await page.keyboard.press('Enter');
        expect(await page.evaluate('document.activeElement.id')).toBe('main');
      });
    },
    patienceMs,
  );
});
