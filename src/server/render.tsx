import { createHash } from 'node:crypto';
import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Child } from 'hono/jsx';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import type { AppEnv } from '#server/app.ts';
import { assetUrls } from '#server/assets.ts';
import { isolateNames } from '#server/isolate-names.ts';
import { stateFrom } from '#server/middleware/workshop-state.ts';
import { AssetUrls, ThisWorkshop, type WorkshopState } from '#views/layout.tsx';

const unknownState: WorkshopState = { isSample: false, purpose: 'sell', unitSystem: 'metric', today: '' };

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
  const text = String(
    await html`<!doctype html>${(
      <AssetUrls.Provider value={assetUrls}>
        <ThisWorkshop.Provider value={state}>{node}</ThisWorkshop.Provider>
      </AssetUrls.Provider>
    )}`,
  );
  return isolateNames(text);
}

type Drawn = { readonly isSignedIn: boolean; readonly tag: string; readonly bytes: Uint8Array<ArrayBuffer> };

// One drawn page for each plan; it goes with the plan, and the plan goes with the next write.
const drawnPages = new WeakMap<WorkshopPlan, Drawn>();
const encoder = new TextEncoder();

async function drawnPage(plan: WorkshopPlan, isSignedIn: boolean, draw: () => Child): Promise<Drawn> {
  const known = drawnPages.get(plan);
  if (known?.isSignedIn === isSignedIn) return known;
  // What every page knows of the workshop is in the plan's rows: nothing more to read, and nothing newer than the plan.
  const bytes = encoder.encode(
    await pageText({ ...stateFrom(plan.rows.settings, plan.settings, plan.today), isSignedIn }, draw()),
  );
  const tag = `"${createHash('sha256').update(bytes).digest('base64url').slice(0, 22)}"`;
  const drawn = { isSignedIn, tag, bytes };
  drawnPages.set(plan, drawn);
  return drawn;
}

/**
 * Answers with a whole page that shows nothing but a plan: drawn once, and sent again while the plan is the same; a
 * browser that has it already is told so. For long pages that many look at while nothing changes.
 *
 * @param plan the remembered plan, by which the drawn page is remembered
 * @param draw makes the page's node; the same for every request of a plan
 */
export async function renderPlanPage(c: Context<AppEnv>, plan: WorkshopPlan, draw: () => Child): Promise<Response> {
  const { tag, bytes } = await drawnPage(plan, c.get('isSignedIn') === true, draw);
  if (c.req.header('if-none-match') === tag) return c.body(null, 304, { ETag: tag });
  return c.body(bytes, 200, { 'Content-Type': 'text/html; charset=UTF-8', ETag: tag });
}

/** Answers with a part of a page, to be put into the page that asked; with status 422 when the form has problems. */
export async function renderFragment(
  c: Context<AppEnv>,
  node: Child,
  status: ContentfulStatusCode = 200,
): Promise<Response> {
  const state = await stateOf(c);
  const text = await html`${<ThisWorkshop.Provider value={state}>{node}</ThisWorkshop.Provider>}`;
  return c.html(isolateNames(String(text)), status);
}

/** Whether a part of the page is wanted rather than the whole: htmx asked, and it is not restoring its history. */
export function wantsFragment(c: Context<AppEnv>): boolean {
  return c.req.header('hx-request') === 'true' && c.req.header('hx-history-restore-request') !== 'true';
}
