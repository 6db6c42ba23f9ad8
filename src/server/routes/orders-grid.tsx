import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { addOrder } from '#flows/orders/add-order.ts';
import { lastUsedOf } from '#flows/orders/last-used.ts';
import { readOrdersSource } from '#flows/orders/read-orders.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormValues, textOf, valuesOf } from '#server/forms/fields.ts';
import { parseGrid, readGridFrame, valuesForNewGrid } from '#server/forms/orders-grid.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, namesOf } from '#server/routes/orders-common.ts';
import { GridPage } from '#views/pages/orders/grid.tsx';

/** The grid: sizes down, colours across, all of it one order. */
export function ordersGridRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function gridPage(c: Context<AppEnv>, typed: FormValues, problems: readonly Problem[], status: 200 | 422) {
    const source = await readOrdersSource(workshop, now());
    const { known } = source.words;
    const frame = readGridFrame(typed, known, lastUsedOf(source.rows));
    const page = (
      <GridPage
        names={namesOf(source)}
        values={{
          ...valuesForNewGrid(known),
          ...typed,
          ...frame.values,
          sizes: typed.sizes && status === 422 ? typed.sizes : (frame.values.sizes ?? ''),
        }}
        problems={problems.length > 0 ? problems : frame.problems}
        rows={frame.rows}
        colours={frame.colours}
      />
    );
    return renderPage(c, page, problems.length > 0 || frame.problems.length > 0 ? 422 : status);
  }

  routes.get('/', async function showGrid(c) {
    return gridPage(c, c.req.query(), [], 200);
  });

  routes.post('/', async function addGrid(c) {
    const body = await bodyOf(c);
    const typed = valuesOf(body);
    if (textOf(body, 'show') !== '') return gridPage(c, typed, [], 200);
    const source = await readOrdersSource(workshop, now());
    const { known } = source.words;
    const parsed = parseGrid(body, readGridFrame(typed, known, lastUsedOf(source.rows)), known, source.today);
    const added = parsed.ok ? await addOrder(workshop, parsed.value, source.today) : parsed;
    if (added.ok) return c.redirect(`/orders/${added.value.id}`, 303);
    return gridPage(c, typed, added.problems, 422);
  });

  return routes;
}
