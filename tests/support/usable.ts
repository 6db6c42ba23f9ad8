import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { isThorough } from '#tests/support/thorough.ts';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What cannot be used by somebody, in words: rule, element, why. */
async function findingsOn(page: Page, rules?: readonly string[]): Promise<string[]> {
  if (!(await page.evaluate('"axe" in window'))) await page.addScriptTag({ content: axeSource });
  return page.evaluate(async (only) => {
    const runner = (window as unknown as { axe: typeof axe }).axe;
    const options = only ? { runOnly: { type: 'rule' as const, values: [...only] } } : {};
    const { violations } = await runner.run(document, { ...options, resultTypes: ['violations'], preload: false });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.html.slice(0, 200)} ${node.failureSummary ?? ''}`),
    );
  }, rules);
}

/** Everything wider than the page, when the page can be pushed sideways. */
function widerThanPage(): string[] {
  const { scrollWidth, clientWidth } = document.documentElement;
  if (scrollWidth <= clientWidth) return [];
  const wide = [...document.body.querySelectorAll('*')].filter(
    (element) => element.getBoundingClientRect().right > clientWidth + 1,
  );
  return [`${scrollWidth} px wide`, ...wide.slice(0, 5).map((element) => element.outerHTML.slice(0, 120))];
}

/** One of three ways to look in the quick tests, at the daily pages; `axe.long.test.ts` looks in every one, at all. */
const views = [
  { width: 390, colorScheme: 'light' as const, isQuick: true },
  { width: 1280, colorScheme: 'light' as const, isQuick: false },
  { width: 1280, colorScheme: 'dark' as const, isQuick: false },
].filter((view) => view.isQuick || isThorough);

/** Holds a page, as it stands, to what everybody can use. Colours alone differ in the dark, so only their contrast is measured again there. */
export async function expectUsable(page: Page): Promise<void> {
  const found: string[] = [];
  // What is folded away is read as well.
  await page.evaluate("document.querySelectorAll('main details').forEach((each) => { each.open = true; })");
  for (const { width, colorScheme } of views) {
    await page.setViewportSize({ width, height: 844 });
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    const findings = await findingsOn(page, colorScheme === 'dark' ? ['color-contrast'] : undefined);
    found.push(...findings.map((finding) => `${width} px, ${colorScheme}: ${finding}`));
  }
  await page.setViewportSize({ width: 320, height: 700 });
  found.push(...(await page.evaluate(widerThanPage)).map((what) => `320 px: ${what}`));
  expect(found).toEqual([]);
}
