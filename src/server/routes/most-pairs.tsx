import { createHash } from 'node:crypto';
import { type Context, Hono } from 'hono';
import { type Problem, type Result, succeed } from '#core/shared/problem.ts';
import { lastUsedOf } from '#flows/orders/last-used.ts';
import { type OrdersSource, readOrdersSource } from '#flows/orders/read-orders.ts';
import { findMade, makeOrder } from '#flows/shelf-plan/make-order.ts';
import { type AskedWish, askForWish, linesOfSeen, tellAnswer } from '#flows/shelf-plan/plan-from-shelf.ts';
import { findPairs, lookAgain, stopLooking } from '#flows/shelf-plan/search-pairs.ts';
import { freeLotsOf, type ShelfWish } from '#flows/shelf-plan/shelf-question.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, textOf } from '#server/forms/fields.ts';
import {
  type MostPairsForm,
  mostOfOneSize,
  parsePressed,
  parseSeen,
  readMostPairs,
  writeSeen,
} from '#server/forms/most-pairs.ts';
import { renderFragment, renderPage, wantsFragment } from '#server/render.tsx';
import { bodyOf, namesOf } from '#server/routes/orders-common.ts';
import { AnswerFragment, type AnswerProps } from '#views/pages/shelf-plan/answer.tsx';
import { MostPairsPage } from '#views/pages/shelf-plan/most-pairs-page.tsx';

/** What the forms hold besides the question itself. */
const ownFields = new Set(['outlet', 'due', 'revision', 'question', 'made', 'show']);

/** The question as it was sent, to be sent again. */
function sentFields(body: FormBody): readonly (readonly [string, string])[] {
  return Object.entries(body)
    .filter(([name]) => !ownFields.has(name))
    .flatMap(([name, value]) => [value].flat().map((each) => [name, typeof each === 'string' ? each : ''] as const));
}

const nameOfPress = (born: string, revision: number, body: FormBody) =>
  `most pairs ${createHash('sha256')
    .update(JSON.stringify([born, revision, textOf(body, 'outlet'), textOf(body, 'due'), sentFields(body)]))
    .digest('hex')}`;

const queryOf = (sent: ReturnType<typeof sentFields>) =>
  new URLSearchParams(sent.map(([name, value]) => [name, value])).toString();

type Asked = { readonly wish: ShelfWish; readonly asked: AskedWish };

