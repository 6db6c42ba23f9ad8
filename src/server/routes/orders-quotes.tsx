import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { formatCents } from '#core/shared/format.ts';
import { firstPage } from '#core/shared/paging.ts';
import { type Problem, type Result, succeed } from '#core/shared/problem.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { readUsualExtras } from '#flows/orders/extras.ts';
import { lastUsedOf } from '#flows/orders/last-used.ts';
import { parcelOf } from '#flows/orders/parcel.ts';
import { replyOf, wordsOfQuote } from '#flows/orders/quote-reply.ts';
import {
  type OrdersSource,
  type OrderView,
  readLine,
  readOrder,
  readOrderBook,
  readOrdersSource,
} from '#flows/orders/read-orders.ts';
import { type QuoteView, quotesOf, readQuote } from '#flows/orders/read-quote.ts';
import {
  acceptQuote,
  addQuote,
  changeQuote,
  declineQuote,
  ownDeposit,
  priceQuote,
  removeQuoteLine,
  renewQuote,
  saveQuoteLine,
} from '#flows/orders/save-quote.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, textOf, valuesOf } from '#server/forms/fields.ts';
import { parseLine, strandNoteOf, valuesForNewLine, valuesOfLine, versionIn } from '#server/forms/orders.ts';
import { type Difference, differencesOf } from '#server/forms/orders-differences.ts';
import {
  destinationsOf,
  parseNewQuote,
  parseQuoteDetails,
  parseQuotePrices,
  type QuoteFormSource,
  quoteOutlets,
  valuesForNewQuote,
  valuesOfQuote,
} from '#server/forms/orders-quote.ts';
import { emptySize } from '#server/forms/orders-size.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, id, idOf, namesOf, unlessConflict } from '#server/routes/orders-common.ts';
import { LineFormPage } from '#views/pages/orders/new.tsx';
import { lineTitle, orderTitle } from '#views/pages/orders/order-words.ts';
import { QuotePage, quoteTitle } from '#views/pages/orders/quote.tsx';
import { EditQuotePage, NewQuotePage } from '#views/pages/orders/quote-forms.tsx';
import { QuotesPage } from '#views/pages/orders/quote-list.tsx';
import { QuotePrintPage } from '#views/pages/orders/quote-print.tsx';

const idPattern = /^[1-9]\d{0,14}$/;
const ofLine = ':line{[1-9][0-9]{0,14}}';
const lineOf = (c: Context<AppEnv>): number => Number(c.req.param('line'));

/** An order that a new quote is filled in from: its lines as they would be entered, without their prices. */
type LikeOrder = {
  readonly order: OrderView;
  readonly lines: readonly { readonly id: number; readonly entry: LineEntry }[];
};

