import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Child } from 'hono/jsx';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { AppEnv } from '#server/app.ts';
import { assetUrls } from '#server/assets.ts';
import { AssetUrls, ThisWorkshop, type WorkshopState } from '#views/layout.tsx';

const unknownState: WorkshopState = { isSample: false, purpose: 'sell', unitSystem: 'metric' };

// A page that says why nothing can be read must not fail on reading.
async function stateOf(c: Context<AppEnv>): Promise<WorkshopState> {
  const read = c.get('workshopState');
  const state = (read ? await read().catch(() => null) : null) ?? unknownState;
  return { ...state, isSignedIn: c.get('isSignedIn') === true };
}

/** Answers with a whole page; the node is a `<Page>`. */
export async function renderPage(
  c: Context<AppEnv>,
  node: Child,
  status: ContentfulStatusCode = 200,
): Promise<Response> {
  const state = await stateOf(c);
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
export async function renderFragment(
  c: Context<AppEnv>,
  node: Child,
  status: ContentfulStatusCode = 200,
): Promise<Response> {
  const state = await stateOf(c);
  return c.html(html`${<ThisWorkshop.Provider value={state}>{node}</ThisWorkshop.Provider>}`, status);
}

/** Whether a part of the page is wanted rather than the whole: htmx asked, and it is not restoring its history. */
export function wantsFragment(c: Context<AppEnv>): boolean {
  return c.req.header('hx-request') === 'true' && c.req.header('hx-history-restore-request') !== 'true';
}
