import { type Context, Hono } from 'hono';
import { childFibreWords } from '#core/gauge/fibre-words.ts';
import { AppError } from '#core/shared/app-error.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { countOf } from '#core/shared/format.ts';
import { firstPage, pagingOf, rowsOn, rowsOnScreen } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { sizeSystems } from '#core/sizing/labels.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { rolesMainFirst } from '#core/styles/roles.ts';
import { addStock } from '#flows/batch/add-stock.ts';
import { YarnUnknown } from '#flows/batch/finish-yarn.ts';
import { pairCountsOf } from '#flows/batch/foot-counts.ts';
import { giveOutYarn } from '#flows/batch/give-out-yarn.ts';
import { missingToFinish } from '#flows/batch/missing-to-finish.ts';
import {
  readBatch,
  readBatchInHand,
  readBatchRows,
  readFromStock,
  readKnitterPairs,
  readLateOrders,
  roleColours,
} from '#flows/batch/read-batch.ts';
import { readFinished, readStarted } from '#flows/batch/read-started.ts';
import { type PairToStart, pairsToStart, startBatch, yarnToGive } from '#flows/batch/start-batch.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { yarnByLot } from '#flows/batch/yarn-by-lot.ts';
import { stylesFrom } from '#flows/plan-input.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';
import { lotNamer } from '#flows/shelf/lot-names.ts';
import { plannedOrder } from '#flows/shelf-plan/make-order.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderFinish } from '#server/finish.tsx';
import {
  backIn,
  chosenOrders,
  nameOfShown,
  type OrderToChoose,
  parseStart,
  parseStep,
  parseStock,
  type StartChoice,
  startChoiceIn,
} from '#server/forms/batch.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderFragment, renderPage, renderPlanPage, wantsFragment } from '#server/render.tsx';
import { pairYarnHref, pairYarnRoutes } from '#server/routes/pair-yarn.tsx';
import { BatchPage, WhatToMake } from '#views/pages/batch/batch-page.tsx';
import { FromStockPage, KnitterPairsPage, LatePage } from '#views/pages/batch/list-pages.tsx';
import {
  type FrozenRow,
  type LotRow,
  StartPage,
  type StartPageProps,
  StartThese,
} from '#views/pages/batch/start-page.tsx';
import { StartedPage } from '#views/pages/batch/started-page.tsx';
import { StockPage } from '#views/pages/batch/stock-page.tsx';

const bodyOf = (c: Context<AppEnv>): Promise<FormBody> => c.req.parseBody({ all: true });
const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));

/** How pairs that would be started are shown. */
function frozenViewer({ rows, settings }: WorkshopPlan): (pair: PairToStart) => FrozenRow {
  const named = coloursOf(rows);
  const nameOf = lotNamer(rows);
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  return ({ pair, knitterId, frozen, colours }) => {
    return {
      sizeWords: sizeWordsIn(frozen.sizeWords, settings.unitSystem),
      colours: roleColours(pair.kind, named),
      caution: childFibreWords(pair.kind.shape),
      knitter: rows.knitters.find(({ id }) => id === knitterId)?.name ?? '',
      ...pairCountsOf(frozen.spec),
      minutes: frozen.estimate.minutes,
      yarn: yarnByLot(colours, lots).map(({ yarnColourId, lot, mg }) => ({
        colour: named.get(yarnColourId)!,
        grams: mg / 1000,
        lot: lot && nameOf(lot),
        isHere: lot !== null,
      })),
    };
  };
}

/** What starting takes from which lot. */
function lotRows(pairs: readonly PairToStart[], { rows }: WorkshopPlan): readonly LotRow[] {
  const named = coloursOf(rows);
  const nameOf = lotNamer(rows);
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  return yarnToGive(pairs, lots).map(({ yarnColourId, lot, mg, pairs: count }) => ({
    colour: named.get(yarnColourId)!,
    lotId: lot?.id ?? null,
    lot: lot && nameOf(lot),
    grams: mg / 1000,
    pairs: count,
  }));
}

/** With a long list of orders, those due soon are offered first. Our own choice. */
const soonDays = 28;

const nextName = (started: readonly unknown[]) => `Batch ${started.length + 1}`;

