import { type Context, Hono } from 'hono';
import { confidences } from '#core/shared/estimate.ts';
import { countOf } from '#core/shared/format.ts';
import { measureForInput } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { bringHome } from '#flows/buying/bring-home.ts';
import { improveLists, listSearches, lookLonger, stopLooking } from '#flows/buying/improve-list.ts';
import { readBuying } from '#flows/buying/read-buying.ts';
import { findShop, findShopOffer, readShops, type Shops } from '#flows/buying/read-shops.ts';
import { dropOffer, saveOffer, savePrices } from '#flows/buying/save-prices.ts';
import { addShop, dropShop, saveShop } from '#flows/buying/save-shop.ts';
import { readPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { parsePack, parsePrices, parseShop } from '#server/forms/buying.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { moneyForInput, percentForInput } from '#server/forms/numbers.ts';
import { parseArrival } from '#server/forms/purchases.ts';
import { renderFragment, renderPage, wantsFragment } from '#server/render.tsx';
import { ArrivedPage } from '#views/pages/buying/arrived-page.tsx';
import { BuyingPage } from '#views/pages/buying/buying-page.tsx';
import { SearchProgress } from '#views/pages/buying/list-search.tsx';
import { OfferPage, PricesPage, ShopFormPage } from '#views/pages/buying/shop-forms.tsx';
import { ShopsPage } from '#views/pages/buying/shops-page.tsx';

const bodyOf = (c: Context<AppEnv>): Promise<FormBody> => c.req.parseBody({ all: true });
const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));
const versionOf = (body: FormBody) => readFields(body).version();
const statusOf = (problems: readonly Problem[]) => (problems.length > 0 ? 422 : 200);

function priceChoices({ yarns, colours }: Shops) {
  return yarns
    .map((yarn) => ({ yarn, own: colours.filter((colour) => colour.yarnId === yarn.id) }))
    .filter(({ own }) => own.length > 0)
    .map(({ yarn, own }) => ({
      group: yarn.name,
      options: [
        ...(own.length > 1 ? [{ value: `yarn-${yarn.id}`, words: `${yarn.name}: all ${own.length} colours` }] : []),
        ...own.map((colour) => ({ value: `colour-${colour.id}`, words: `${yarn.name}: ${colour.name}` })),
      ],
    }));
}

