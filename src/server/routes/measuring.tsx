import { Hono } from 'hono';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderPage } from '#server/render.tsx';
import { MeasuringPage } from '#views/pages/sizing/measuring-page.tsx';

/** The sheet to measure feet with. */
export function measuringRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showMeasuring(c) {
    const { settings } = await readPlan(workshop, now());
    return renderPage(c, <MeasuringPage purpose={settings.purpose} />);
  });

  return routes;
}
