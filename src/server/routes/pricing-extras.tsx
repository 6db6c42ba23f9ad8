import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { addExtra, dropExtra, readUsualExtras, saveExtra } from '#flows/orders/extras.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormValues, valuesOf } from '#server/forms/fields.ts';
import { versionIn } from '#server/forms/orders.ts';
import { extraValues, readExtraForm } from '#server/forms/orders-money.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, id, idOf } from '#server/routes/orders-common.ts';
import { ExtraPage, ExtrasPage } from '#views/pages/pricing/extras.tsx';

type Typed = { readonly values: FormValues; readonly problems: readonly Problem[] };

/** What may be added to an order with one press. */
export function pricingExtrasRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const currencyNow = async () => (await readPlan(workshop, now())).settings.currency;

  async function showAll(c: Context<AppEnv>, typed: Typed = { values: {}, problems: [] }) {
    const page = { ...typed, extras: await readUsualExtras(workshop), currency: await currencyNow() };
    return renderPage(c, <ExtrasPage {...page} />, typed.problems.length > 0 ? 422 : 200);
  }

  async function showOne(c: Context<AppEnv>, typed: Typed | null) {
    const extra = (await readUsualExtras(workshop)).find((each) => each.id === idOf(c));
    if (!extra) throw new AppError('notFound', 'That extra is not here; it may have been taken away.');
    const currency = await currencyNow();
    const shown = typed ?? { values: extraValues(extra, currency), problems: [] };
    return renderPage(c, <ExtraPage {...{ extra, currency }} {...shown} />, shown.problems.length > 0 ? 422 : 200);
  }

  routes.get('/', async (c) => showAll(c));
  routes.get(`/${id}`, async (c) => showOne(c, null));

  routes.post('/', async function postExtra(c) {
    const body = await bodyOf(c);
    const form = readExtraForm(body, await currencyNow());
    const added = form.ok ? await addExtra(workshop, form.value) : form;
    if (!added.ok) return showAll(c, { values: valuesOf(body), problems: added.problems });
    return c.redirect('/pricing/extras', 303);
  });

  routes.post(`/${id}`, async function postChange(c) {
    const body = await bodyOf(c);
    const form = readExtraForm(body, await currencyNow());
    const saved = form.ok ? await saveExtra(workshop, idOf(c), form.value, versionIn(body)) : form;
    if (!saved.ok) return showOne(c, { values: valuesOf(body), problems: saved.problems });
    return c.redirect('/pricing/extras', 303);
  });

  routes.post(`/${id}/remove`, async function postRemove(c) {
    await dropExtra(workshop, idOf(c), versionIn(await bodyOf(c)));
    return c.redirect('/pricing/extras', 303);
  });

  return routes;
}
