import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { bookMissing } from '#flows/fair/book-missing.ts';
import { type FairRows, readFairRows } from '#flows/fair/fair-rows.ts';
import { listDays } from '#flows/fair/list-days.ts';
import { readDay } from '#flows/fair/read-day.ts';
import { addDay, addFair, dropDay, saveDay, saveFair } from '#flows/fair/save-fair.ts';
import { priceSoldPair, readToSettle, settleWithPair, settleWithWhy, unknownSales } from '#flows/fair/settle-sale.ts';
import { takeBackSale } from '#flows/fair/take-back-sale.ts';
import { kindsToTake, takePairs } from '#flows/fair/take-pairs.ts';
import { typeInDay } from '#flows/fair/type-in-day.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import {
  askedLineCount,
  dayValues,
  fairValues,
  newToken,
  readDayForm,
  readFairForm,
  readMissing,
  readNewFair,
  readPairChoice,
  readPriceOfSold,
  readTake,
  readTally,
  readWhy,
  tallyLines,
  tallyValues,
  tokenOf,
} from '#server/forms/fair.ts';
import { type FormBody, type FormValues, readFields, valuesOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { DayPage } from '#views/pages/fair/day.tsx';
import { DayEditPage, FairPage, NewFairPage } from '#views/pages/fair/forms.tsx';
import { FairListPage } from '#views/pages/fair/list.tsx';
import { PairsPage } from '#views/pages/fair/pairs.tsx';
import { SettlePage } from '#views/pages/fair/settle.tsx';
import { TallySheetPage } from '#views/pages/fair/sheet.tsx';
import { TallyPage } from '#views/pages/fair/tally.tsx';

type Shown = { readonly values?: FormValues; readonly problems?: readonly Problem[] };

const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;
const idOf = (c: Context<AppEnv>, name = 'id') => Number(c.req.param(name));
const statusOf = (problems: readonly Problem[]) => (problems.length > 0 ? 422 : 200);

/** Outlets to sell at, the fairs first. */
function outletsOf({ rows }: WorkshopPlan) {
  const selling = rows.outlets.filter(({ kind, isClosed }) => kind !== 'gift' && !isClosed);
  const isFair = (kind: string) => Number(kind !== 'fair');
  return [...selling].sort((a, b) => isFair(a.kind) - isFair(b.kind) || a.rank - b.rank);
}
const optionsOf = (outlets: readonly { readonly id: number; readonly name: string }[]) =>
  outlets.map(({ id, name }) => ({ value: String(id), words: name }));

/** Days at a table: what comes along, the tally, what came home, and the account. */
export function fairRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const read = async () => {
    const workshopPlan = await readPlan(workshop, now());
    const rows = await readFairRows(workshop);
    const { purpose, currency } = workshopPlan.settings;
    return { workshopPlan, rows, purpose, currency };
  };
  const readOne = async (dayId: number) => {
    const all = await read();
    return { ...all, view: readDay(all.rows, all.workshopPlan, dayId) };
  };
  const toSettleCount = async (rows: FairRows, workshopPlan: WorkshopPlan) => {
    const { unknown, unpriced } = await readToSettle(workshop, rows, workshopPlan);
    return unknown.length + (workshopPlan.settings.purpose === 'give' ? 0 : unpriced.length);
  };

  routes.get('/', async function showFairs(c) {
    const { rows, workshopPlan, purpose, currency } = await read();
    const toSettle = await toSettleCount(rows, workshopPlan);
    const days = listDays(rows, workshopPlan);
    return renderPage(c, <FairListPage days={days} toSettle={toSettle} purpose={purpose} currency={currency} />);
  });

  async function showNew(c: Context<AppEnv>, { values, problems = [] }: Shown = {}) {
    const { workshopPlan, purpose, currency } = await read();
    const page = (
      <NewFairPage
        values={values ?? { day: workshopPlan.today }}
        problems={problems}
        currency={currency}
        purpose={purpose}
        outlets={optionsOf(outletsOf(workshopPlan))}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }
  routes.get('/new', (c) => showNew(c));
  routes.post('/', async function addOneFair(c) {
    const body = await bodyOf(c);
    const { workshopPlan, currency } = await read();
    const ids = outletsOf(workshopPlan).map(({ id }) => id);
    const form = readNewFair(body, currency, ids);
    if (!form.ok) return showNew(c, { values: valuesOf(body), problems: form.problems });
    return c.redirect(`/fair/days/${await addFair(workshop, form.value)}/pairs`, 303);
  });

  async function showFair(
    c: Context<AppEnv>,
    { values, problems = [], dayValues: typedDay }: Shown & { readonly dayValues?: FormValues } = {},
  ) {
    const { rows, workshopPlan, purpose, currency } = await read();
    const fair = rows.fairs.find(({ id }) => id === idOf(c));
    if (!fair) throw new AppError('notFound', 'That fair is not here; it may have been removed.');
    const days = rows.days.filter(({ fairId }) => fairId === fair.id).reverse();
    const open = outletsOf(workshopPlan);
    const own = workshopPlan.rows.outlets.find(({ id }) => id === fair.outletId)!;
    const page = (
      <FairPage
        fair={fair}
        days={days}
        outlets={optionsOf(open.includes(own) ? open : [own, ...open])}
        values={values ?? fairValues(fair, currency)}
        dayValues={typedDay ?? {}}
        problems={problems}
        currency={currency}
        purpose={purpose}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }
  routes.get('/:id{[0-9]+}', (c) => showFair(c));
  routes.post('/:id{[0-9]+}', async function saveOneFair(c) {
    const body = await bodyOf(c);
    const { workshopPlan, currency } = await read();
    const ids = workshopPlan.rows.outlets.map(({ id }) => id);
    const form = readFairForm(body, currency, ids);
    if (!form.ok) return showFair(c, { values: valuesOf(body), problems: form.problems });
    await saveFair(workshop, idOf(c), form.value, readFields(body).version());
    return c.redirect(`/fair/${idOf(c)}`, 303);
  });
  routes.post('/:id{[0-9]+}/days', async function addOneDay(c) {
    const body = await bodyOf(c);
    const form = readDayForm(body, (await read()).currency);
    const added = form.ok ? await addDay(workshop, idOf(c), form.value) : form;
    if (!added.ok) return showFair(c, { dayValues: valuesOf(body), problems: added.problems });
    return c.redirect(`/fair/days/${added.value}/pairs`, 303);
  });

  async function showDay(c: Context<AppEnv>, { values = {}, problems = [] }: Shown = {}) {
    const { rows, view, purpose, currency } = await readOne(idOf(c));
    const toSettle = unknownSales(rows).filter(({ fairDayId }) => fairDayId === view.day.id).length;
    const token = newToken();
    const shown = { view, toSettle, values, problems, token, purpose, currency };
    return renderPage(c, <DayPage {...shown} />, statusOf(problems));
  }
  routes.get('/days/:id{[0-9]+}', (c) => showDay(c));

  async function showDayEdit(c: Context<AppEnv>, { values, problems = [] }: Shown = {}) {
    const { view, rows, purpose, currency } = await readOne(idOf(c));
    const page = (
      <DayEditPage
        fair={view.fair}
        day={view.day}
        hasSales={rows.sales.some(({ fairDayId }) => fairDayId === view.day.id)}
        values={values ?? dayValues(view.day, currency)}
        problems={problems}
        currency={currency}
        purpose={purpose}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }
  routes.get('/days/:id{[0-9]+}/edit', (c) => showDayEdit(c));
  routes.post('/days/:id{[0-9]+}', async function saveOneDay(c) {
    const body = await bodyOf(c);
    const form = readDayForm(body, (await readOne(idOf(c))).currency);
    const saved = form.ok ? await saveDay(workshop, idOf(c), form.value, readFields(body).version()) : form;
    if (!saved.ok) return showDayEdit(c, { values: valuesOf(body), problems: saved.problems });
    return c.redirect(`/fair/days/${idOf(c)}`, 303);
  });
  routes.post('/days/:id{[0-9]+}/remove', async function removeOneDay(c) {
    await dropDay(workshop, idOf(c), readFields(await bodyOf(c)).version());
    return c.redirect('/fair', 303);
  });

  async function showPairs(c: Context<AppEnv>, { values, problems = [] }: Shown = {}) {
    const { view, rows, workshopPlan, purpose, currency } = await readOne(idOf(c));
    const { fair, day, outlet } = view;
    const kinds = kindsToTake(rows, workshopPlan, day, outlet.id);
    const isFirst = view.takenCount === 0;
    const counts = kinds.map(({ key, pairIds, takenCount }) => [`take-${key}`, isFirst ? pairIds.length : takenCount]);
    const page = (
      <PairsPage
        fair={fair}
        day={day}
        kinds={kinds}
        values={
          values ?? { ...Object.fromEntries(counts.map(([key, n]) => [key, String(n)])), version: `${day.version}` }
        }
        problems={problems}
        purpose={purpose}
        currency={currency}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }
  routes.get('/days/:id{[0-9]+}/pairs', (c) => showPairs(c));
  routes.post('/days/:id{[0-9]+}/pairs', async function postPairs(c) {
    const body = await bodyOf(c);
    const { view, rows, workshopPlan } = await readOne(idOf(c));
    const kinds = kindsToTake(rows, workshopPlan, view.day, view.outlet.id);
    const form = readTake(body, kinds);
    const taken = form.ok
      ? await takePairs(workshop, view.day.id, kinds, form.value, readFields(body).version())
      : form;
    if (!taken.ok) return showPairs(c, { values: valuesOf(body), problems: taken.problems });
    return c.redirect(`/fair/days/${view.day.id}`, 303);
  });

  routes.get('/days/:id{[0-9]+}/sheet', async function showSheet(c) {
    const { view, purpose, currency } = await readOne(idOf(c));
    return renderPage(c, <TallySheetPage view={view} purpose={purpose} currency={currency} />);
  });

  async function showTally(c: Context<AppEnv>, { body, problems = [] }: Shown & { readonly body?: FormBody } = {}) {
    const { view, purpose, currency } = await readOne(idOf(c));
    const isSaved = problems.some(({ code }) => code === 'savedBefore');
    const page = (
      <TallyPage
        view={view}
        values={
          body ? valuesOf(isSaved ? { ...body, version: String(view.day.version) } : body) : tallyValues(view, currency)
        }
        problems={problems}
        token={body && !isSaved ? tokenOf(body) : newToken()}
        lines={{ ...tallyLines, asked: askedLineCount(view, body) }}
        purpose={purpose}
        currency={currency}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }
  routes.get('/days/:id{[0-9]+}/tally', (c) => showTally(c));
  routes.post('/days/:id{[0-9]+}/tally', async function postTally(c) {
    const body = await bodyOf(c);
    const { view, currency, purpose } = await readOne(idOf(c));
    const form = readTally(body, view, currency, purpose === 'give');
    const typed = form.ok ? await typeInDay(workshop, view.day.id, form.value) : form;
    if (!typed.ok) return showTally(c, { body, problems: typed.problems });
    return c.redirect(`/fair/days/${view.day.id}`, 303);
  });

  routes.post('/days/:id{[0-9]+}/missing', async function postMissing(c) {
    const body = await bodyOf(c);
    const { view, currency } = await readOne(idOf(c));
    const at = `/fair/days/${view.day.id}`;
    if (view.kinds.every(({ missing }) => missing === 0)) return c.redirect(at, 303);
    const form = readMissing(body, view, currency);
    if (!form.ok) return showDay(c, { values: valuesOf(body), problems: form.problems });
    await bookMissing(workshop, view.day.id, form.value, tokenOf(body));
    return c.redirect(at, 303);
  });
  routes.post('/days/:id{[0-9]+}/found/:pair{[0-9]+}', async function postFound(c) {
    const { view, workshopPlan } = await readOne(idOf(c));
    const pairId = idOf(c, 'pair');
    if (view.gone.some((pair) => pair.pairId === pairId)) {
      await stepPair(workshop, pairId, { do: 'come back' }, workshopPlan.today, undefined);
    }
    return c.redirect(`/fair/days/${view.day.id}`, 303);
  });
  routes.post('/sales/:id{[0-9]+}/back', async function postTakeBack(c) {
    const dayId = await takeBackSale(workshop, idOf(c));
    return c.redirect(dayId === null ? '/pricing/books' : `/fair/days/${dayId}#sales`, 303);
  });

  async function showSettle(c: Context<AppEnv>, { values = {}, problems = [] }: Shown = {}) {
    const { rows, workshopPlan, purpose, currency } = await read();
    const page = (
      <SettlePage
        {...(await readToSettle(workshop, rows, workshopPlan))}
        outlets={optionsOf(outletsOf(workshopPlan))}
        token={newToken()}
        values={values}
        problems={problems}
        purpose={purpose}
        currency={currency}
      />
    );
    return renderPage(c, page, statusOf(problems));
  }
  routes.get('/settle', (c) => showSettle(c));
  routes.post('/settle/lines/:id{[0-9]+}/pair', async function postWhichPair(c) {
    const body = await bodyOf(c);
    const { rows, workshopPlan } = await read();
    const { pairs } = await readToSettle(workshop, rows, workshopPlan);
    const ids = pairs.map(({ id }) => id);
    const form = readPairChoice(body, ids, `pair-${idOf(c)}`);
    if (!form.ok) return showSettle(c, { values: valuesOf(body), problems: form.problems });
    await settleWithPair(workshop, idOf(c), form.value, readFields(body).version());
    return c.redirect('/fair/settle', 303);
  });
  routes.post('/settle/lines/:id{[0-9]+}/why', async function postWhy(c) {
    const body = await bodyOf(c);
    const form = readWhy(body, `why-${idOf(c)}`);
    if (!form.ok) return showSettle(c, { values: valuesOf(body), problems: form.problems });
    await settleWithWhy(workshop, idOf(c), form.value, readFields(body).version());
    return c.redirect('/fair/settle', 303);
  });
  routes.post('/settle/pairs/:id{[0-9]+}', async function postPrice(c) {
    const body = await bodyOf(c);
    const { rows, workshopPlan, currency } = await read();
    const pairId = idOf(c);
    const names = {
      price: `price-${pairId}`,
      how: `how-${pairId}`,
      outlet: `outlet-${pairId}`,
      day: `day-${pairId}`,
    };
    const ids = outletsOf(workshopPlan).map(({ id }) => id);
    const form = readPriceOfSold(body, currency, ids, names);
    if (!form.ok) return showSettle(c, { values: valuesOf(body), problems: form.problems });
    const { unpriced } = await readToSettle(workshop, rows, workshopPlan);
    const pair = unpriced.find((each) => each.pairId === pairId);
    if (pair) await priceSoldPair(workshop, pairId, pair.words, form.value, tokenOf(body));
    return c.redirect('/fair/settle', 303);
  });

  return routes;
}
