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
  return c.html(await pageText(await stateOf(c), node), status);
}

async function pageText(state: WorkshopState, node: Child): Promise<string> {
  return String(
    await html`<!doctype html>${(
      <AssetUrls.Provider value={assetUrls}>
        <ThisWorkshop.Provider value={state}>{node}</ThisWorkshop.Provider>
      </AssetUrls.Provider>
    )}`,
  );
}

type Drawn = { readonly state: string; readonly bytes: Uint8Array<ArrayBuffer> };

// One drawn page for each plan; it goes with the plan, and the plan goes with the next write.
const drawnPages = new WeakMap<object, Drawn>();
const encoder = new TextEncoder();

/**
 * Answers with a whole page that shows nothing but a plan: drawn once, and sent again while the plan and what every page
 * knows of the workshop are the same. For long pages that many look at while nothing changes.
 *
 * @param plan the remembered plan, by which the drawn page is remembered
 * @param draw makes the page's node
 */
export async function renderPlanPage(c: Context<AppEnv>, plan: object, draw: () => Child): Promise<Response> {
  const state = await stateOf(c);
  const name = JSON.stringify(state);
  let drawn = drawnPages.get(plan);
  if (drawn?.state !== name) {
    drawn = { state: name, bytes: encoder.encode(await pageText(state, draw())) };
    drawnPages.set(plan, drawn);
  }
  return c.body(drawn.bytes, 200, { 'Content-Type': 'text/html; charset=UTF-8' });
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