/** What a form for a new batch begins with: every order, or of a long list those that are due soon. */
function firstChoice(orders: readonly OrderToChoose[], today: Day, name: string): StartChoice {
  const usual = { ticked: new Set(orders.map(({ id }) => id)), withSpares: true, name };
  if (orders.length <= rowsOnScreen) return { ...usual, way: 'ticked', due: '' };
  const days = orders.flatMap(({ dueDay }) => dueDay ?? []).sort();
  const soon = addDays(today, soonDays);
  const due = days[0] !== undefined && days[0] > soon ? days[0] : soon;
  return { ...usual, ticked: new Set(), way: days.length > 0 ? 'due' : 'all', due };
}

/** What can be chosen in the form for finished pairs. */
function stockNames({ rows }: WorkshopPlan) {
  const styles = [...stylesFrom(rows).current].map(([id, style]) => ({
    id,
    name: style.name,
    roles: rolesMainFirst(style.body),
  }));
  const strands = new Map(rows.yarns.map((yarn) => [yarn.id, yarn.usualStrands]));
  const roles = styles.flatMap((style) => style.roles);
  return {
    styles,
    colours: rows.yarnColours.map(({ id, yarnId }) => ({ id, strands: strands.get(yarnId) ?? 1 })),
    roles: roles.filter((role, index) => roles.findIndex(({ name }) => name === role.name) === index),
    groups: rows.yarns
      .map((yarn) => ({
        group: yarn.name,
        options: rows.yarnColours
          .filter(({ yarnId }) => yarnId === yarn.id)
          .map(({ id, name }) => ({ value: String(id), words: name })),
      }))
      .filter(({ options }) => options.length > 0),
  };
}

const usualStock: FormValues = {
  system: 'EU',
  person: 'woman',
  quantity: '1',
  cuff: 'short',
  fit: 'usual',
  quality: 'good',
};