/** Yarn to buy, shops and their prices, and what came home. */
export function buyingRoutes({ workshop, now, solver }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showBuying(c) {
    const workshopPlan = await readPlan(workshop, now());
    const { settings } = workshopPlan;
    const helped = Number(c.req.query('helped') ?? '0');
    const arrived =
      c.req.query('arrived') === undefined
        ? null
        : `The yarn is on the shelf.${helped > 0 ? ` ${countOf(helped, 'pair that waited has', 'pairs that waited have')} got theirs.` : ''}`;
    improveLists(workshop, workshopPlan, solver);
    const confidenceWords = confidences.find(({ ratio }) => ratio === settings.confidence)?.words ?? '';
    return renderPage(
      c,
      <BuyingPage
        {...readBuying(workshopPlan)}
        purpose={settings.purpose}
        currency={settings.currency}
        confidenceWords={confidenceWords}
        searches={listSearches(workshop, workshopPlan)}
        arrived={arrived}
      />,
    );
  });

  // Asked by the page every second while a cheaper list is being looked for; at the end the whole page is new.
  routes.get('/search', async function showSearch(c) {
    if (!wantsFragment(c)) return c.redirect('/buying', 303);
    const workshopPlan = await readPlan(workshop, now());
    const searches = listSearches(workshop, workshopPlan);
    const isLooking = Object.values(searches).some((search) => search?.state === 'looking');
    if (!isLooking) c.header('HX-Refresh', 'true');
    return renderFragment(c, <SearchProgress searches={searches} currency={workshopPlan.settings.currency} />);
  });
  routes.post('/search', async function postLookLonger(c) {
    const name = textOf(await bodyOf(c), 'list') === 'likely' ? 'likely' : 'safe';
    lookLonger(workshop, await readPlan(workshop, now()), name, solver);
    return c.redirect('/buying', 303);
  });
  routes.post('/search/stop', async function postStopLooking(c) {
    await stopLooking(workshop);
    return c.redirect('/buying', 303);
  });

  routes.get('/shops', async function showShops(c) {
    const { settings, shops, colours } = await readShops(workshop);
    return renderPage(
      c,
      <ShopsPage
        purpose={settings.purpose}
        currency={settings.currency}
        shops={shops}
        hasColours={colours.length > 0}
      />,
    );
  });

  async function showShopForm(
    c: Context<AppEnv>,
    shop: { readonly id: number; readonly name: string } | null,
    values: FormValues,
    problems: readonly Problem[] = [],
  ) {
    const { settings } = await readShops(workshop);
    return renderPage(
      c,
      <ShopFormPage
        purpose={settings.purpose}
        currency={settings.currency}
        shop={shop}
        values={values}
        problems={problems}
      />,
      statusOf(problems),
    );
  }
  routes.get('/shops/new', (c) => showShopForm(c, null, { colour: c.req.query('colour') ?? '' }));
  routes.post('/shops/new', async function postShop(c) {
    const body = await bodyOf(c);
    const { settings, colours } = await readShops(workshop);
    const parsed = parseShop(body, settings.currency);
    const added = parsed.ok ? await addShop(workshop, parsed.value) : parsed;
    if (!added.ok) return showShopForm(c, null, valuesOf(body), added.problems);
    const colour = colours.find(({ id }) => String(id) === textOf(body, 'colour'));
    return c.redirect(`/buying/prices?shop=${added.value}${colour ? `&colour=${colour.id}` : ''}`, 303);
  });

  routes.get('/shops/:id{[0-9]+}', async function showShop(c) {
    const { settings, ...shops } = await readShops(workshop);
    const { supplier } = findShop({ settings, ...shops }, idOf(c));
    const { currency } = settings;
    return showShopForm(c, supplier, {
      name: supplier.name,
      shipping: moneyForInput(supplier.shippingCents, currency),
      freeFrom: moneyForInput(supplier.freeFromCents, currency),
      minimum: supplier.minimumCents === 0 ? '' : moneyForInput(supplier.minimumCents, currency),
      deliveryDays: String(supplier.deliveryDays),
      ...Object.fromEntries(
        supplier.breaks.flatMap(({ fromCents, offRatio }, row) => [
          [`breakFrom-${row}`, moneyForInput(fromCents, currency)],
          [`breakOff-${row}`, percentForInput(offRatio)],
        ]),
      ),
      version: String(supplier.version),
    });
  });
  routes.post('/shops/:id{[0-9]+}', async function postShopChange(c) {
    const body = await bodyOf(c);
    const shops = await readShops(workshop);
    const { supplier } = findShop(shops, idOf(c));
    const parsed = parseShop(body, shops.settings.currency);
    const saved = parsed.ok ? await saveShop(workshop, supplier.id, parsed.value, versionOf(body)) : parsed;
    if (!saved.ok) return showShopForm(c, supplier, valuesOf(body), saved.problems);
    return c.redirect(`/buying/shops#shop-${supplier.id}`, 303);
  });
  routes.post('/shops/:id{[0-9]+}/remove', async function postShopRemoval(c) {
    await dropShop(workshop, idOf(c), versionOf(await bodyOf(c)));
    return c.redirect('/buying/shops', 303);
  });

  async function showPrices(c: Context<AppEnv>, typed: FormValues | null, problems: readonly Problem[] = []) {
    const shops = await readShops(workshop);
    const { settings } = shops;
    const colour = c.req.query('colour');
    if (shops.shops.length === 0) {
      return c.redirect(`/buying/shops/new${colour ? `?colour=${encodeURIComponent(colour)}` : ''}`, 303);
    }
    const values = typed ?? {
      shop: c.req.query('shop') ?? '',
      what: colour ? `colour-${colour}` : '',
      ballsPerPack: '1',
    };
    return renderPage(
      c,
      <PricesPage
        purpose={settings.purpose}
        currency={settings.currency}
        shops={shops.shops.map(({ supplier }) => ({ value: String(supplier.id), words: supplier.name }))}
        choices={priceChoices(shops)}
        values={values}
        problems={problems}
      />,
      statusOf(problems),
    );
  }
  routes.get('/prices', (c) => showPrices(c, null));
  routes.post('/prices', async function postPrices(c) {
    const body = await bodyOf(c);
    const { settings, shops, yarns, colours } = await readShops(workshop);
    const supplierIds = shops.map(({ supplier }) => supplier.id);
    const parsed = parsePrices(body, { ...settings, supplierIds, yarns, colours });
    if (!parsed.ok) return showPrices(c, valuesOf(body), parsed.problems);
    await savePrices(workshop, parsed.value.supplierId, parsed.value.entries);
    return c.redirect(`/buying/shops#shop-${parsed.value.supplierId}`, 303);
  });

  async function showOffer(c: Context<AppEnv>, typed: FormValues | null, problems: readonly Problem[] = []) {
    const shops = await readShops(workshop);
    const { offer, colour, yarn, shop } = findShopOffer(shops, idOf(c));
    const { settings } = shops;
    const values = typed ?? {
      units: settings.unitSystem,
      ballG: measureForInput(offer.ballMg / 1000, 'massG', settings.unitSystem),
      ballsPerPack: String(offer.ballsPerPack),
      price: moneyForInput(offer.priceCents, settings.currency),
      stock: offer.stockPacks === null ? '' : String(offer.stockPacks),
      ...Object.fromEntries(
        offer.breaks.flatMap(({ fromPacks, priceCents }, row) => [
          [`breakPacks-${row}`, String(fromPacks)],
          [`breakPrice-${row}`, moneyForInput(priceCents, settings.currency)],
        ]),
      ),
      version: String(offer.version),
    };
    return renderPage(
      c,
      <OfferPage
        purpose={settings.purpose}
        currency={settings.currency}
        offer={offer}
        shop={shop.supplier}
        colour={colour}
        yarn={yarn}
        values={values}
        problems={problems}
      />,
      statusOf(problems),
    );
  }
  routes.get('/offers/:id{[0-9]+}', (c) => showOffer(c, null));
  routes.post('/offers/:id{[0-9]+}', async function postOffer(c) {
    const body = await bodyOf(c);
    const shops = await readShops(workshop);
    const { offer, yarn, shop } = findShopOffer(shops, idOf(c));
    const parsed = parsePack(body, shops.settings, yarn.ballMg);
    const saved = parsed.ok ? await saveOffer(workshop, offer.id, parsed.value, versionOf(body)) : parsed;
    if (!saved.ok) return showOffer(c, valuesOf(body), saved.problems);
    return c.redirect(`/buying/shops#shop-${shop.supplier.id}`, 303);
  });
  routes.post('/offers/:id{[0-9]+}/remove', async function postOfferRemoval(c) {
    await dropOffer(workshop, idOf(c), versionOf(await bodyOf(c)));
    return c.redirect('/buying/shops', 303);
  });

  type Wish = { readonly shopId: number; readonly list: string; readonly showsAll: boolean };

  async function showArrived(
    c: Context<AppEnv>,
    wish: Wish,
    typed: FormValues | null,
    problems: readonly Problem[] = [],
  ) {
    const shops = await readShops(workshop);
    const { settings } = shops;
    const plan = await readPlan(workshop, now());
    const { lists } = readBuying(plan);
    const list = lists.find(({ name }) => name === wish.list) ?? lists.find(({ isChosen }) => isChosen)!;
    const basket = list.baskets.find(({ shop }) => shop.id === wish.shopId);
    const shop = wish.shopId === 0 ? null : findShop(shops, wish.shopId);
    const lineOf = new Map(basket?.lines.map((line) => [line.offer.id, line]));
    const offers = shop?.offers.filter(({ offer }) => wish.showsAll || !basket || lineOf.has(offer.id)) ?? [];
    const values = typed ?? {
      ...Object.fromEntries(
        offers.flatMap(({ offer }) => {
          const line = lineOf.get(offer.id);
          // So many packs may have reached a lower price.
          const priceCents = line ? line.goodsCents / line.packs : offer.priceCents;
          return [
            [`packs-${offer.id}`, line ? String(line.packs) : ''],
            [`price-${offer.id}`, moneyForInput(priceCents, settings.currency)],
          ];
        }),
      ),
      off: basket && basket.offCents > 0 ? moneyForInput(basket.offCents, settings.currency) : '',
      shipping: moneyForInput(basket?.shippingCents ?? shop?.supplier.shippingCents ?? 0, settings.currency),
      day: todayIn(now(), settings.timeZone),
    };
    const choices = shops.shops
      .map(({ supplier }) => {
        const own = list.baskets.find((each) => each.shop.id === supplier.id);
        const totalCents = own ? own.goodsCents - own.offCents + own.shippingCents : null;
        return { id: supplier.id, name: supplier.name, totalCents };
      })
      .sort((a, b) => Number(a.totalCents === null) - Number(b.totalCents === null));
    return renderPage(
      c,
      <ArrivedPage
        purpose={settings.purpose}
        currency={settings.currency}
        shop={shop?.supplier ?? null}
        offers={offers}
        shops={choices}
        list={list.name}
        showsAll={wish.showsAll || !basket}
        onTheirWay={plan.rows.purchases.filter(
          ({ state, supplierId }) => state === 'ordered' && supplierId === wish.shopId,
        )}
        values={values}
        problems={problems}
      />,
      statusOf(problems),
    );
  }

  routes.get('/arrived', async function chooseArrived(c) {
    const list = c.req.query('list') ?? '';
    const asked = c.req.query('shop');
    if (asked === undefined) {
      const { lists } = readBuying(await readPlan(workshop, now()));
      const baskets = lists.find(({ name }) => name === list)?.baskets ?? [];
      if (baskets.length === 1) return c.redirect(`/buying/arrived?shop=${baskets[0]!.shop.id}&list=${list}`, 303);
    }
    const shopId = /^\d{1,15}$/.test(asked ?? '') ? Number(asked) : 0;
    return showArrived(c, { shopId, list, showsAll: c.req.query('all') === 'yes' }, null);
  });
  routes.post('/arrived', async function postArrived(c) {
    const body = await bodyOf(c);
    const shops = await readShops(workshop);
    const shopId = Number(/^\d{1,15}$/.exec(textOf(body, 'shop'))?.[0] ?? '0');
    const { supplier, offers } = findShop(shops, shopId);
    const wish = { shopId, list: textOf(body, 'list'), showsAll: textOf(body, 'all') === 'yes' };
    const parsed = parseArrival(body, {
      currency: shops.settings.currency,
      today: todayIn(now(), shops.settings.timeZone),
      supplierId: supplier.id,
      offerIds: offers.map(({ offer }) => offer.id),
    });
    const done = parsed.ok ? await bringHome(workshop, parsed.value) : parsed;
    if (!done.ok) return showArrived(c, wish, valuesOf(body), done.problems);
    return c.redirect(`/buying?arrived=yes&helped=${done.value.helpedPairs}`, 303);
  });

  return routes;
}
