import { Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem, Result } from '#core/shared/problem.ts';
import { owedNow, toPostNow } from '#flows/home/owed-and-post.ts';
import { addOrder } from '#flows/orders/add-order.ts';
import { takeBackCancel } from '#flows/orders/cancel-order.ts';
import { addLine } from '#flows/orders/change-line.ts';
import { changeOrderDetails } from '#flows/orders/change-order.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { lastUsedOf } from '#flows/orders/last-used.ts';
import { dueNow, dueWords } from '#flows/orders/order-money.ts';
import {
  type OrderBook,
  type OrderFilter,
  type OrdersSource,
  type OrderView,
  ordersOnPage,
  readLine,
  readOrder,
  readOrderBook,
  readOrdersSource,
} from '#flows/orders/read-orders.ts';
import { repeatOrder } from '#flows/orders/repeat-order.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, textOf, valuesOf } from '#server/forms/fields.ts';
import {
  parseLine,
  parseNewOrder,
  parseOrderDetails,
  strandNoteOf,
  valuesForNewLine,
  valuesForNewOrder,
  valuesOfLine,
  valuesOfOrder,
  versionIn,
} from '#server/forms/orders.ts';
import { type Difference, differencesOf } from '#server/forms/orders-differences.ts';
import { emptySize } from '#server/forms/orders-size.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, id, idOf, namesOf, unlessConflict } from '#server/routes/orders-common.ts';
import { ordersGridRoutes } from '#server/routes/orders-grid.tsx';
import { ordersImportRoutes } from '#server/routes/orders-import.tsx';
import { orderLinesRoutes } from '#server/routes/orders-lines.tsx';
import { ordersMoneyRoutes } from '#server/routes/orders-money.tsx';
import { showOrderPage } from '#server/routes/orders-page.tsx';
import { type NamedList, OrdersPage } from '#views/pages/orders/list.tsx';
import { EditOrderPage, LineFormPage, NewOrderPage } from '#views/pages/orders/new.tsx';
import { orderTitle } from '#views/pages/orders/order-words.ts';

type Like = { readonly line: { readonly id: number }; readonly entry: LineEntry | null };

/** The number of the line that a form is filled in from; null when none is named. */
function likeIdIn(text: string | undefined): number | null {
  return /^[1-9]\d{0,14}$/.test(text ?? '') ? Number(text) : null;
}

/** Orders with a line that cannot be planned, each once. */
function ordersWithProblems({ rows, lineProblems }: WorkshopPlan): readonly number[] {
  const ids = new Set(lineProblems.map(({ lineId }) => lineId));
  return [...new Set(rows.lines.filter((line) => ids.has(line.id)).map((line) => line.orderId))];
}

/** What each order of a page of the list should bring now; nothing where pairs are given away. */
function owedOf({ source: { plan, settings }, orders }: OrderBook): ReadonlyMap<number, string> {
  if (settings.purpose === 'give') return new Map();
  return new Map(
    orders.flatMap((order) => {
      const words = dueWords(dueNow(plan, order), settings.currency);
      return words === null ? [] : [[order.id, words] as const];
    }),
  );
}

