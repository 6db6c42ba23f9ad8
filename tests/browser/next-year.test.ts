import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, launchBrowser } from '#tests/support/browser.ts';
import { putSample } from '#tests/support/sample.ts';
import { type Served, serveWorkshop } from '#tests/support/served.ts';

const patienceMs = 60_000;
/** The sample begins in November; looked at a month later, days are past and their pairs late, in another year. */
const now = () => new Date('2026-12-28T09:00:00Z');

describe.skipIf(!hasBrowser)('a batch that reaches into the next year', () => {
  let served: Served;
  let browser: Browser;
  beforeAll(async () => {
    [served, browser] = await Promise.all([serveWorkshop(now), launchBrowser()]);
    await putSample(served.workshop, '2026-11-25');
  }, patienceMs);
  afterAll(async () => {
    await browser?.close();
    await served?.stop();
  });

  // 210 mm less twice 14 mm of margin are 182 mm, at 96 px in 25.4 mm: 688 px.
  it.each([
    { width: 1280, media: 'screen' },
    { width: 688, media: 'print' },
  ] as const)('keeps every day in its column ($media, $width px)', async ({ width, media }) => {
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    await page.emulateMedia({ media });
    await page.goto(`${served.address}/batch`);
    const table = page.locator('.many-columns table').first();
    expect(await table.textContent()).toMatch(/\d Jan 2027\s*late/);
    const seen = await table.evaluate((element) => ({
      right: element.getBoundingClientRect().right,
      frame: element.parentElement!.getBoundingClientRect().right,
      wide: [...element.querySelectorAll('td')].filter((cell) => cell.scrollWidth > cell.clientWidth + 1).length,
    }));
    expect(seen.wide).toBe(0);
    expect(seen.right).toBeLessThanOrEqual(seen.frame + 0.5);
    await page.close();
  });
});