/** What is to make, what is on the needles, and what is finished. */
export function batchRoutes(deps: AppDeps): Hono<AppEnv> {
  const { workshop, now } = deps;
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showBatch(c) {
    const workshopPlan = await readPlan(workshop, now());
    const { purpose, currency } = workshopPlan.settings;
    const inHand = readBatchInHand(workshopPlan, Number(c.req.query('knitter')));
    const wish = pageWish(c);
    const made = plannedOrder(workshopPlan, Number(c.req.query('made')));
    const pageHref = pageHrefs('/batch', { knitter: inHand?.knitterId });
    const batch = () => ({
      ...readBatch(workshopPlan),
      ...readBatchRows(workshopPlan, wish, inHand?.knitterId),
      ...{ inHand, made, purpose, currency, pageHref },
    });
    // One address answers with the page or with the part that changes.
    c.header('Vary', 'HX-Request');
    if (wantsFragment(c)) return renderFragment(c, <WhatToMake {...batch()} />);
    const isPlain = inHand === null && made === null && wish.page === 1 && wish.size === firstPage.size;
    return isPlain
      ? renderPlanPage(c, workshopPlan, () => <BatchPage {...batch()} />)
      : renderPage(c, <BatchPage {...batch()} />);
  });

  routes.get('/late', async function showLate(c) {
    const workshopPlan = await readPlan(workshop, now());
    const shown = readLateOrders(workshopPlan, pageWish(c));
    const { purpose } = workshopPlan.settings;
    return renderPage(c, <LatePage {...shown} purpose={purpose} pageHref={pageHrefs('/batch/late')} />);
  });
  routes.get('/from-stock', async function showFromStock(c) {
    const workshopPlan = await readPlan(workshop, now());
    const shown = readFromStock(workshopPlan, pageWish(c));
    const { purpose } = workshopPlan.settings;
    return renderPage(c, <FromStockPage {...shown} purpose={purpose} pageHref={pageHrefs('/batch/from-stock')} />);
  });
  routes.get('/knitters/:id{[0-9]+}', async function showKnitterPairs(c) {
    const workshopPlan = await readPlan(workshop, now());
    const shown = readKnitterPairs(workshopPlan, idOf(c), pageWish(c));
    if (!shown) throw new AppError('notFound', 'This knitter is not in the plan.');
    const { purpose } = workshopPlan.settings;
    const pageHref = pageHrefs(`/batch/knitters/${idOf(c)}`);
    return renderPage(c, <KnitterPairsPage {...shown} purpose={purpose} pageHref={pageHref} />);
  });

  function showStart(
    c: Context<AppEnv>,
    workshopPlan: WorkshopPlan,
    asked: { readonly choice: StartChoice; readonly page: number } | null,
    problems: readonly Problem[] = [],
    isOther = false,
  ) {
    const batch = readBatch(workshopPlan);
    const orders = batch.orders.filter(({ toStart }) => toStart > 0);
    const choice = asked?.choice ?? firstChoice(orders, batch.today, nextName(batch.started));
    const { ticked } = choice;
    // Without spares to start there is no box to tick: the answer is then that none are wished.
    const withSpares = choice.withSpares && batch.spareCount > 0;
    const chosen = new Set(chosenOrders(choice, orders));
    const pairs = pairsToStart(workshopPlan, chosen, withSpares);
    const wanted = workshopPlan.plan.wanted.pairs.filter(
      (pair) => pair.started === null && (pair.orderId === null ? withSpares : chosen.has(pair.orderId)),
    );
    const paging = pagingOf(orders.length, { page: asked?.page ?? 1, size: rowsOnScreen });
    const shown = rowsOn(orders, paging);
    const onPage = new Set(shown.map(({ id }) => id));
    const props: StartPageProps = {
      ...choice,
      withSpares,
      purpose: workshopPlan.settings.purpose,
      revision: batch.revision,
      orders: shown.map((order) => ({ ...order, isTicked: ticked.has(order.id) })),
      tickedElsewhere: orders.filter(({ id }) => ticked.has(id) && !onPage.has(id)).map(({ id }) => id),
      ...{ paging, problems, isOther },
      spareCount: batch.spareCount,
      pairCount: pairs.length,
      waitingCount: pairs.filter(({ colours }) => colours.some(({ lotId }) => lotId === null)).length,
      lots: lotRows(pairs, workshopPlan),
      shown: nameOfShown([...chosen], withSpares),
      pairs: pairs.slice(0, rowsOnScreen).map(frozenViewer(workshopPlan)),
      leftBehind: wanted.length - pairs.length,
    };
    c.header('Vary', 'HX-Request');
    if (wantsFragment(c)) return renderFragment(c, <StartThese {...props} />);
    return renderPage(c, <StartPage {...props} />, problems.length > 0 ? 422 : 200);
  }

  const askedIn = (body: FormBody) => ({
    choice: startChoiceIn(body),
    page: Number(/^[1-9]\d{0,6}$/.exec(textOf(body, 'to') || textOf(body, 'page'))?.[0] ?? 1),
  });

  routes.get('/start', async function askStart(c) {
    const workshopPlan = await readPlan(workshop, now());
    const { tick } = c.req.query();
    if (tick !== 'all' && tick !== 'none') return showStart(c, workshopPlan, null);
    const asked = askedIn(c.req.queries());
    const { orders, started } = readBatch(workshopPlan);
    const ids = tick === 'all' ? orders.map(({ id }) => id) : [];
    const name = c.req.query('name') ?? nextName(started);
    const choice = { ...asked.choice, name, ticked: new Set(ids), withSpares: tick === 'all' };
    return showStart(c, workshopPlan, { ...asked, choice });
  });
  // A look at another choice of orders changes nothing, but a form's choices come by post.
  routes.post('/start/look', async function lookAgain(c) {
    return showStart(c, await readPlan(workshop, now()), askedIn(await bodyOf(c)));
  });
  routes.post('/start', async function postStart(c) {
    const body = await bodyOf(c);
    const workshopPlan = await readPlan(workshop, now());
    const orders = workshopPlan.rows.orders.map(({ id, dueDay, arriveByDay }) => ({
      id,
      dueDay: dueDay ?? arriveByDay,
    }));
    const asked = askedIn(body);
    const toStart = readBatch(workshopPlan).orders.filter((order) => order.toStart > 0);
    const name = nameOfShown(chosenOrders(asked.choice, toStart), asked.choice.withSpares);
    const parsed = parseStart(body, orders);
    if (parsed.ok && !['', name].includes(textOf(body, 'shown'))) {
      return showStart(c, workshopPlan, asked, [], true);
    }
    const started = parsed.ok ? await startBatch(workshop, workshopPlan, parsed.value) : parsed;
    if (!started.ok) return showStart(c, workshopPlan, asked, started.problems);
    return c.redirect(`/batch/started/${started.value}`, 303);
  });

  routes.get('/started/:id{[0-9]+}', async function showStarted(c) {
    const workshopPlan = await readPlan(workshop, now());
    const { settings } = workshopPlan;
    const view = readStarted(workshopPlan, idOf(c), pageWish(c));
    const helped = c.req.query('helped');
    const done =
      helped === undefined
        ? null
        : helped === '0'
          ? 'The shelf has no free yarn that fits.'
          : `${countOf(Number(helped), 'pair', 'pairs')} got yarn from the shelf.`;
    const { startedMs } = view.batch;
    return renderPage(
      c,
      <StartedPage
        {...view}
        pageHref={pageHrefs(`/batch/started/${view.batch.id}`)}
        purpose={settings.purpose}
        startedDay={startedMs === null ? null : todayIn(new Date(startedMs), settings.timeZone)}
        done={done}
      />,
    );
  });
  routes.post('/started/:id{[0-9]+}/yarn', async function postYarn(c) {
    const { batch } = readStarted(await readPlan(workshop, now()), idOf(c));
    return c.redirect(`/batch/started/${batch.id}?helped=${await giveOutYarn(workshop, now())}`, 303);
  });

  routes.route('/pairs', pairYarnRoutes(deps));
  routes.post('/pairs/:id{[0-9]+}', async function postStep(c) {
    const body = await bodyOf(c);
    const parsed = parseStep(body);
    if (!parsed.ok) throw new AppError('conflict', parsed.problems[0]!.message);
    const { settings } = await readPlan(workshop, now());
    const day = todayIn(now(), settings.timeZone);
    const missing = textOf(body, 'sure') === 'yes' ? [] : await missingToFinish(workshop, idOf(c), parsed.value);
    if (missing.length > 0) return renderFinish(c, { purpose: settings.purpose, pairId: idOf(c), missing }, body);
    const back = backIn(textOf(body, 'back'));
    try {
      const pair = await stepPair(workshop, idOf(c), parsed.value, day, readFields(body).version());
      return c.redirect(`${back}#pair-${pair.id}`, 303);
    } catch (error) {
      if (!(error instanceof YarnUnknown)) throw error;
      return c.redirect(pairYarnHref(idOf(c), textOf(body, 'step'), back), 303);
    }
  });

  function showStock(
    c: Context<AppEnv>,
    workshopPlan: WorkshopPlan,
    values: FormValues,
    problems: readonly Problem[] = [],
  ) {
    const names = stockNames(workshopPlan);
    return renderPage(
      c,
      <StockPage
        {...readFinished(workshopPlan, { ...pageWish(c), pairId: Number(c.req.query('pair')) })}
        pageHref={pageHrefs('/batch/stock')}
        purpose={workshopPlan.settings.purpose}
        values={values}
        problems={problems}
        styles={names.styles.map(({ id, name }) => ({ value: String(id), words: name }))}
        systems={sizeSystems}
        roles={names.roles}
        colours={names.groups}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }
  routes.get('/stock', async (c) => showStock(c, await readPlan(workshop, now()), usualStock));
  routes.post('/stock', async function postStock(c) {
    const body = await bodyOf(c);
    const workshopPlan = await readPlan(workshop, now());
    const { styles, colours } = stockNames(workshopPlan);
    const parsed = parseStock(body, {
      styles: styles.map(({ id, roles }) => ({ id, roles: roles.map(({ name }) => name) })),
      colours,
    });
    const added = parsed.ok ? await addStock(workshop, workshopPlan, parsed.value) : parsed;
    if (!added.ok) return showStock(c, workshopPlan, valuesOf(body), added.problems);
    return c.redirect('/batch/stock', 303);
  });

  return routes;
}