/** The most pairs that the shelf can make, and an order of them. */
export function mostPairsRoutes({ workshop, now, solver }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  function read(source: OrdersSource, body: FormBody) {
    const { plan, words, rows } = source;
    const usable = new Set(plan.input.shelf.filter(({ freeMg }) => freeMg > 0).map((lot) => lot.yarnColourId));
    const colours = words.known.colours.filter((colour) => usable.has(colour.id));
    const knitters = plan.input.knitters.filter(({ id }) => id !== 0);
    const ids = knitters.map(({ id }) => id);
    const form = readMostPairs(
      body,
      words.known,
      lastUsedOf(rows),
      colours.map(({ id }) => id),
      ids,
    );
    return { form, colours, knitters };
  }

  // Gifts lead: a shelf of given wool is mostly knitted for them.
  const outletsOf = ({ words }: OrdersSource) =>
    [...words.known.outlets].sort((a, b) => Number(b.kind === 'gift') - Number(a.kind === 'gift'));

  /** What the shelf is asked, where the form says it without a fault. */
  function askOf({ plan, words }: OrdersSource, { wish }: MostPairsForm): Result<Asked> {
    if (!wish.ok) return wish;
    const asked = askForWish(plan, words.known, wish.value);
    return asked.ok ? succeed({ wish: wish.value, asked: asked.value }) : asked;
  }

  /** The answer as far as it is known, with what stands beside it. */
  function answerTo({ plan, words }: OrdersSource, body: FormBody, { wish, asked }: Asked): AnswerProps {
    const answer = tellAnswer(plan, words.known, wish, asked, findPairs(workshop, asked, solver));
    const sent = sentFields(body);
    const sumMg = (leave: ShelfWish['leave']) => freeLotsOf(plan, leave).reduce((sum, lot) => sum + lot.freeMg, 0);
    const withOrders = new URLSearchParams(queryOf(sent.filter(([name]) => name !== 'leave')));
    withOrders.set('leave', 'begun');
    return {
      answer,
      made: writeSeen(answer.seen),
      query: queryOf(sent),
      leftAloneG: wish.leave === 'orders' ? (sumMg('begun') - sumMg('orders')) / 1000 : 0,
      withOrdersHref: `/shelf/most-pairs?${withOrders}`,
    };
  }

  async function showPage(
    c: Context<AppEnv>,
    source: OrdersSource,
    body: FormBody,
    found: readonly Problem[] = [],
  ): Promise<Response> {
    const { form, colours, knitters } = read(source, body);
    const { plan, settings, rows } = source;
    const isAsked = textOf(body, 'asked') !== '' && textOf(body, 'show') === '';
    const asked = isAsked && colours.length > 0 ? askOf(source, form) : null;
    const problems = [
      ...(asked && !asked.ok ? asked.problems : []),
      ...(!isAsked && !form.wish.ok ? form.wish.problems.filter(({ path }) => path === 'sizes') : []),
      ...found,
    ];
    const free = new Map<number, number>();
    for (const lot of freeLotsOf(plan, form.values.leave === 'begun' ? 'begun' : 'orders'))
      free.set(lot.yarnColourId, (free.get(lot.yarnColourId) ?? 0) + lot.freeMg);
    const page = (
      <MostPairsPage
        names={namesOf(source)}
        values={form.values}
        problems={problems}
        style={form.style}
        rows={form.rows}
        ticked={form.ticked}
        colours={colours.map((colour) => ({ ...colour, freeG: (free.get(colour.id) ?? 0) / 1000 }))}
        knitters={knitters.map(({ id, name }) => ({ value: String(id), words: name }))}
        confidence={settings.confidence}
        outlets={outletsOf(source).map(({ id, name }) => ({ value: String(id), words: name }))}
        outlet={textOf(body, 'outlet') || String(outletsOf(source)[0]?.id ?? '')}
        due={textOf(body, 'due')}
        sent={sentFields(body)}
        revision={rows.revision}
        mostOfOneSize={mostOfOneSize}
        answered={asked?.ok ? answerTo(source, body, asked.value) : null}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  async function readAsked(body: FormBody) {
    const source = await readOrdersSource(workshop, now());
    return { source, asked: askOf(source, read(source, body).form) };
  }
  const pageOf = (body: FormBody) => `/shelf/most-pairs?${queryOf(sentFields(body))}`;

  routes.get('/', async function showMostPairs(c) {
    return showPage(c, await readOrdersSource(workshop, now()), c.req.queries());
  });

  // Asked by the page every second while more pairs are being looked for.
  routes.get('/search', async function showSearch(c) {
    const body = c.req.queries();
    if (!wantsFragment(c)) return c.redirect(pageOf(body), 303);
    const { source, asked } = await readAsked(body);
    if (asked.ok) return renderFragment(c, <AnswerFragment {...answerTo(source, body, asked.value)} />);
    c.header('HX-Redirect', pageOf(body));
    return c.body(null);
  });
  routes.post('/search', async function postLookAgain(c) {
    const body = c.req.queries();
    const { asked } = await readAsked(body);
    if (asked.ok) lookAgain(workshop, asked.value.asked, solver);
    return c.redirect(pageOf(body), 303);
  });
  routes.post('/search/stop', async function postStopLooking(c) {
    const body = c.req.queries();
    const { asked } = await readAsked(body);
    if (asked.ok) await stopLooking(workshop, asked.value.asked);
    return c.redirect(pageOf(body), 303);
  });

  routes.post('/', async function makeBatch(c) {
    const body = await bodyOf(c);
    const { source, asked } = await readAsked(body);
    const outletIds = outletsOf(source).map(({ id }) => id);
    const pressed = parsePressed(body, outletIds);
    if (!pressed.ok) return showPage(c, source, body, pressed.problems);
    const { outletId, dueDay, revision } = pressed.value;
    const name = nameOfPress(source.rows.born, revision, body);
    const made = await findMade(workshop, name);
    if (made !== null) return c.redirect(`/batch?made=${made}`, 303);
    if (!asked.ok) return showPage(c, source, body);
    const lines = linesOfSeen(asked.value.asked, asked.value.wish, parseSeen(body));
    if (!lines.ok) return showPage(c, source, body, lines.problems);
    const order = { outletId, dueDay, lines: lines.value, seen: source.rows, pressed: name };
    const saved = await makeOrder(workshop, order, source.today);
    if (!saved.ok) return showPage(c, source, body, saved.problems);
    return c.redirect(`/batch?made=${saved.value}`, 303);
  });

  return routes;
}
