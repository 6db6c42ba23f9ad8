import { Hono } from 'hono';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { readDyeLots } from '#flows/buying/read-dye-lots.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderPage } from '#server/render.tsx';
import { DyeLotsPage } from '#views/pages/buying/dye-lots-page.tsx';

/** Which pair takes its yarn from which dye lot. */
export function dyeLotsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  routes.get('/', async function showDyeLots(c) {
    const plan = await readPlan(workshop, now());
    const { purpose, mixLotsInGifts } = plan.settings;
    const colours = readDyeLots(plan).map((entry) => ({
      ...entry,
      lots: entry.lots.map(({ lot, ...use }) => ({
        ...use,
        lot: lot && { ...lot, href: isOnWayLot(lot.id) ? null : `/shelf/lots/${lot.id}` },
      })),
    }));
    return renderPage(c, <DyeLotsPage purpose={purpose} mixLotsInGifts={mixLotsInGifts} colours={colours} />);
  });
  return routes;
}
