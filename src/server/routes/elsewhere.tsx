import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { buyElsewhere } from '#flows/buying/buy-elsewhere.ts';
import { readShops } from '#flows/buying/read-shops.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, valuesOf } from '#server/forms/fields.ts';
import { parseElsewhere } from '#server/forms/purchases.ts';
import { renderPage } from '#server/render.tsx';
import { ElsewherePage } from '#views/pages/buying/elsewhere-page.tsx';

/** Yarn that was bought in another shop than the list says, or at another price. */
export function elsewhereRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showForm(c: Context<AppEnv>, typed: FormValues | null, problems: readonly Problem[] = []) {
    const { settings, shops, yarns, colours } = await readShops(workshop);
    const values = typed ?? {
      units: settings.unitSystem,
      colour: c.req.query('colour') ?? '',
      packs: '1',
      day: todayIn(now(), settings.timeZone),
    };
    return renderPage(
      c,
      <ElsewherePage
        purpose={settings.purpose}
        currency={settings.currency}
        shops={shops.map(({ supplier }) => ({ value: String(supplier.id), words: supplier.name }))}
        choices={yarns
          .map((yarn) => ({
            group: yarn.name,
            options: colours
              .filter((colour) => colour.yarnId === yarn.id)
              .map((colour) => ({ value: String(colour.id), words: `${yarn.name}: ${colour.name}` })),
          }))
          .filter(({ options }) => options.length > 0)}
        values={values}
        problems={problems}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }
  routes.get('/', (c) => showForm(c, null));
  routes.post('/', async function postElsewhere(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const { settings, shops, yarns, colours } = await readShops(workshop);
    const ballMgOf = new Map(yarns.map((yarn) => [yarn.id, yarn.ballMg]));
    const parsed = parseElsewhere(body, {
      ...settings,
      today: todayIn(now(), settings.timeZone),
      supplierIds: shops.map(({ supplier }) => supplier.id),
      colours: colours.map(({ id, yarnId }) => ({ id, ballMg: ballMgOf.get(yarnId)! })),
    });
    const done = parsed.ok ? await buyElsewhere(workshop, parsed.value) : parsed;
    if (!done.ok) return showForm(c, valuesOf(body), done.problems);
    return c.redirect(`/buying?arrived=yes&helped=${done.value.helpedPairs}`, 303);
  });

  return routes;
}
