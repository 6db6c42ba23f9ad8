import { type Context, Hono } from 'hono';
import { overheadRate } from '#core/pricing/overhead.ts';
import { AppError } from '#core/shared/app-error.ts';
import { pagingOf, rowsOnScreen } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { addExpense, dropExpense, expensesAMonth } from '#flows/pricing/expenses.ts';
import { readGroups } from '#flows/pricing/price-groups.ts';
import { rangeOfSeen, readPricesSeen } from '#flows/pricing/prices-seen.ts';
import {
  colourWithoutPrice,
  type PairPriceView,
  readPairPrice,
  readPrices,
  type TriedPrice,
  tryPrice,
} from '#flows/pricing/read-prices.ts';
import { readRunningCosts } from '#flows/pricing/running-costs.ts';
import { addMaterial, dropMaterial, saveMaterial } from '#flows/pricing/save-material.ts';
import { addOutlet, closeOutlet, saveOutlet } from '#flows/pricing/save-outlet.ts';
import { readWaysDown } from '#flows/pricing/ways-down.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { saveSettings } from '#flows/settings/save-settings.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import {
  everyStyle,
  materialValues,
  newOutletValues,
  outletValues,
  readExpenseForm,
  readMaterialForm,
  readOutletForm,
} from '#server/forms/pricing.ts';
import { readSeen, readSettingsForm, seenText, settingValues } from '#server/forms/settings.ts';
import { renderPage } from '#server/render.tsx';
import { HourPage, hourSettings } from '#views/pages/pricing/hour.tsx';
import { MaterialPage } from '#views/pages/pricing/material.tsx';
import { OutletPage } from '#views/pages/pricing/outlet.tsx';
import { PairPage, type PairPageProps } from '#views/pages/pricing/pair.tsx';
import { PricesPage } from '#views/pages/pricing/prices.tsx';

const gripValues: FormValues = { name: 'Grip line', perPair: '1' };

function runningCentsPerHour({ settings }: WorkshopPlan): number {
  return overheadRate(settings.runningCostsCentsPerMonth, settings.plannedHoursPerMonth);
}

function materialsOfPlan({ rows }: WorkshopPlan) {
  return rows.styleMaterials.flatMap((use) => {
    const material = rows.materials.find((each) => each.id === use.materialId);
    const styleName = rows.styles.find((style) => style.id === use.styleId)?.name ?? '';
    return material ? [{ useId: use.id, styleName, perPair: use.perPair, ...material }] : [];
  });
}

/** A price typed into the address: nothing typed, something faulty, or what it leaves. */
function readTried(
  view: PairPriceView,
  values: { price: string; at: string },
): { tried: TriedPrice | null; problems: readonly Problem[] } {
  if (values.price.trim() === '') return { tried: null, problems: [] };
  const form = readFields(values, view.plan.settings.currency);
  const priceCents = form.money('price', { sentence: 'Enter a price to try, like 45' });
  const selling = view.pair.prices.filter(({ outlet }) => outlet.kind !== 'gift');
  const id = form.optionalId(
    'at',
    selling.map(({ outlet }) => outlet.id),
    { sentence: 'Choose an outlet of the list' },
  );
  const outlet = selling.find((each) => each.outlet.id === id)?.outlet ?? selling[0]?.outlet;
  if (form.problems.length > 0 || !outlet) return { tried: null, problems: form.problems };
  return { tried: tryPrice(view, outlet, priceCents), problems: [] };
}

/** Ways down at the price tried, else at the one agreed, else at the one asked where the order goes. */
function waysAt(view: PairPriceView, tried: TriedPrice | null): PairPageProps['ways'] {
  const { plan, pair, outletId, agreedCents } = view;
  const selling = pair.prices.filter(({ outlet }) => outlet.kind !== 'gift');
  const asked = selling.find(({ outlet }) => outlet.id === outletId);
  const at = tried ?? asked ?? selling[0];
  const kind = plan.kindOfLine.get(pair.lineId);
  const priceCents = !tried && asked ? (agreedCents ?? asked.row.priceCents) : (at?.row.priceCents ?? null);
  if (!at || !kind || priceCents === null) return null;
  const { ways, leftOut } = readWaysDown(plan, kind, at.outlet, priceCents);
  const names = new Map(plan.rows.yarnColours.map((colour) => [colour.id, colour.name]));
  const named = ways.map(({ colourIds, ...way }) => ({
    ...way,
    colourNames: colourIds.map((id) => names.get(id) ?? ''),
  }));
  return { ways: named, leftOut, priceCents, outletName: at.outlet.name };
}

function idOf(text: string): number {
  return /^\d{1,15}$/.test(text) ? Number(text) : 0;
}