/** Quotes: orders that are only asked, with a price, a day and a last day. */
export function orderQuotesRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  /** The workshop, where it sells; one that only gives has no quotes. */
  async function sellingSource(): Promise<OrdersSource> {
    const source = await readOrdersSource(workshop, now());
    if (source.settings.purpose === 'give') {
      throw new AppError(
        'notFound',
        'Here pairs are given, so there are no quotes. The settings say what you knit for.',
      );
    }
    return source;
  }

  /** A quote; an order that is agreed or cancelled is on its own page. */
  async function quoteOr(c: Context<AppEnv>): Promise<QuoteView | Response> {
    await sellingSource();
    const { order } = await readOrder(workshop, now(), idOf(c));
    if (order.state !== 'asked') return c.redirect(`/orders/${order.id}`, 303);
    return await readQuote(workshop, now(), order.id);
  }

  routes.get('/quotes', async function showQuotes(c) {
    const source = await sellingSource();
    const { openCount, allCount } = await readOrderBook(workshop, now(), 'open', firstPage);
    const { currency } = source.settings;
    return renderPage(c, <QuotesPage {...{ currency, openCount, allCount }} quotes={quotesOf(source)} />);
  });

  function formSource(source: OrdersSource, own: OrderView | null): QuoteFormSource {
    const { words, rows, today } = source;
    return { known: words.known, postageBands: rows.postageBands, own, today };
  }

  function formProps(source: OrdersSource, own: { readonly id: number; readonly name: string } | null = null) {
    const names = namesOf(source, own);
    const offered = new Set([...quoteOutlets(source.words.known).map((outlet) => outlet.id), own?.id]);
    return {
      names: { ...names, outlets: names.outlets.filter((outlet) => offered.has(outlet.id)) },
      destinations: destinationsOf(source.rows.postageBands),
      quoteDays: source.settings.quoteDays,
    };
  }

  async function likeOrderOf(text: string | undefined): Promise<LikeOrder | null> {
    if (!idPattern.test(text ?? '')) return null;
    const { source, order } = await readOrder(workshop, now(), Number(text));
    const lines: { id: number; entry: LineEntry }[] = [];
    for (const { id: lineId } of order.lines) {
      const { entry } = await readLine(workshop, now(), lineId);
      if (entry) lines.push({ id: lineId, entry: { ...entry, agreedCents: null } });
    }
    return source && lines.length > 0 ? { order, lines } : null;
  }

  /** The order that a form was filled in from; null when it is gone since. */
  async function likeOrderIn(body: FormBody): Promise<LikeOrder | null> {
    try {
      return await likeOrderOf(textOf(body, 'likeOrder'));
    } catch (error) {
      if (error instanceof AppError && error.code === 'notFound') return null;
      throw error;
    }
  }

  /** The extras of the order that a form was filled in from. */
  const extrasOf = ({ rows }: OrdersSource, like: LikeOrder | null) =>
    like === null ? [] : rows.orderExtras.filter((extra) => extra.orderId === like.order.id);

  function newQuotePage(
    source: OrdersSource,
    values: FormValues,
    problems: readonly Problem[],
    like: LikeOrder | null,
    ticked: { readonly lines: readonly string[]; readonly extras: readonly string[] } | null,
  ) {
    const further = like?.lines.slice(1) ?? [];
    return (
      <NewQuotePage
        {...formProps(source)}
        {...{ values, problems }}
        strandNote={strandNoteOf(like?.lines[0]?.entry ?? null, source.words.known)}
        likeOrder={like && { id: like.order.id, title: orderTitle(like.order).replace(/^Order/, 'order') }}
        alsoLines={further.map(({ id: lineId }) => ({
          id: lineId,
          words: lineTitle(like!.order.lines.find((line) => line.id === lineId)!),
          isTicked: ticked === null || ticked.lines.includes(String(lineId)),
        }))}
        alsoExtras={extrasOf(source, like).map(({ id: extraId, name, cents }) => ({
          id: extraId,
          words: `${name}, ${formatCents(cents, source.settings.currency)}`,
          isTicked: ticked === null || ticked.extras.includes(String(extraId)),
        }))}
      />
    );
  }

  routes.get('/quotes/new', async function showNewQuote(c) {
    const source = await sellingSource();
    const { known } = source.words;
    const last = lastUsedOf(source.rows);
    const like = await likeOrderOf(c.req.query('like'));
    const line = like ? valuesOfLine(like.lines[0]!.entry, known, last) : valuesForNewLine(known, last);
    const details = valuesForNewQuote(known);
    const isOffered = quoteOutlets(known).some((outlet) => outlet.id === like?.order.outletId);
    const outlet = like && isOffered ? { outlet: String(like.order.outletId) } : {};
    return renderPage(c, newQuotePage(source, { ...line, ...details, ...outlet }, [], like, null));
  });

  routes.post('/quotes', async function giveQuote(c) {
    const body = await bodyOf(c);
    const source = await sellingSource();
    const like = await likeOrderIn(body);
    const ticked = [body.also ?? []].flat().filter((value) => typeof value === 'string');
    const more = (like?.lines.slice(1) ?? []).filter((line) => ticked.includes(String(line.id)));
    const entries = more.map(({ entry }) => entry);
    const tickedExtras = [body.alsoExtra ?? []].flat().filter((value) => typeof value === 'string');
    const extras = extrasOf(source, like).filter((extra) => tickedExtras.includes(String(extra.id)));
    const read = parseNewQuote(body, formSource(source, null), like?.lines[0]?.entry ?? null, entries);
    const parsed = read.ok ? succeed({ ...read.value, extras }) : read;
    const added = parsed.ok ? await addQuote(workshop, parsed.value, now()) : parsed;
    if (!added.ok)
      return renderPage(
        c,
        newQuotePage(source, valuesOf(body), added.problems, like, { lines: ticked, extras: tickedExtras }),
        422,
      );
    const isMore = textOf(body, 'next') === 'another';
    return c.redirect(`/orders/${added.value.id}/quote${isMore ? '/lines/new' : ''}`, 303);
  });

  /** The quote's own page takes the place of the order's while it is only asked. */
  routes.get(`/${id}`, async function showQuoteOfOrder(c, next) {
    const source = await readOrdersSource(workshop, now());
    const order = source.orders.find((each) => each.id === idOf(c));
    if (order?.state !== 'asked' || source.settings.purpose === 'give') return await next();
    return c.redirect(`/orders/${order.id}/quote`, 303);
  });

  async function quotePage(view: QuoteView, values: FormValues = {}, problems: readonly Problem[] = []) {
    const usualExtras = await readUsualExtras(workshop);
    const { source, order, money, lines, contact } = view;
    const { settings } = source;
    const reply = replyOf(view);
    const address = /^\S+@\S+\.\S+$/.test(contact ?? '') ? contact : null;
    const mailHref = address && `mailto:${encodeURIComponent(address)}?body=${encodeURIComponent(reply)}`;
    return (
      <QuotePage
        {...view}
        {...{ reply, mailHref, values, problems, usualExtras }}
        extras={source.rows.orderExtras.filter((extra) => extra.orderId === order.id)}
        today={source.today}
        currency={settings.currency}
        wageCents={settings.wageCentsPerHour}
        remarks={order.row.remarks}
        lines={lines.map((line, index) => ({ ...line, line: order.lines[index]! }))}
        totalCents={money.totalCents}
        withoutPrice={money.withoutPrice}
        depositCents={money.depositCents}
        ownDepositCents={ownDeposit(source.plan, order.row)}
        validUntilDay={order.row.validUntilDay}
        postDays={order.row.postDays}
        arriveByDay={order.row.arriveByDay}
        lineProblems={view.problems}
      />
    );
  }

  routes.get(`/${id}/quote`, async function showQuote(c) {
    const view = await quoteOr(c);
    return view instanceof Response ? view : renderPage(c, await quotePage(view));
  });

  routes.get(`/${id}/quote/print`, async function printQuote(c) {
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const { order, source, lines } = view;
    const cautions = [...new Set(lines.flatMap(({ care }) => care?.cautions ?? []))];
    const words = { ...wordsOfQuote(view), cautions };
    const { taxNote, workshopName } = source.settings;
    return renderPage(c, <QuotePrintPage {...{ order, words, taxNote, workshopName }} day={source.today} />);
  });

  function editPage(
    { source, order }: QuoteView,
    values: FormValues,
    problems: readonly Problem[],
    version: number,
    differences: readonly Difference[] | null = null,
  ) {
    const own = { id: order.outletId, name: order.outletName };
    const title = quoteTitle(order);
    return (
      <EditQuotePage
        {...formProps(source, own)}
        {...{ values, problems, title, version, differences }}
        orderId={order.id}
      />
    );
  }

  function valuesIn({ source, order, contact }: QuoteView): FormValues {
    const way = { parcel: parcelOf(source.plan, order), destinations: destinationsOf(source.rows.postageBands) };
    return valuesOfQuote(order, contact, ownDeposit(source.plan, order.row), source, way);
  }

  routes.get(`/${id}/quote/edit`, async function showEditQuote(c) {
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    return renderPage(c, editPage(view, valuesIn(view), [], view.order.version));
  });

  routes.post(`/${id}/quote`, async function saveQuote(c) {
    const body = await bodyOf(c);
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const { source, order } = view;
    const version = versionIn(body);
    const parsed = parseQuoteDetails(body, formSource(source, order));
    const saved: Result<unknown> | null = parsed.ok
      ? await unlessConflict(() => changeQuote(workshop, order.id, parsed.value, version, now()))
      : parsed;
    if (saved === null) {
      const fresh = await readQuote(workshop, now(), order.id);
      const differences = differencesOf(valuesIn(fresh), valuesOf(body), fresh.source.words.known);
      return renderPage(c, editPage(fresh, valuesOf(body), [], fresh.order.version, differences), 409);
    }
    if (saved.ok) return c.redirect(`/orders/${order.id}/quote`, 303);
    return renderPage(c, editPage(view, valuesOf(body), saved.problems, version ?? order.version), 422);
  });

  function lineForm(
    view: QuoteView,
    line: { readonly id: number | null; readonly version?: number; readonly like: LineEntry | null },
    values: FormValues,
    problems: readonly Problem[],
    differences: readonly Difference[] | null = null,
  ) {
    const { source, order } = view;
    const isNew = line.id === null;
    return (
      <LineFormPage
        names={namesOf(source)}
        {...{ values, problems, differences }}
        title={isNew ? 'Another pair' : 'Change the pair'}
        where={quoteTitle(order)}
        action={isNew ? `/orders/${order.id}/quote/lines` : `/orders/${order.id}/quote/lines/${line.id}`}
        removeAction={!isNew && order.lines.length > 1 ? `/orders/${order.id}/quote/lines/${line.id}/remove` : null}
        backHref={`/orders/${order.id}/quote`}
        version={line.version}
        saveWords={isNew ? 'Add the pair' : 'Save the pair'}
        strandNote={strandNoteOf(line.like, source.words.known)}
      />
    );
  }

  async function lastEntry({ order }: QuoteView): Promise<LineEntry | null> {
    const last = order.lines.at(-1);
    return last ? (await readLine(workshop, now(), last.id)).entry : null;
  }

  routes.get(`/${id}/quote/lines/new`, async function showAnotherPair(c) {
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const { known } = view.source.words;
    const last = lastUsedOf(view.source.rows);
    const like = await lastEntry(view);
    const values = like ? valuesOfLine(like, known, last) : valuesForNewLine(known, last);
    const empty = { ...emptySize, quantity: '1', agreed: '' };
    return renderPage(c, lineForm(view, { id: null, like }, { ...values, ...empty }, []));
  });

  routes.post(`/${id}/quote/lines`, async function addAnotherPair(c) {
    const body = await bodyOf(c);
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const like = await lastEntry(view);
    const parsed = parseLine(body, view.source.words.known, like);
    const added = parsed.ok
      ? await saveQuoteLine(workshop, view.order.id, null, parsed.value, undefined, now())
      : parsed;
    if (added.ok) return c.redirect(`/orders/${view.order.id}/quote`, 303);
    return renderPage(c, lineForm(view, { id: null, like }, valuesOf(body), added.problems), 422);
  });

  /** A pair of this quote; the price is in its form only where it is not the price sheet's. */
  async function pairOf(c: Context<AppEnv>, view: QuoteView) {
    const index = view.order.lines.findIndex((line) => line.id === lineOf(c));
    if (index < 0) throw new AppError('notFound', 'That pair is not here; it may have been removed.');
    const { source, line, entry } = await readLine(workshop, now(), lineOf(c));
    const { known } = source.words;
    const isOwn = view.lines[index]!.price?.isOwn ?? false;
    const shown = entry && { ...entry, agreedCents: isOwn ? entry.agreedCents : null };
    const last = lastUsedOf(source.rows);
    return { line, entry, values: shown ? valuesOfLine(shown, known, last) : valuesForNewLine(known, last) };
  }

  routes.get(`/${id}/quote/lines/${ofLine}`, async function showPair(c) {
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const { line, entry, values } = await pairOf(c, view);
    return renderPage(c, lineForm(view, { id: line.id, version: line.version, like: entry }, values, []));
  });

  routes.post(`/${id}/quote/lines/${ofLine}`, async function savePair(c) {
    const body = await bodyOf(c);
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const { line, entry } = await pairOf(c, view);
    const version = versionIn(body);
    const parsed = parseLine(body, view.source.words.known, entry);
    const saved: Result<unknown> | null = parsed.ok
      ? await unlessConflict(() => saveQuoteLine(workshop, view.order.id, line.id, parsed.value, version, now()))
      : parsed;
    if (saved === null) {
      const fresh = await readQuote(workshop, now(), view.order.id);
      const stored = await pairOf(c, fresh);
      const differences = differencesOf(stored.values, valuesOf(body), fresh.source.words.known);
      const shown = { id: line.id, version: stored.line.version, like: entry };
      return renderPage(c, lineForm(fresh, shown, valuesOf(body), [], differences), 409);
    }
    if (saved.ok) return c.redirect(`/orders/${view.order.id}/quote`, 303);
    const shown = { id: line.id, version: version ?? line.version, like: entry };
    return renderPage(c, lineForm(view, shown, valuesOf(body), saved.problems), 422);
  });

  routes.post(`/${id}/quote/lines/${ofLine}/remove`, async function removePair(c) {
    await sellingSource();
    const removed = await removeQuoteLine(workshop, idOf(c), lineOf(c), versionIn(await bodyOf(c)), now());
    return answer(c, removed, `/orders/${idOf(c)}/quote`);
  });

  /** Where a press of a button leads; what stopped it stands on the quote's page. */
  async function answer(c: Context<AppEnv>, result: Result<unknown>, href: string, values: FormValues = {}) {
    if (result.ok) return c.redirect(href, 303);
    return renderPage(c, await quotePage(await readQuote(workshop, now(), idOf(c)), values, result.problems), 422);
  }

  routes.post(`/${id}/quote/prices`, async function savePrices(c) {
    const body = await bodyOf(c);
    const view = await quoteOr(c);
    if (view instanceof Response) return view;
    const { order, source } = view;
    const lineIds = order.lines.map((line) => line.id);
    const parsed = parseQuotePrices(body, source.settings.currency, lineIds);
    const version = versionIn(body);
    const priced: Result<unknown> | null = parsed.ok
      ? await unlessConflict(() =>
          priceQuote(workshop, order.id, parsed.value.prices, parsed.value.depositCents, version, now()),
        )
      : parsed;
    if (priced === null) {
      const message =
        'Somebody else changed this quote meanwhile. Look at it as it is now, then send your price again.';
      const problem = { code: 'conflict', path: 'deposit', message };
      return renderPage(c, await quotePage(await readQuote(workshop, now(), order.id), valuesOf(body), [problem]), 409);
    }
    return answer(c, priced, `/orders/${order.id}/quote`, valuesOf(body));
  });

  routes.post(`/${id}/quote/renew`, async function renew(c) {
    await sellingSource();
    const renewed = await renewQuote(workshop, idOf(c), versionIn(await bodyOf(c)), now());
    return answer(c, renewed, `/orders/${idOf(c)}/quote`);
  });

  routes.post(`/${id}/quote/yes`, async function theySaidYes(c) {
    await sellingSource();
    const accepted = await acceptQuote(workshop, idOf(c), versionIn(await bodyOf(c)), now());
    return answer(c, accepted, `/orders/${idOf(c)}`);
  });

  routes.post(`/${id}/quote/no`, async function theySaidNo(c) {
    await sellingSource();
    await declineQuote(workshop, idOf(c), versionIn(await bodyOf(c)), now());
    return c.redirect(`/orders/${idOf(c)}`, 303);
  });

  return routes;
}
