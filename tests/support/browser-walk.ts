import type { Browser, BrowserContext, Locator, Page } from 'playwright-core';

/** Somebody at a phone who reads, presses and types; what goes wrong on the way is kept. */
export type Walker = {
  readonly page: Page;
  /** Opens an address of the workshop. */
  readonly open: (path: string) => Promise<void>;
  /** Follows the first link of that name. */
  readonly follow: (name: string | RegExp) => Promise<void>;
  /** Presses the first button of that name and waits for the page it leads to. */
  readonly press: (name: string | RegExp) => Promise<void>;
  /** The same, where the answer is to be a refusal with that status. */
  readonly pressInVain: (name: string | RegExp, status: number) => Promise<void>;
  readonly type: (label: string | RegExp, text: string) => Promise<void>;
  /** Taps a choice or ticks a box. */
  readonly tap: (label: string | RegExp) => Promise<void>;
  readonly select: (label: string | RegExp, option: string) => Promise<void>;
  readonly title: () => Promise<string>;
  /** What one reads in the page's main part, spaces made plain. */
  readonly read: () => Promise<string>;
  /** Pages seen and fields touched since this was last asked. */
  readonly takeCounts: () => { readonly pages: number; readonly fields: number };
  /** Errors in the browser's console and requests to anywhere else. */
  readonly faults: () => readonly string[];
  readonly leave: () => Promise<void>;
};

const phone = { width: 390, height: 844 };
const refusalLine = /^Failed to load resource: the server responded with a status of 4\d\d/;

/** What one sees of an element, spaces made plain. */
export async function seenText(locator: Locator): Promise<string> {
  // biome-ignore lint/performance/useDomNodeTextContent: what is folded away is not seen
  return (await locator.innerText()).replace(/[\u00a0\s]+/g, ' ').trim();
}

/** Begins a walk through the workshop at the address. */
export async function beginWalk(browser: Browser, address: string, hasScript: boolean): Promise<Walker> {
  const context: BrowserContext = await browser.newContext({
    viewport: phone,
    javaScriptEnabled: hasScript,
    locale: 'en-GB',
    acceptDownloads: true,
  });
  context.setDefaultTimeout(10_000);
  const page = await context.newPage();
  const found: string[] = [];
  let refusalsLeft = 0;
  let pages = 0;
  let fields = 0;

  page.on('pageerror', (error) => found.push(`error in the page: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() !== 'error') return;
    if (refusalLine.test(message.text()) && refusalsLeft > 0) refusalsLeft -= 1;
    else found.push(`console at ${page.url()}: ${message.text()}`);
  });
  context.on('request', (request) => {
    if (new URL(request.url()).origin !== address) found.push(`asked ${request.url()}`);
  });

  async function arrive(go: () => Promise<unknown>, status = 200): Promise<void> {
    const answer = page.waitForResponse(
      (response) => response.request().isNavigationRequest() && ![302, 303].includes(response.status()),
    );
    const drawn = page.waitForEvent('load');
    await Promise.all([answer, drawn, go()]);
    pages += 1;
    const arrived = (await answer).status();
    if (arrived !== status) found.push(`${page.url()}: answered ${arrived}, not ${status}`);
  }
  const named = (role: 'link' | 'button', name: string | RegExp) =>
    page.getByRole(role, typeof name === 'string' ? { name, exact: true } : { name }).first();
  const labelled = (label: string | RegExp) =>
    page.getByLabel(label, typeof label === 'string' ? { exact: true } : {}).first();

  return {
    page,
    open: (path) => arrive(() => page.goto(address + path)),
    follow: (name) => arrive(() => named('link', name).click()),
    press: (name) => arrive(() => named('button', name).click()),
    async pressInVain(name, status) {
      refusalsLeft += 1;
      await arrive(() => named('button', name).click(), status);
    },
    async type(label, text) {
      fields += 1;
      await labelled(label).fill(text);
    },
    async tap(label) {
      fields += 1;
      await labelled(label).check();
    },
    async select(label, option) {
      fields += 1;
      await labelled(label).selectOption({ label: option });
    },
    title: () => seenText(page.locator('h1')),
    read: () => seenText(page.locator('main')),
    takeCounts() {
      const counts = { pages, fields };
      [pages, fields] = [0, 0];
      return counts;
    },
    faults: () => found,
    leave: () => context.close(),
  };
}
