import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { addShopPayment, countBack, dropShopPayment, placePairs, uncount } from '#flows/pricing/placements.ts';
import { readShop, readShops, readWholesale } from '#flows/pricing/read-shops.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, valuesOf } from '#server/forms/fields.ts';
import { placingValues, readCountForm, readPlacingForm, readShopPaymentForm } from '#server/forms/shops.ts';
import { renderPage } from '#server/render.tsx';
import { NoTermsPage, ShopPage, WholesalePage } from '#views/pages/pricing/shop.tsx';
import { ShopsPage } from '#views/pages/pricing/shops.tsx';

const idOf = (text: string) => (/^\d{1,15}$/.test(text) ? Number(text) : 0);

/** Shops that buy from us or sell for us. */
export function pricingShopsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;

  routes.get('/', async function showShops(c) {
    const { plan, shops } = await readShops(workshop, now());
    const { currency, purpose } = plan.settings;
    return renderPage(c, <ShopsPage shops={shops} currency={currency} purpose={purpose} />);
  });

  async function showShopPage(
    c: Context<AppEnv>,
    id: number,
    { problems = [], values = {} }: { problems?: readonly Problem[]; values?: FormValues } = {},
  ) {
    const { plan, ...view } = await readShop(workshop, now(), id);
    const { settings, today } = plan;
    const { currency, purpose } = settings;
    const { shop } = view;
    const isEmpty = view.account.standing === 0 && view.counted.length === 0;
    if (shop.terms === 'wholesale' && isEmpty) {
      const wholesale = await readWholesale(workshop, now(), shop);
      return renderPage(c, <WholesalePage shop={shop} {...wholesale} currency={currency} purpose={purpose} />);
    }
    if (shop.terms === null && isEmpty) return renderPage(c, <NoTermsPage shop={shop} purpose={purpose} />);
    const days = { day: today, countDay: today, paidDay: today };
    return renderPage(
      c,
      <ShopPage
        {...view}
        values={{ ...days, ...placingValues(view.toPlace, currency), ...values }}
        problems={problems}
        currency={currency}
        purpose={purpose}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/:id{[0-9]+}', function showShop(c) {
    return showShopPage(c, idOf(c.req.param('id')));
  });

  routes.post('/:id{[0-9]+}/place', async function placeInShop(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const { plan, shop, toPlace } = await readShop(workshop, now(), id);
    if (shop.terms !== 'sale or return') {
      throw new AppError('conflict', `${shop.name} takes no pairs on sale or return. Change its terms first.`);
    }
    const form = readPlacingForm(
      body,
      plan.settings.currency,
      toPlace.map(({ pairId }) => pairId),
    );
    if (!form.ok) return showShopPage(c, id, { problems: form.problems, values: valuesOf(body) });
    await placePairs(workshop, id, form.value);
    return c.redirect(`/pricing/shops/${id}#standing`, 303);
  });

  routes.post('/:id{[0-9]+}/count', async function countShop(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const form = readCountForm(body, (await readShop(workshop, now(), id)).standing);
    if (!form.ok) return showShopPage(c, id, { problems: form.problems, values: valuesOf(body) });
    await countBack(workshop, id, form.value);
    return c.redirect(`/pricing/shops/${id}`, 303);
  });

  routes.post('/:id{[0-9]+}/placements/:placement{[0-9]+}/uncount', async function uncountPair(c) {
    const id = idOf(c.req.param('id'));
    await uncount(workshop, id, idOf(c.req.param('placement')), readFields(await bodyOf(c)).version());
    return c.redirect(`/pricing/shops/${id}#standing`, 303);
  });

  routes.post('/:id{[0-9]+}/payments', async function noteShopPayment(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const form = readShopPaymentForm(body, (await readPlan(workshop, now())).settings.currency);
    if (!form.ok) return showShopPage(c, id, { problems: form.problems, values: valuesOf(body) });
    await addShopPayment(workshop, id, form.value);
    return c.redirect(`/pricing/shops/${id}#paid`, 303);
  });

  routes.post('/:id{[0-9]+}/payments/:payment{[0-9]+}/remove', async function removeShopPayment(c) {
    const id = idOf(c.req.param('id'));
    await dropShopPayment(workshop, idOf(c.req.param('payment')), readFields(await bodyOf(c)).version());
    return c.redirect(`/pricing/shops/${id}#paid`, 303);
  });

  return routes;
}
