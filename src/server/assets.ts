import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

export type Asset = { readonly body: string; readonly hash: string; readonly type: string };

function readAsset(path: string | URL, type: string): Asset {
  const body = readFileSync(path, 'utf8');
  return { body, hash: createHash('sha256').update(body).digest('hex').slice(0, 12), type };
}

const require = createRequire(import.meta.url);

/** The few files that pages load, read once at start. */
export const assets: ReadonlyMap<string, Asset> = new Map([
  ['style.css', readAsset(new URL('../../views/assets/style.css', import.meta.url), 'text/css; charset=utf-8')],
  ['htmx.js', readAsset(require.resolve('htmx.org/dist/htmx.min.js'), 'text/javascript; charset=utf-8')],
  ['favicon.svg', readAsset(new URL('../../views/assets/favicon.svg', import.meta.url), 'image/svg+xml')],
]);

function urlOf(name: string): string {
  return `/assets/${name}?v=${assets.get(name)!.hash}`;
}

/** Their addresses with the hash of their content, so that a browser keeps them until they change. */
export const assetUrls = { style: urlOf('style.css'), script: urlOf('htmx.js') };
