import { Hono } from 'hono';
import { coloursToReplace, readLikeYarns } from '#flows/buying/read-like-yarns.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderPage } from '#server/render.tsx';
import { ChooseColourPage, LikeYarnsPage } from '#views/pages/buying/like-yarns-page.tsx';

/** A like yarn in the place of one that cannot be had. */
export function likeYarnsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  routes.get('/', async function chooseColour(c) {
    const plan = await readPlan(workshop, now());
    return renderPage(c, <ChooseColourPage purpose={plan.settings.purpose} colours={coloursToReplace(plan)} />);
  });
  routes.get('/:id{[0-9]+}', async function showLikeYarns(c) {
    const plan = await readPlan(workshop, now());
    const { purpose, currency } = plan.settings;
    const view = readLikeYarns(plan, Number(c.req.param('id')));
    return renderPage(c, <LikeYarnsPage {...view} purpose={purpose} currency={currency} />);
  });
  return routes;
}
