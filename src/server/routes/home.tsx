import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { readSettings } from '#core/shared/settings.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { readToday } from '#flows/home/read-today.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, readFields, textOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { FirstPage } from '#views/pages/home/first.tsx';
import { TodayPage } from '#views/pages/home/today.tsx';

const purposes = ['sell', 'order', 'give'] as const;
const fileName = /^[\w.-]{1,120}$/;

/** The time zone of the machine this runs on: where the knitter sits, unless it is said otherwise in the settings. */
function machineTimeZone(): string {
  return Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';
}

/** The first page: today's, or how to begin. */
export function homeRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  function showFirst(c: Context<AppEnv>, problems: readonly Problem[], purpose = '') {
    const kept = c.req.query('kept') ?? '';
    const page = <FirstPage purpose={purpose} problems={problems} keptAs={fileName.test(kept) ? kept : null} />;
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  routes.get('/', async function showToday(c) {
    const view = await readToday(workshop, now());
    return view ? renderPage(c, <TodayPage {...view} />) : showFirst(c, []);
  });

  routes.post('/begin/own', async function begin(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const form = readFields(body);
    const purpose = form.choice('purpose', purposes, {
      sentence: 'Choose whether you knit to sell, to order or to give',
    });
    const read = form.result(() => purpose);
    if (!read.ok) return showFirst(c, read.problems, textOf(body, 'purpose'));
    const begun = await beginOwn(workshop, { purpose, timeZone: machineTimeZone() });
    if (!begun.ok) return showFirst(c, begun.problems, purpose);
    return c.redirect('/', 303);
  });

  routes.post('/begin/sample', async function openSample(c) {
    const stored = readSettings(await workshop.store.read((db) => listSettings(db)));
    const timeZone = stored.timeZone === 'UTC' ? machineTimeZone() : stored.timeZone;
    const loaded = await loadSample(workshop, { today: todayIn(now(), timeZone), timeZone });
    if (!loaded.ok) return showFirst(c, loaded.problems);
    return c.redirect('/', 303);
  });

  return routes;
}
