import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { minutesForInput } from '#core/shared/time-text.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { Rates } from '#core/timing/knitter.ts';
import { weekdays } from '#core/timing/knitter.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { addDaysOff, dropDaysOff } from '#flows/knitters/days-off.ts';
import { gaugesOfKnitter, type KnittersView, minutesOfKnitter, readKnitters } from '#flows/knitters/read-knitters.ts';
import { addKnitter, saveKnitter } from '#flows/knitters/save-knitter.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { knitterValues, rateBoxes, readDaysOffForm, readKnitterForm } from '#server/forms/knitters.ts';
import { renderPage } from '#server/render.tsx';
import { swatchRoutes } from '#server/routes/knitters-swatches.tsx';
import { KnitterPage, NewKnitterPage } from '#views/pages/knitters/knitter.tsx';
import { KnittersPage } from '#views/pages/knitters/knitters.tsx';

const rates = { metric: rateBoxes('metric'), imperial: rateBoxes('imperial') };

function newKnitterValues(dailyCapMin: number): FormValues {
  return { hand: 'usual', words: 'british', dailyCapMin: minutesForInput(dailyCapMin), isActive: 'yes' };
}

function optionsOf(rows: readonly { readonly id: number; readonly name: string }[]) {
  return rows.map(({ id, name }) => ({ value: String(id), words: name }));
}

function ratesOf(rows: WorkshopRows, knitterId: number): Partial<Rates> {
  const own = rows.knitterRates.filter((rate) => rate.knitterId === knitterId);
  return Object.fromEntries(own.map((rate) => [rate.operation, rate.value]));
}

function idOf(text: string): number {
  return /^\d{1,15}$/.test(text) ? Number(text) : 0;
}

const noKnitter = () => new AppError('notFound', 'That knitter is not here.');

/** The next pairs of a knitter in words, first done first. */
function nextPairsOf({ plan: { plan, footOfLine, rows, settings } }: KnittersView, knitterId: number) {
  const wanted = new Map(plan.wanted.pairs.map((pair) => [pair.key, pair]));
  return plan.weeks
    .filter((each) => each.knitterId === knitterId)
    .sort((a, b) => ((a.finishDay ?? '9') < (b.finishDay ?? '9') ? -1 : 1))
    .map((each) => {
      const pair = wanted.get(each.pairKey);
      const size = pair?.lineId ? footOfLine.get(pair.lineId)?.words : undefined;
      const order = rows.orders.find((row) => row.id === pair?.orderId);
      const words = [
        size === undefined ? 'a pair' : sizeWordsIn(size, settings.unitSystem),
        order ? `order ${order.number}` : 'for stock',
      ].join(', ');
      return { words, href: order ? `/orders/${order.id}` : null, finishDay: each.finishDay };
    });
}

/** Knitters, their hours, days off and swatches. */
export function knittersRoutes({ workshop, now, ...rest }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const read = () => readKnitters(workshop, now());
  routes.route('/swatches', swatchRoutes({ workshop, now, ...rest }));
  const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;
  const statusOf = (problems: readonly Problem[]) => (problems.length > 0 ? 422 : 200);

  async function showList(c: Context<AppEnv>, problems: readonly Problem[] = [], values: FormValues = {}) {
    const view = await read();
    return renderPage(
      c,
      <KnittersPage
        {...view}
        knitterOptions={optionsOf(view.knitters.filter((knitter) => knitter.isActive))}
        problems={problems}
        values={values}
      />,
      statusOf(problems),
    );
  }

  async function showNew(c: Context<AppEnv>, problems: readonly Problem[] = [], values?: FormValues) {
    const { plan } = await read();
    const page = (
      <NewKnitterPage
        values={values ?? newKnitterValues(plan.settings.dailyCapMin)}
        problems={problems}
        weekdays={weekdays}
        rates={rates}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }

  type Shown = { problems?: readonly Problem[]; values?: FormValues; dayValues?: FormValues };
  async function showOne(c: Context<AppEnv>, id: number, { problems = [], values, dayValues = {} }: Shown = {}) {
    const view = await read();
    const { rows, settings } = view.plan;
    const row = rows.knitters.find((each) => each.id === id);
    const knitter = view.knitters.find((each) => each.id === id);
    if (!row || !knitter) throw noKnitter();
    return renderPage(
      c,
      <KnitterPage
        knitter={knitter}
        values={values ?? knitterValues(row, minutesOfKnitter(rows, id), ratesOf(rows, id), settings.unitSystem)}
        problems={problems}
        weekdays={weekdays}
        rates={rates}
        gauges={gaugesOfKnitter(view.plan, id)}
        swatches={view.swatches.filter((swatch) => swatch.knitterName === row.name)}
        daysOff={view.daysOff.filter((off) => off.knitterId === id || off.knitterId === null)}
        dayValues={dayValues}
        nextPairs={nextPairsOf(view, id)}
      />,
      statusOf(problems),
    );
  }

  routes.get('/', function showKnitters(c) {
    return showList(c);
  });
  routes.get('/new', function showNewKnitter(c) {
    return showNew(c);
  });

  routes.post('/', async function addOne(c) {
    const body = await bodyOf(c);
    const form = readKnitterForm(body, (await read()).plan.settings.unitSystem);
    if (!form.ok) return showNew(c, form.problems, valuesOf(body));
    const added = await addKnitter(workshop, form.value);
    if (!added.ok) return showNew(c, added.problems, valuesOf(body));
    return c.redirect(`/knitters/${added.value}`, 303);
  });

  routes.post('/days-off', async function addForAnybody(c) {
    const body = await bodyOf(c);
    const ids = (await read()).knitters.map((knitter) => knitter.id);
    const form = readDaysOffForm(body, ids);
    if (!form.ok) return showList(c, form.problems, valuesOf(body));
    await addDaysOff(workshop, form.value);
    return c.redirect('/knitters', 303);
  });

  routes.post('/days-off/:id{[0-9]+}/remove', async function removeDaysOff(c) {
    const body = await bodyOf(c);
    await dropDaysOff(workshop, idOf(c.req.param('id')), readFields(body).version());
    const from = /^\/knitters\/(\d+)\/days-off$/.exec(textOf(body, 'from'));
    return c.redirect(from ? `/knitters/${from[1]}` : '/knitters', 303);
  });

  routes.get('/:id{[0-9]+}', function showKnitter(c) {
    return showOne(c, idOf(c.req.param('id')));
  });

  routes.post('/:id{[0-9]+}', async function saveOne(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const form = readKnitterForm(body, (await read()).plan.settings.unitSystem);
    if (!form.ok) return showOne(c, id, { problems: form.problems, values: valuesOf(body) });
    const saved = await saveKnitter(workshop, id, form.value, readFields(body).version());
    if (!saved.ok) return showOne(c, id, { problems: saved.problems, values: valuesOf(body) });
    return c.redirect(`/knitters/${id}`, 303);
  });

  routes.post('/:id{[0-9]+}/days-off', async function addForOne(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const view = await read();
    if (!view.knitters.some((knitter) => knitter.id === id)) throw noKnitter();
    const form = readDaysOffForm({ ...body, offKnitterId: String(id) }, [id]);
    if (!form.ok) return showOne(c, id, { problems: form.problems, dayValues: valuesOf(body) });
    await addDaysOff(workshop, form.value);
    return c.redirect(`/knitters/${id}`, 303);
  });

  return routes;
}
