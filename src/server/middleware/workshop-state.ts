import { createMiddleware } from 'hono/factory';
import type { Day } from '#core/shared/calendar.ts';
import { readSettings, type Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { listSettings, readState } from '#db/stores/workshop.ts';
import { isSample } from '#flows/begin/is-empty.ts';
import { todayIn } from '#flows/today.ts';
import type { AppEnv } from '#server/app.ts';
import type { WorkshopState } from '#views/layout.tsx';

/** What pages know of a workshop with these settings. */
export function stateFrom(rows: WorkshopRows['settings'], settings: Settings, today: Day): WorkshopState {
  const { purpose, unitSystem } = settings;
  return { isSample: isSample({ settings: rows }), purpose, unitSystem, today };
}

/** Tells every page whether it shows the sample season and what the knitting is for; read again after a write alone. */
export function noteWorkshopState({ store }: Workshop, now: () => Date) {
  let known: { readonly name: string; readonly timeZone: string; readonly state: WorkshopState } | null = null;

  async function readNow(): Promise<WorkshopState> {
    const { born, revision } = await store.read((db) => readState(db));
    const name = `${born}/${revision}`;
    if (known?.name !== name) {
      const rows = await store.read((db) => listSettings(db));
      const settings = readSettings(rows);
      known = { name, timeZone: settings.timeZone, state: stateFrom(rows, settings, '') };
    }
    return { ...known.state, today: todayIn(now(), known.timeZone) };
  }

  return createMiddleware<AppEnv>(async function noteState(c, next) {
    if (!c.req.path.startsWith('/assets/')) {
      // Read when a page is drawn rather than now: a form that was just saved may have changed it.
      c.set('workshopState', readNow);
    }
    await next();
  });
}