/** Costs, prices, outlets, other materials, and what an hour costs. */
export function pricingRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const read = () => readPlan(workshop, now());
  const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;
  const statusOf = (problems: readonly Problem[]) => (problems.length > 0 ? 422 : 200);

  routes.get('/', async function showPrices(c) {
    const prices = await readPrices(workshop, now());
    const { plan, ...view } = prices;
    const materials = materialsOfPlan(plan);
    const { settings, input } = plan;
    const sizePaging = pagingOf(view.sizes.length, pageWish(c, rowsOnScreen, 'sizes'));
    const pairPaging = pagingOf(
      view.sizes.reduce((sum, { pairs }) => sum + pairs.length, 0),
      pageWish(c),
    );
    return renderPage(
      c,
      <PricesPage
        {...view}
        {...{ sizePaging, pairPaging }}
        sizeHref={pageHrefs('/pricing', {}, 'sizes')}
        pairHref={pageHrefs('/pricing')}
        materials={materials}
        unpricedColourId={colourWithoutPrice(plan)}
        currency={settings.currency}
        purpose={settings.purpose}
        wageCents={settings.wageCentsPerHour}
        runningCentsPerHour={runningCentsPerHour(plan)}
        referenceName={input.knitters.find((knitter) => knitter.id === input.referenceKnitterId)?.name ?? ''}
        groups={readGroups(prices)}
        othersAsk={rangeOfSeen(await readPricesSeen(workshop))}
        hasGrip={materials.some((material) => /grip|sole/i.test(material.name))}
      />,
    );
  });

  routes.get('/pair/:lineId{[0-9]+}', async function showPair(c) {
    const view = await readPairPrice(workshop, now(), idOf(c.req.param('lineId')));
    const values = { price: c.req.query('price') ?? '', at: c.req.query('at') ?? '' };
    const { tried, problems } = readTried(view, values);
    const { plan, ...rest } = view;
    const seen = await readPricesSeen(workshop);
    return renderPage(
      c,
      <PairPage
        {...rest}
        currency={plan.settings.currency}
        wageCents={plan.settings.wageCentsPerHour}
        purpose={plan.settings.purpose}
        values={values}
        problems={problems}
        tried={tried}
        ways={waysAt(view, tried)}
        othersAsk={rangeOfSeen(seen)}
      />,
      statusOf(problems),
    );
  });

  type ShownHour = { problems?: readonly Problem[]; values?: FormValues; seen?: string; expenseValues?: FormValues };
  async function showHourPage(c: Context<AppEnv>, shown: ShownHour = {}) {
    const plan = await read();
    const { settings, rows, today } = plan;
    const { problems = [] } = shown;
    return renderPage(
      c,
      <HourPage
        values={shown.values ?? settingValues(hourSettings, settings)}
        seen={shown.seen ?? seenText(hourSettings, settings)}
        problems={problems}
        currency={settings.currency}
        wageCents={settings.wageCentsPerHour}
        runningCentsPerHour={runningCentsPerHour(plan)}
        expenses={rows.expenses}
        expensesAMonthCents={expensesAMonth(rows.expenses, today)}
        expenseValues={shown.expenseValues ?? { day: today }}
        running={{ ...(await readRunningCosts(workshop, plan)), monthCents: settings.runningCostsCentsPerMonth }}
      />,
      statusOf(problems),
    );
  }

  routes.get('/hour', function showHour(c) {
    return showHourPage(c);
  });

  routes.post('/hour', async function saveHour(c) {
    const body = await bodyOf(c);
    const { seen, currency, units } = readSeen(body, hourSettings);
    const wished = readSettingsForm(body, hourSettings, currency, units);
    if (!wished.ok) {
      return showHourPage(c, { problems: wished.problems, values: valuesOf(body), seen: textOf(body, 'seen') });
    }
    await saveSettings(workshop, wished.value, seen);
    return c.redirect('/pricing/hour', 303);
  });

  routes.post('/expenses', async function addOneExpense(c) {
    const body = await bodyOf(c);
    const form = readExpenseForm(body, (await read()).settings.currency);
    if (!form.ok) return showHourPage(c, { problems: form.problems, expenseValues: valuesOf(body) });
    await addExpense(workshop, form.value);
    return c.redirect('/pricing/hour', 303);
  });

  routes.post('/expenses/:id{[0-9]+}/remove', async function removeOneExpense(c) {
    await dropExpense(workshop, idOf(c.req.param('id')), readFields(await bodyOf(c)).version());
    return c.redirect('/pricing/hour', 303);
  });

  async function showOutletPage(
    c: Context<AppEnv>,
    id: number | null,
    { problems = [], values }: { problems?: readonly Problem[]; values?: FormValues } = {},
  ) {
    const { rows, settings } = await read();
    const outlet = id === null ? null : (rows.outlets.find((each) => each.id === id) ?? null);
    if (id !== null && !outlet) throw new AppError('notFound', 'That outlet is not here.');
    const shown = values ?? (outlet ? outletValues(outlet, settings.currency) : newOutletValues);
    const page = <OutletPage outlet={outlet} values={shown} problems={problems} currency={settings.currency} />;
    return renderPage(c, page, statusOf(problems));
  }

  routes.get('/outlets/new', function showNewOutlet(c) {
    return showOutletPage(c, null);
  });
  routes.get('/outlets/:id{[0-9]+}', function showOutlet(c) {
    return showOutletPage(c, idOf(c.req.param('id')));
  });

  routes.post('/outlets', async function addOneOutlet(c) {
    const body = await bodyOf(c);
    const form = readOutletForm(body, (await read()).settings.currency);
    if (!form.ok) return showOutletPage(c, null, { problems: form.problems, values: valuesOf(body) });
    const added = await addOutlet(workshop, form.value);
    if (!added.ok) return showOutletPage(c, null, { problems: added.problems, values: valuesOf(body) });
    return c.redirect('/pricing#outlets', 303);
  });

  routes.post('/outlets/:id{[0-9]+}', async function saveOneOutlet(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const form = readOutletForm(body, (await read()).settings.currency);
    if (!form.ok) return showOutletPage(c, id, { problems: form.problems, values: valuesOf(body) });
    const saved = await saveOutlet(workshop, id, form.value, readFields(body).version());
    if (!saved.ok) return showOutletPage(c, id, { problems: saved.problems, values: valuesOf(body) });
    return c.redirect('/pricing#outlets', 303);
  });

  routes.post('/outlets/:id{[0-9]+}/:way{close|open}', async function closeOneOutlet(c) {
    const isClosed = c.req.param('way') === 'close';
    await closeOutlet(workshop, idOf(c.req.param('id')), isClosed, readFields(await bodyOf(c)).version());
    return c.redirect('/pricing#outlets', 303);
  });

  async function showMaterialPage(
    c: Context<AppEnv>,
    useId: number | null,
    { problems = [], values }: { problems?: readonly Problem[]; values?: FormValues } = {},
  ) {
    const { rows, settings } = await read();
    const use = rows.styleMaterials.find((each) => each.id === useId);
    const material = rows.materials.find((each) => each.id === use?.materialId);
    if (useId !== null && (!use || !material)) throw new AppError('notFound', 'That material is not here.');
    const stored = use && material ? materialValues(material, use.perPair, settings.currency) : { perPair: '1' };
    const page = (
      <MaterialPage
        useId={useId}
        values={values ?? stored}
        problems={problems}
        currency={settings.currency}
        styles={[
          { value: everyStyle, words: 'Every style' },
          ...rows.styles.map((style) => ({ value: String(style.id), words: style.name })),
        ]}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }

  async function readMaterial(body: FormBody) {
    const { rows, settings } = await read();
    return readMaterialForm(
      body,
      settings.currency,
      rows.styles.map((style) => style.id),
    );
  }

  routes.get('/materials/new', function showNewMaterial(c) {
    return showMaterialPage(c, null, c.req.query('grip') === 'yes' ? { values: gripValues } : {});
  });
  routes.get('/materials/:id{[0-9]+}', function showMaterial(c) {
    return showMaterialPage(c, idOf(c.req.param('id')));
  });

  routes.post('/materials', async function addOneMaterial(c) {
    const body = await bodyOf(c);
    const form = await readMaterial(body);
    if (!form.ok) return showMaterialPage(c, null, { problems: form.problems, values: valuesOf(body) });
    const added = await addMaterial(workshop, form.value);
    if (!added.ok) return showMaterialPage(c, null, { problems: added.problems, values: valuesOf(body) });
    return c.redirect('/pricing#materials', 303);
  });

  routes.post('/materials/:id{[0-9]+}', async function saveOneMaterial(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const use = (await read()).rows.styleMaterials.find((each) => each.id === id);
    const form = await readMaterial({ ...body, styleId: String(use?.styleId ?? '') });
    if (!form.ok) return showMaterialPage(c, id, { problems: form.problems, values: valuesOf(body) });
    const saved = await saveMaterial(workshop, id, form.value, readFields(body).version());
    if (!saved.ok) return showMaterialPage(c, id, { problems: saved.problems, values: valuesOf(body) });
    return c.redirect('/pricing#materials', 303);
  });

  routes.post('/materials/:id{[0-9]+}/remove', async function removeOneMaterial(c) {
    await dropMaterial(workshop, idOf(c.req.param('id')));
    return c.redirect('/pricing#materials', 303);
  });

  return routes;
}
