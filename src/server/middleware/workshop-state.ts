import { createMiddleware } from 'hono/factory';
import { readSettings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { listSettings, readState } from '#db/stores/workshop.ts';
import { isSample } from '#flows/begin/is-empty.ts';
import type { AppEnv } from '#server/app.ts';
import type { WorkshopState } from '#views/layout.tsx';

/** What pages know of a workshop with these settings. */
export function stateFrom(settings: WorkshopRows['settings']): WorkshopState {
  const { purpose, unitSystem } = readSettings(settings);
  return { isSample: isSample({ settings }), purpose, unitSystem };
}

/** Tells every page whether it shows the sample season and what the knitting is for; read again after a write alone. */
export function noteWorkshopState({ store }: Workshop) {
  let known: { readonly name: string; readonly state: WorkshopState } | null = null;

  async function readNow(): Promise<WorkshopState> {
    const { born, revision } = await store.read((db) => readState(db));
    const name = `${born}/${revision}`;
    if (known?.name === name) return known.state;
    const settings = await store.read((db) => listSettings(db));
    const state = stateFrom(settings);
    known = { name, state };
    return state;
  }

  return createMiddleware<AppEnv>(async function noteState(c, next) {
    if (!c.req.path.startsWith('/assets/')) {
      // Read when a page is drawn rather than now: a form that was just saved may have changed it.
      c.set('workshopState', readNow);
    }
    await next();
  });
}
