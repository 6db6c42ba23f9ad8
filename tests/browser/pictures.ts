// Run by hand: npx tsx tests/browser/pictures.ts <folder>     pictures of the main pages, narrow and wide, light and dark
//              npx tsx tests/browser/pictures.ts --readme     the few that the README shows, into views/assets/pictures
import { mkdir, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { fillerFor, pages } from '#tests/browser/pages.ts';
import { launchBrowser } from '#tests/support/browser.ts';
import { type Served, serveSample } from '#tests/support/served.ts';

/** A Wednesday in November, so that pictures taken again show the same season. */
const pictureDay = () => new Date('2026-11-25T09:00:00Z');
const mostBytes = 150_000;
const readmeFolder = 'views/assets/pictures';
const triedPair = '/try?person=woman&size=38&stitches=13&rows=18';

function nameOf(path: string): string {
  const name = path.replace(/^\//, '').replace(/[^a-z0-9]+/gi, '-');
  return name.slice(0, 60).replace(/-$/, '') || 'today';
}

/** Takes every page with one size and one scheme; the pages are slow to draw, not to load. */
async function takeAll(context: BrowserContext, served: Served, paths: readonly string[], folder: string, end: string) {
  const page = await context.newPage();
  for (const path of paths) {
    await page.goto(served.address + path);
    await page.screenshot({ path: join(folder, `${nameOf(path)}${end}.png`), fullPage: true });
  }
  await page.close();
}

async function takeForLooking(browser: Browser, served: Served, folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  const paths = pages.map(await fillerFor(served.workshop));
  for (const width of [390, 1280]) {
    for (const colorScheme of ['light', 'dark'] as const) {
      const height = width < 600 ? 844 : 900;
      const context = await browser.newContext({ viewport: { width, height }, colorScheme, locale: 'en-GB' });
      await takeAll(context, served, paths, folder, `-${width}-${colorScheme}`);
      await context.close();
    }
  }
  console.log(`${paths.length * 4} pictures in ${folder}`);
}

/** The browser itself writes the smaller format; the quality goes down until the file is small enough. */
async function shrink(page: Page, png: Buffer): Promise<Buffer> {
  for (const quality of [0.9, 0.8, 0.7, 0.5]) {
    const url = await page.evaluate(
      async ({ data, quality }) => {
        const image = new Image();
        image.src = `data:image/png;base64,${data}`;
        await image.decode();
        const canvas = document.createElement('canvas');
        canvas.width = image.width;
        canvas.height = image.height;
        canvas.getContext('2d')!.drawImage(image, 0, 0);
        return canvas.toDataURL('image/webp', quality);
      },
      { data: png.toString('base64'), quality },
    );
    const bytes = Buffer.from(url.split(',')[1]!, 'base64');
    if (bytes.length <= mostBytes) return bytes;
  }
  throw new Error('A picture stays too large; take less of the page.');
}

async function takeForReadme(browser: Browser, served: Served): Promise<void> {
  await mkdir(readmeFolder, { recursive: true });
  const pictures = [
    { name: 'try-one-pair', path: triedPair, width: 1280, height: 1000 },
    { name: 'batch', path: '/batch', width: 1280, height: 1000 },
    { name: 'yarn-to-buy', path: '/buying', width: 1280, height: 1000 },
    { name: 'costs-and-prices', path: '/pricing', width: 1280, height: 1000 },
  ];
  const plain = await browser.newPage();
  for (const { name, path, width, height } of pictures) {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme: 'light', locale: 'en-GB' });
    const page = await context.newPage();
    await page.goto(served.address + path);
    const file = join(readmeFolder, `${name}.webp`);
    await writeFile(file, await shrink(plain, await page.screenshot()));
    console.log(`${file}: ${Math.round((await stat(file)).size / 1000)} kB`);
    await context.close();
  }
}

const target = process.argv[2];
if (!target) throw new Error('Say where the pictures go: a folder, or --readme.');
const served = await serveSample(pictureDay);
const browser = await launchBrowser();
try {
  await (target === '--readme' ? takeForReadme(browser, served) : takeForLooking(browser, served, target));
} finally {
  await browser.close();
  await served.stop();
}