/** The area's pages: the list, the forms, an order, a line, the grid and the import. */
export function ordersRoutes(deps: AppDeps): Hono<AppEnv> {
  const { workshop, now } = deps;
  const routes = new Hono<AppEnv>();
  routes.route('/grid', ordersGridRoutes(deps));
  routes.route('/import', ordersImportRoutes(deps));
  routes.route('/lines', orderLinesRoutes(deps));
  routes.route('/', ordersMoneyRoutes(deps));

  async function formSource(likeLineId: number | null) {
    const source = await readOrdersSource(workshop, now());
    const last = lastUsedOf(source.rows);
    const { known } = source.words;
    if (likeLineId === null) return { source, known, values: valuesForNewLine(known, last), like: null };
    const like = await readLine(workshop, now(), likeLineId);
    const values = like.entry ? valuesOfLine(like.entry, known, last) : valuesForNewLine(known, last);
    return { source, known, values, like };
  }

  /** The line that a form was filled in from; null when it is gone since. */
  async function likeIn(body: FormBody): Promise<Like | null> {
    const lineId = likeIdIn(textOf(body, 'like'));
    if (lineId === null) return null;
    try {
      const { line, entry } = await readLine(workshop, now(), lineId);
      return { line, entry };
    } catch (error) {
      if (error instanceof AppError && error.code === 'notFound') return null;
      throw error;
    }
  }

  const likeProps = (source: OrdersSource, like: Like | null) => ({
    likeId: like?.line.id ?? null,
    strandNote: strandNoteOf(like?.entry ?? null, source.words.known),
  });

  /** Lists of orders that other pages lead to, by the word in the address. */
  const namedLists: Readonly<Record<string, (source: OrdersSource) => readonly number[]>> = {
    owed: (source) => owedNow(source).map((order) => order.id),
    post: (source) => toPostNow(source).map((order) => order.id),
    unplanned: ({ plan }) => ordersWithProblems(plan),
  };

  routes.get('/', async function showOrders(c) {
    const { show = '', import: importId, asEu = '' } = c.req.query();
    const named = Object.hasOwn(namedLists, show) ? namedLists[show] : undefined;
    const filter: OrderFilter =
      importId && /^[1-9]\d{0,14}$/.test(importId)
        ? { importId: Number(importId) }
        : named
          ? { ids: named(await readOrdersSource(workshop, now())) }
          : show === 'all'
            ? 'all'
            : 'open';
    const shown = typeof filter === 'string' ? filter : 'importId' in filter ? 'import' : (show as NamedList);
    const book = await readOrderBook(workshop, now(), filter, pageWish(c, ordersOnPage));
    const kept = shown === 'import' ? { import: importId } : { show: shown === 'open' ? null : shown };
    return renderPage(
      c,
      <OrdersPage
        {...book}
        purpose={book.source.settings.purpose}
        shown={shown}
        readAsEu={shown === 'import' && /^[1-9]\d{0,4}$/.test(asEu) ? Number(asEu) : 0}
        owedOf={owedOf(book)}
        onScreen={ordersOnPage}
        pageHref={pageHrefs('/orders', kept)}
      />,
    );
  });

  routes.get('/new', async function showNewOrder(c) {
    const likeId = likeIdIn(c.req.query('like'));
    const { source, known, values, like } = await formSource(likeId);
    const details = like ? { ...valuesOfOrder(like.order), reference: '', arriveBy: '' } : valuesForNewOrder(known);
    const page = {
      names: namesOf(source),
      values: { ...values, ...details },
      problems: [],
      ...likeProps(source, like),
    };
    return renderPage(c, <NewOrderPage {...page} />);
  });

  routes.post('/', async function addNewOrder(c) {
    const body = await bodyOf(c);
    const source = await readOrdersSource(workshop, now());
    const like = await likeIn(body);
    const parsed = parseNewOrder(body, source.words.known, like?.entry ?? null, source.today);
    const added = parsed.ok ? await addOrder(workshop, parsed.value, source.today) : parsed;
    if (added.ok) return c.redirect(`/orders/${added.value.id}`, 303);
    const { problems } = added;
    const page = { names: namesOf(source), values: valuesOf(body), problems, ...likeProps(source, like) };
    return renderPage(c, <NewOrderPage {...page} />, 422);
  });

  routes.get(`/${id}`, async function showOrder(c) {
    return showOrderPage(c, deps, idOf(c));
  });

  function editForm(
    source: OrdersSource,
    order: OrderView,
    values: FormValues,
    problems: readonly Problem[],
    differences: readonly Difference[] | null = null,
  ) {
    const title = orderTitle(order);
    return (
      <EditOrderPage
        names={namesOf(source, { id: order.outletId, name: order.outletName })}
        {...{ values, problems, differences, title }}
        isCancelled={order.state === 'cancelled'}
        orderId={order.id}
        version={order.version}
      />
    );
  }

  routes.get(`/${id}/edit`, async function showEditOrder(c) {
    const { source, order } = await readOrder(workshop, now(), idOf(c));
    return renderPage(c, editForm(source, order, valuesOfOrder(order), []));
  });

  routes.post(`/${id}`, async function saveOrder(c) {
    const body = await bodyOf(c);
    const typed = valuesOf(body);
    const { source, order } = await readOrder(workshop, now(), idOf(c));
    const parsed = parseOrderDetails(body, source.words.known, order, source.today);
    const version = versionIn(body);
    const saved: Result<unknown> | null = parsed.ok
      ? await unlessConflict(() => changeOrderDetails(workshop, order.id, parsed.value, version))
      : parsed;
    if (saved === null) {
      const fresh = await readOrder(workshop, now(), order.id);
      const differences = differencesOf(valuesOfOrder(fresh.order), typed, fresh.source.words.known);
      return renderPage(c, editForm(fresh.source, fresh.order, typed, [], differences), 409);
    }
    if (saved.ok) return c.redirect(`/orders/${order.id}`, 303);
    const shown = { ...order, version: version ?? order.version };
    return renderPage(c, editForm(source, shown, typed, saved.problems), 422);
  });

  routes.post(`/${id}/again`, async function repeat(c) {
    const source = await readOrdersSource(workshop, now());
    const order = await repeatOrder(workshop, idOf(c), source.today);
    return c.redirect(`/orders/${order.id}`, 303);
  });

  routes.post(`/${id}/take-back`, async function takeBack(c) {
    const taken = await takeBackCancel(workshop, idOf(c), versionIn(await bodyOf(c)));
    if (taken.ok) return c.redirect(`/orders/${taken.value.id}`, 303);
    return showOrderPage(c, deps, idOf(c), { problems: taken.problems });
  });

  function addLinePage(
    source: OrdersSource,
    order: OrderView,
    values: FormValues,
    problems: readonly Problem[],
    like: Like | null,
  ) {
    return (
      <LineFormPage
        names={namesOf(source)}
        {...{ values, problems, ...likeProps(source, like) }}
        title="Add a line"
        where={orderTitle(order)}
        action={`/orders/${order.id}/lines`}
        backHref={`/orders/${order.id}`}
        saveWords="Add the line"
      />
    );
  }

  routes.get(`/${id}/lines/new`, async function showAddLine(c) {
    const { order } = await readOrder(workshop, now(), idOf(c));
    const { source, values, like } = await formSource(order.lines.at(-1)?.id ?? null);
    return renderPage(c, addLinePage(source, order, { ...values, ...emptySize, quantity: '1' }, [], like));
  });

  routes.post(`/${id}/lines`, async function addNewLine(c) {
    const body = await bodyOf(c);
    const { source, order } = await readOrder(workshop, now(), idOf(c));
    const like = await likeIn(body);
    const parsed = parseLine(body, source.words.known, like?.entry ?? null);
    if (!parsed.ok) return renderPage(c, addLinePage(source, order, valuesOf(body), parsed.problems, like), 422);
    await addLine(workshop, order.id, parsed.value);
    return c.redirect(`/orders/${order.id}`, 303);
  });

  return routes;
}
