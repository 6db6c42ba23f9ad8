import { Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { readPlan } from '#flows/read-plan.ts';
import { openWorking } from '#flows/working/open-working.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderPage } from '#server/render.tsx';
import { WorkedPairPage } from '#views/help/worked-pair.tsx';
import { FigurePage } from '#views/pages/working/figure-page.tsx';

/** How any figure comes about, each at an address of its own; and the method in short. */
export function workingRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/method', function showMethod(c) {
    return renderPage(c, <WorkedPairPage />);
  });

  routes.get('/:area/:figure/:id', async function showWorking(c) {
    const current = await readPlan(workshop, now());
    const { area, figure, id } = c.req.param();
    const opened = openWorking({ area, figure, id, knitter: c.req.query('knitter') }, current);
    if (opened === null) {
      throw new AppError('notFound', 'There is no figure of that name. Go back and open the figure from its page.');
    }
    if (typeof opened === 'string') throw new AppError('notFound', opened);
    const pageHref = pageHrefs(`/working/${area}/${figure}/${id}`, { knitter: c.req.query('knitter') });
    return renderPage(c, <FigurePage {...opened} wish={pageWish(c)} pageHref={pageHref} />);
  });

  return routes;
}
