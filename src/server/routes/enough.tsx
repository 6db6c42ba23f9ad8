import { Hono } from 'hono';
import { confidences } from '#core/shared/estimate.ts';
import { readEnough } from '#flows/buying/read-enough.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderPage } from '#server/render.tsx';
import { EnoughPage } from '#views/pages/buying/enough-page.tsx';

/** How sure it is that the yarn is enough. */
export function enoughRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  routes.get('/', async function showEnough(c) {
    const plan = await readPlan(workshop, now());
    const { purpose, currency, confidence } = plan.settings;
    const confidenceWords = confidences.find(({ ratio }) => ratio === confidence)?.words ?? '';
    const view = readEnough(plan);
    return renderPage(c, <EnoughPage {...view} {...{ purpose, currency, confidenceWords }} />);
  });
  return routes;
}
