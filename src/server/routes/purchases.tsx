import { type Context, Hono } from 'hono';
import { addDays } from '#core/shared/calendar.ts';
import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { cancelOrdered, changeOrdered, orderBasket } from '#flows/buying/order-basket.ts';
import { basketToOrder, findPurchaseView, readPurchases } from '#flows/buying/read-purchases.ts';
import { findShop, readShops } from '#flows/buying/read-shops.ts';
import { receivePurchase } from '#flows/buying/receive-purchase.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { moneyForInput } from '#server/forms/numbers.ts';
import { parseBasketOrder, parsePurchaseChange, parseReceipt } from '#server/forms/purchases.ts';
import { renderPage } from '#server/render.tsx';
import { OrderedPage } from '#views/pages/buying/ordered-page.tsx';
import { PurchasePage } from '#views/pages/buying/purchase-page.tsx';
import { PurchasesPage } from '#views/pages/buying/purchases-page.tsx';

const bodyOf = (c: Context<AppEnv>): Promise<FormBody> => c.req.parseBody({ all: true });
const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));
const versionOf = (body: FormBody) => readFields(body).version();
const idFrom = (text: string | undefined) => (/^\d{1,15}$/.test(text ?? '') ? Number(text) : 0);
const listFrom = (text: string | undefined): 'likely' | 'safe' => (text === 'likely' ? 'likely' : 'safe');

/** The shops that the list still buys from. */
function stillToOrder({ plan, rows }: WorkshopPlan): string {
  const ids = new Set(plan.lists.chosen.baskets.map((basket) => basket.supplierId));
  const names = rows.suppliers.filter(({ id }) => ids.has(id)).map(({ name }) => name);
  return names.length === 0 ? '' : ` Still to order from: ${names.join(', ')}.`;
}

