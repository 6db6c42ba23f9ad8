import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { addBand, dropBand, saveBand } from '#flows/orders/postage.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormValues, valuesOf } from '#server/forms/fields.ts';
import { versionIn } from '#server/forms/orders.ts';
import { bandValues, readBandForm } from '#server/forms/orders-money.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, id, idOf } from '#server/routes/orders-common.ts';
import { BandPage, PostagePage } from '#views/pages/pricing/postage.tsx';

type Typed = { readonly values: FormValues; readonly problems: readonly Problem[] };

/** What the post asks, by where a parcel goes and what it weighs. */
export function pricingPostageRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function read() {
    const { rows, settings } = await readPlan(workshop, now());
    const { currency, unitSystem, packingG } = settings;
    const names = [...new Set(rows.postageBands.map((band) => band.name))];
    return { bands: rows.postageBands, names, currency, unitSystem, packingG };
  }

  async function showAll(c: Context<AppEnv>, typed: Typed = { values: {}, problems: [] }) {
    return renderPage(c, <PostagePage {...(await read())} {...typed} />, typed.problems.length > 0 ? 422 : 200);
  }

  async function showOne(c: Context<AppEnv>, typed: Typed | null) {
    const { bands, names, currency, unitSystem } = await read();
    const band = bands.find((each) => each.id === idOf(c));
    if (!band) throw new AppError('notFound', 'That price of the post is not here; it may have been taken away.');
    const shown = typed ?? { values: bandValues(band, currency, unitSystem), problems: [] };
    return renderPage(c, <BandPage {...{ band, names, currency }} {...shown} />, shown.problems.length > 0 ? 422 : 200);
  }

  routes.get('/', async (c) => showAll(c));
  routes.get(`/${id}`, async (c) => showOne(c, null));

  routes.post('/', async function postBand(c) {
    const body = await bodyOf(c);
    const { currency, unitSystem } = await read();
    const form = readBandForm(body, currency, unitSystem);
    const added = form.ok ? await addBand(workshop, form.value) : form;
    if (!added.ok) return showAll(c, { values: valuesOf(body), problems: added.problems });
    return c.redirect('/pricing/postage', 303);
  });

  routes.post(`/${id}`, async function postChange(c) {
    const body = await bodyOf(c);
    const { bands, currency, unitSystem } = await read();
    const was = bands.find((each) => each.id === idOf(c))?.upToG;
    const form = readBandForm(body, currency, unitSystem, was);
    const saved = form.ok ? await saveBand(workshop, idOf(c), form.value, versionIn(body)) : form;
    if (!saved.ok) return showOne(c, { values: valuesOf(body), problems: saved.problems });
    return c.redirect('/pricing/postage', 303);
  });

  routes.post(`/${id}/remove`, async function postRemove(c) {
    await dropBand(workshop, idOf(c), versionIn(await bodyOf(c)));
    return c.redirect('/pricing/postage', 303);
  });

  return routes;
}
