import { type Browser, chromium } from 'playwright-core';
import { chromiumFlags, findChromium } from '#tests/support/chromium.mjs';

/** Whether browser tests can run here: `describe.skipIf(!hasBrowser)`. */
export const hasBrowser = findChromium() !== null;

/** Starts the browser without a window; the caller closes it. */
export async function launchBrowser(): Promise<Browser> {
  const executablePath = findChromium();
  if (executablePath === null) throw new Error('No Chromium here: set CHROMIUM_PATH to one.');
  return chromium.launch({ executablePath, args: chromiumFlags });
}
