import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { countOf } from '#core/shared/format.ts';
import { firstPage } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { sizeSystems } from '#core/sizing/labels.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { rolesMainFirst } from '#core/styles/roles.ts';
import { addStock } from '#flows/batch/add-stock.ts';
import { pairCountsOf } from '#flows/batch/foot-counts.ts';
import { giveOutYarn } from '#flows/batch/give-out-yarn.ts';
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
import { type PairToStart, pairsToStart, startBatch } from '#flows/batch/start-batch.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { stylesFrom } from '#flows/plan-input.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';
import { plannedOrder } from '#flows/shelf-plan/make-order.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { chosenOrders, parseStart, parseStep, parseStock } from '#server/forms/batch.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderFragment, renderPage, renderPlanPage, wantsFragment } from '#server/render.tsx';
import { BatchPage, WhatToMake } from '#views/pages/batch/batch-page.tsx';
import { FromStockPage, KnitterPairsPage, LatePage } from '#views/pages/batch/list-pages.tsx';
import { type FrozenRow, StartPage } from '#views/pages/batch/start-page.tsx';
import { StartedPage } from '#views/pages/batch/started-page.tsx';
import { StockPage } from '#views/pages/batch/stock-page.tsx';

const bodyOf = (c: Context<AppEnv>): Promise<FormBody> => c.req.parseBody({ all: true });
const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));

type StartChoice = { readonly orderIds: readonly number[]; readonly withSpares: boolean; readonly name: string };

function frozenRow({ pair, knitterId, frozen, colours }: PairToStart, { rows, settings }: WorkshopPlan): FrozenRow {
  const named = coloursOf(rows);
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const byColour = new Map<number, { mg: number; lotId: number | null }>();
  for (const { yarnColourId, allottedMg, lotId } of colours) {
    byColour.set(yarnColourId, { mg: (byColour.get(yarnColourId)?.mg ?? 0) + allottedMg, lotId });
  }
  return {
    sizeWords: sizeWordsIn(frozen.sizeWords, settings.unitSystem),
    colours: roleColours(pair.kind, named),
    knitter: rows.knitters.find(({ id }) => id === knitterId)?.name ?? '',
    ...pairCountsOf(frozen.spec),
    minutes: frozen.estimate.minutes,
    yarn: [...byColour].map(([id, { mg, lotId }]) => ({
      colour: named.get(id)!,
      grams: mg / 1000,
      dyeLot: lotId === null ? null : (lots.get(lotId)?.dyeLot ?? null),
      isHere: lotId !== null,
    })),
  };
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
export function batchRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
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
    choice: StartChoice | null,
    problems: readonly Problem[] = [],
  ) {
    const batch = readBatch(workshopPlan);
    const orders = batch.orders.filter(({ toStart }) => toStart > 0);
    const chosen = new Set(choice?.orderIds ?? orders.map(({ id }) => id));
    const withSpares = choice?.withSpares ?? true;
    const pairs = pairsToStart(workshopPlan, chosen, withSpares);
    const wanted = workshopPlan.plan.wanted.pairs.filter(
      (pair) => pair.started === null && (pair.orderId === null ? withSpares : chosen.has(pair.orderId)),
    );
    return renderPage(
      c,
      <StartPage
        purpose={workshopPlan.settings.purpose}
        name={choice?.name ?? `Batch ${batch.started.length + 1}`}
        revision={batch.revision}
        orders={orders.map((order) => ({ ...order, isChosen: chosen.has(order.id) }))}
        spareCount={batch.spareCount}
        withSpares={withSpares}
        pairs={pairs.map((pair) => frozenRow(pair, workshopPlan))}
        leftBehind={wanted.length - pairs.length}
        problems={problems}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  function choiceOf(body: FormBody, workshopPlan: WorkshopPlan): StartChoice {
    const orderIds = chosenOrders(
      body,
      workshopPlan.rows.orders.map(({ id }) => id),
    );
    return { orderIds, withSpares: readFields(body).check('spares'), name: textOf(body, 'name') };
  }

  routes.get('/start', async (c) => showStart(c, await readPlan(workshop, now()), null));
  // A look at another choice of orders changes nothing, but a form's choices come by post.
  routes.post('/start/look', async function lookAgain(c) {
    const workshopPlan = await readPlan(workshop, now());
    return showStart(c, workshopPlan, choiceOf(await bodyOf(c), workshopPlan));
  });
  routes.post('/start', async function postStart(c) {
    const body = await bodyOf(c);
    const workshopPlan = await readPlan(workshop, now());
    const parsed = parseStart(
      body,
      workshopPlan.rows.orders.map(({ id }) => id),
    );
    const started = parsed.ok ? await startBatch(workshop, workshopPlan, parsed.value) : parsed;
    if (!started.ok) return showStart(c, workshopPlan, choiceOf(body, workshopPlan), started.problems);
    return c.redirect(`/batch/started/${started.value}`, 303);
  });

  routes.get('/started/:id{[0-9]+}', async function showStarted(c) {
    const workshopPlan = await readPlan(workshop, now());
    const { settings } = workshopPlan;
    const view = readStarted(workshopPlan, idOf(c));
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
        purpose={settings.purpose}
        startedDay={startedMs === null ? null : todayIn(new Date(startedMs), settings.timeZone)}
        done={done}
      />,
    );
  });
  routes.post('/started/:id{[0-9]+}/yarn', async function postYarn(c) {
    const { batch } = readStarted(await readPlan(workshop, now()), idOf(c));
    return c.redirect(`/batch/started/${batch.id}?helped=${await giveOutYarn(workshop)}`, 303);
  });

  routes.post('/pairs/:id{[0-9]+}', async function postStep(c) {
    const body = await bodyOf(c);
    const parsed = parseStep(body);
    if (!parsed.ok) throw new AppError('conflict', parsed.problems[0]!.message);
    const { settings } = await readPlan(workshop, now());
    const day = todayIn(now(), settings.timeZone);
    const pair = await stepPair(workshop, idOf(c), parsed.value, day, readFields(body).version());
    const back = /^\/batch\/(stock|started\/\d+)$/.exec(textOf(body, 'back'))?.[0] ?? '/batch/stock';
    return c.redirect(`${back}#pair-${pair.id}`, 303);
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
        {...readFinished(workshopPlan)}
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
