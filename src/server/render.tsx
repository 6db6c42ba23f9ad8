import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Child } from 'hono/jsx';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { AppEnv } from '#server/app.ts';
import { assetUrls } from '#server/assets.ts';
import { AssetUrls, ThisWorkshop, type WorkshopState } from '#views/layout.tsx';

const unknownState: WorkshopState = { isSample: false, purpose: 'sell' };

/** Answers with a whole page; the node is a `<Page>`. */
export async function renderPage(
  c: Context<AppEnv>,
  node: Child,
  status: ContentfulStatusCode = 200,
): Promise<Response> {
  // A page that says why nothing can be read must not fail on reading.
  const state =
    (await c
      .get('workshopState')?.()
      .catch(() => null)) ?? unknownState;
  return c.html(
    html`<!doctype html>${(
      <AssetUrls.Provider value={assetUrls}>
        <ThisWorkshop.Provider value={state}>{node}</ThisWorkshop.Provider>
      </AssetUrls.Provider>
    )}`,
    status,
  );
}

/** Answers with a part of a page, to be put into the page that asked; with status 422 when the form has problems. */
export function renderFragment(
  c: Context<AppEnv>,
  node: Child,
  status: ContentfulStatusCode = 200,
): Response | Promise<Response> {
  return c.html(html`${node}`, status);
}

/** Whether a part of the page is wanted rather than the whole: htmx asked, and it is not restoring its history. */
export function wantsFragment(c: Context<AppEnv>): boolean {
  return c.req.header('hx-request') === 'true' && c.req.header('hx-history-restore-request') !== 'true';
}