/** What was ordered: on its way, part here, here, cancelled. */
export function purchasesRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showPurchases(c) {
    const plan = await readPlan(workshop, now());
    const { currency, purpose } = plan.settings;
    const did = c.req.query('did');
    const helped = idFrom(c.req.query('helped'));
    const got = helped > 0 ? ` ${countOf(helped, 'pair that waited has', 'pairs that waited have')} got theirs.` : '';
    const notices: Readonly<Record<string, string>> = {
      ordered: `It is written down, and counts as shelf from its day. When the parcel is here, open it below and enter what came.${stillToOrder(plan)}`,
      here: `The yarn is on the shelf.${got}`,
      part: `What came is on the shelf.${got} The rest is still on its way.`,
      cancelled: 'It is cancelled. What it was to bring is to buy again.',
    };
    return renderPage(
      c,
      <PurchasesPage
        purpose={purpose}
        currency={currency}
        today={plan.today}
        {...readPurchases(plan)}
        notice={(did && notices[did]) || null}
      />,
    );
  });

  async function showOrder(
    c: Context<AppEnv>,
    wish: { readonly shopId: number; readonly list: 'likely' | 'safe'; readonly showsAll: boolean },
    typed: FormValues | null,
    problems: readonly Problem[] = [],
  ) {
    const shops = await readShops(workshop);
    const { currency, purpose, timeZone } = shops.settings;
    const plan = await readPlan(workshop, now());
    if (wish.shopId === 0) {
      const inList = shops.shops.filter(({ supplier }) => basketToOrder(plan, wish.list, supplier.id) !== null);
      const choices = (inList.length > 0 ? inList : shops.shops).map(({ supplier }) => supplier);
      if (choices.length === 1) {
        return c.redirect(`/buying/purchases/new?shop=${choices[0]!.id}&list=${wish.list}`, 303);
      }
      const choose = { shop: null, offers: [], shops: choices, showsAll: false, values: {} };
      return renderPage(c, <OrderedPage purpose={purpose} currency={currency} list={wish.list} {...choose} />);
    }
    const shop = findShop(shops, wish.shopId);
    const basket = basketToOrder(plan, wish.list, wish.shopId);
    const offers = shop.offers.filter(({ offer }) => wish.showsAll || basket === null || basket.packs.has(offer.id));
    const today = todayIn(now(), timeZone);
    const values = typed ?? {
      ...Object.fromEntries(
        offers.flatMap(({ offer }) => {
          const wanted = basket?.packs.get(offer.id);
          return [
            [`packs-${offer.id}`, wanted ? String(wanted.packs) : ''],
            [`price-${offer.id}`, moneyForInput(wanted?.priceCents ?? offer.priceCents, currency)],
          ];
        }),
      ),
      shipping: moneyForInput(basket?.shippingCents ?? shop.supplier.shippingCents, currency),
      off: basket && basket.offCents > 0 ? moneyForInput(basket.offCents, currency) : '',
      orderedDay: today,
      expectedDay: addDays(today, shop.supplier.deliveryDays),
    };
    return renderPage(
      c,
      <OrderedPage
        purpose={purpose}
        currency={currency}
        list={wish.list}
        shop={shop.supplier}
        offers={offers}
        shops={[]}
        showsAll={wish.showsAll || basket === null}
        values={values}
        problems={problems}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }
  routes.get('/new', (c) =>
    showOrder(
      c,
      {
        shopId: idFrom(c.req.query('shop')),
        list: listFrom(c.req.query('list')),
        showsAll: c.req.query('all') === 'yes',
      },
      null,
    ),
  );
  routes.post('/new', async function postOrder(c) {
    const body = await bodyOf(c);
    const shops = await readShops(workshop);
    const { supplier, offers } = findShop(shops, idFrom(textOf(body, 'shop')));
    const parsed = parseBasketOrder(body, {
      currency: shops.settings.currency,
      today: todayIn(now(), shops.settings.timeZone),
      supplierId: supplier.id,
      deliveryDays: supplier.deliveryDays,
      offerIds: offers.map(({ offer }) => offer.id),
    });
    if (!parsed.ok) {
      const showsAll = textOf(body, 'all') === 'yes';
      const wish = { shopId: supplier.id, list: listFrom(textOf(body, 'list')), showsAll };
      return showOrder(c, wish, valuesOf(body), parsed.problems);
    }
    const id = await orderBasket(workshop, parsed.value);
    return c.redirect(`/buying/purchases?did=ordered#purchase-${id}`, 303);
  });

  async function showPurchase(c: Context<AppEnv>, typed: FormValues | null, problems: readonly Problem[] = []) {
    const plan = await readPlan(workshop, now());
    const { currency, purpose } = plan.settings;
    const view = findPurchaseView(plan, idOf(c));
    const { purchase, lines } = view;
    const values = {
      day: plan.today,
      ...Object.fromEntries(lines.map(({ line, missing }) => [`packs-${line.id}`, String(missing)])),
      expectedDay: purchase.expectedDay,
      shipping: moneyForInput(purchase.shippingCents, currency),
      off: purchase.offCents > 0 ? moneyForInput(purchase.offCents, currency) : '',
      ...Object.fromEntries(lines.map(({ line }) => [`price-${line.id}`, moneyForInput(line.priceCents, currency)])),
      version: String(purchase.version),
      ...typed,
    };
    const status = problems.length > 0 ? 422 : 200;
    return renderPage(
      c,
      <PurchasePage
        purpose={purpose}
        currency={currency}
        today={plan.today}
        view={view}
        values={values}
        problems={problems}
      />,
      status,
    );
  }
  routes.get('/:id{[0-9]+}', (c) => showPurchase(c, null));

  const openView = async (c: Context<AppEnv>) => {
    const plan = await readPlan(workshop, now());
    return { view: findPurchaseView(plan, idOf(c)), currency: plan.settings.currency, today: plan.today };
  };
  routes.post('/:id{[0-9]+}/arrived', async function postArrived(c) {
    const body = await bodyOf(c);
    const { view, today } = await openView(c);
    const lineIds = view.lines.filter(({ missing }) => missing > 0).map(({ line }) => line.id);
    const parsed = parseReceipt(body, lineIds, today);
    const done = parsed.ok ? await receivePurchase(workshop, idOf(c), parsed.value, versionOf(body)) : parsed;
    if (!done.ok) return showPurchase(c, valuesOf(body), done.problems);
    const { helpedPairs, stillToCome } = done.value;
    return c.redirect(`/buying/purchases?did=${stillToCome > 0 ? 'part' : 'here'}&helped=${helpedPairs}`, 303);
  });
  routes.post('/:id{[0-9]+}/change', async function postChange(c) {
    const body = await bodyOf(c);
    const { view, currency } = await openView(c);
    const lines = view.arrivedPacks > 0 ? null : view.lines.map(({ line }) => line);
    const parsed = parsePurchaseChange(body, currency, lines);
    const saved = parsed.ok ? await changeOrdered(workshop, idOf(c), parsed.value, versionOf(body)) : parsed;
    if (!saved.ok) return showPurchase(c, valuesOf(body), saved.problems);
    return c.redirect(`/buying/purchases/${saved.value}`, 303);
  });
  routes.post('/:id{[0-9]+}/cancel', async function postCancel(c) {
    const body = await bodyOf(c);
    const done = await cancelOrdered(workshop, idOf(c), versionOf(body));
    if (!done.ok) return showPurchase(c, null, done.problems);
    return c.redirect('/buying/purchases?did=cancelled', 303);
  });

  return routes;
}
