import { Hono } from 'hono';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { AppError } from '#core/shared/app-error.ts';
import { pagingOf } from '#core/shared/paging.ts';
import { readDyeLots } from '#flows/buying/read-dye-lots.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderPage } from '#server/render.tsx';
import { DyeLotsPage, LotPairsPage } from '#views/pages/buying/dye-lots-page.tsx';

/** Which pair takes its yarn from which dye lot. */
export function dyeLotsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const coloursOf = (plan: WorkshopPlan) =>
    readDyeLots(plan).map((entry) => ({
      ...entry,
      lots: entry.lots.map(({ lot, ...use }) => ({
        ...use,
        lot: lot && { ...lot, href: isOnWayLot(lot.id) ? null : `/shelf/lots/${lot.id}` },
      })),
    }));

  routes.get('/', async function showDyeLots(c) {
    const plan = await readPlan(workshop, now());
    const { purpose, mixLotsInGifts } = plan.settings;
    return renderPage(c, <DyeLotsPage {...{ purpose, mixLotsInGifts }} colours={coloursOf(plan)} />);
  });

  routes.get('/:colour{[0-9]+}/:lot{new|-?[0-9]+}', async function showLotPairs(c) {
    const plan = await readPlan(workshop, now());
    const { colour: colourId, lot: lotId } = c.req.param();
    const entry = coloursOf(plan).find(({ colour }) => String(colour.id) === colourId);
    const use = entry?.lots.find(({ lot }) => String(lot?.id ?? 'new') === lotId);
    if (!entry || !use) throw new AppError('notFound', 'No pair takes this colour from this lot now.');
    return renderPage(
      c,
      <LotPairsPage
        {...{ colour: entry.colour, use }}
        purpose={plan.settings.purpose}
        paging={pagingOf(use.pairs.length, pageWish(c))}
        pageHref={pageHrefs(`/buying/dye-lots/${colourId}/${lotId}`)}
      />,
    );
  });
  return routes;
}
