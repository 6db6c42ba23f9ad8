import { createHash } from 'node:crypto';
import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { lastUsedOf } from '#flows/orders/last-used.ts';
import { type OrdersSource, readOrdersSource } from '#flows/orders/read-orders.ts';
import { findMade, makeOrder } from '#flows/shelf-plan/make-order.ts';
import { planFromShelf, type ShelfAnswer } from '#flows/shelf-plan/plan-from-shelf.ts';
import { freeLotsOf } from '#flows/shelf-plan/shelf-question.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, textOf } from '#server/forms/fields.ts';
import { type MostPairsForm, mostOfOneSize, parsePressed, readMostPairs } from '#server/forms/most-pairs.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, namesOf } from '#server/routes/orders-common.ts';
import { MostPairsPage } from '#views/pages/shelf-plan/most-pairs-page.tsx';

/** What the forms hold besides the question itself. */
const ownFields = new Set(['outlet', 'due', 'revision', 'show']);

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

/** The most pairs that the shelf can make, and an order of them. */
export function mostPairsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
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

  async function answerFor(source: OrdersSource, form: MostPairsForm) {
    return form.wish.ok ? planFromShelf(source.plan, source.words.known, form.wish.value) : form.wish;
  }

  async function showPage(
    c: Context<AppEnv>,
    source: OrdersSource,
    body: FormBody,
    known: { readonly problems?: readonly Problem[]; readonly answer?: ShelfAnswer | null } = {},
  ) {
    const { form, colours, knitters } = read(source, body);
    const { plan, settings, rows } = source;
    const isAsked = textOf(body, 'asked') !== '' && textOf(body, 'show') === '';
    const answered = isAsked && colours.length > 0 && known.answer === undefined ? await answerFor(source, form) : null;
    const answer = known.answer ?? (answered?.ok ? answered.value : null);
    const problems = [
      ...(isAsked && answered && !answered.ok ? answered.problems : []),
      ...(!isAsked && !form.wish.ok ? form.wish.problems.filter(({ path }) => path === 'sizes') : []),
      ...(known.problems ?? []),
    ];
    const free = new Map<number, number>();
    for (const lot of freeLotsOf(plan, form.values.leave === 'begun' ? 'begun' : 'orders'))
      free.set(lot.yarnColourId, (free.get(lot.yarnColourId) ?? 0) + lot.freeMg);
    const leaves = form.values.leave !== 'begun';
    const sumMg = (leave: 'orders' | 'begun') => freeLotsOf(plan, leave).reduce((sum, lot) => sum + lot.freeMg, 0);
    const sent = sentFields(body);
    const withOrders = new URLSearchParams(sent.filter(([name]) => name !== 'leave').map((each) => [...each]));
    withOrders.set('leave', 'begun');
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
        sent={sent}
        leftAloneG={leaves ? (sumMg('begun') - sumMg('orders')) / 1000 : 0}
        withOrdersHref={`/shelf/most-pairs?${withOrders}`}
        revision={rows.revision}
        mostOfOneSize={mostOfOneSize}
        answer={answer}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  routes.get('/', async function showMostPairs(c) {
    return showPage(c, await readOrdersSource(workshop, now()), c.req.queries());
  });

  routes.post('/', async function makeBatch(c) {
    const body = await bodyOf(c);
    const source = await readOrdersSource(workshop, now());
    const { form } = read(source, body);
    const pressed = parsePressed(
      body,
      outletsOf(source).map(({ id }) => id),
    );
    if (!pressed.ok) return showPage(c, source, body, { problems: pressed.problems });
    const { outletId, dueDay, revision } = pressed.value;
    const name = nameOfPress(source.rows.born, revision, body);
    const made = await findMade(workshop, name);
    if (made !== null) return c.redirect(`/batch?made=${made}`, 303);
    const answer = await answerFor(source, form);
    if (!answer.ok) return showPage(c, source, body);
    if (answer.value.lines.length === 0) {
      const message = 'There is no pair to make of this. Change the sizes or the colours.';
      return showPage(c, source, body, {
        answer: answer.value,
        problems: [{ code: 'noPairs', path: 'sizes', message }],
      });
    }
    const seen = { born: source.rows.born, revision };
    const order = { outletId, dueDay, lines: answer.value.lines, seen, pressed: name };
    const saved = await makeOrder(workshop, order, source.today);
    if (!saved.ok) return showPage(c, source, body, { answer: answer.value, problems: saved.problems });
    return c.redirect(`/batch?made=${saved.value}`, 303);
  });

  return routes;
}
