// Plain JavaScript without packages: the set-up reads it before anything is installed.
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

/** @param {string} path */
function isRunnable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * The browser for the tests: the one that CHROMIUM_PATH names, otherwise the first of the usual names on the path.
 *
 * @returns {string | null} its path, or null when there is none
 */
export function findChromium() {
  const named = process.env.CHROMIUM_PATH;
  if (named) return isRunnable(named) ? named : null;
  const folders = ['/usr/bin', ...(process.env.PATH ?? '').split(delimiter).filter(Boolean)];
  return folders.flatMap((folder) => names.map((name) => join(folder, name))).find(isRunnable) ?? null;
}

/** How the tests start it: no sandbox, which a container does not allow, and no requests of its own. */
export const chromiumFlags = [
  '--no-sandbox',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-default-apps',
  '--disable-domain-reliability',
  '--disable-sync',
  '--disable-quic',
  '--no-first-run',
  '--no-pings',
];
