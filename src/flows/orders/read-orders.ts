import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { type PageWish, type Paging, pagingOf, rowsOn } from '#core/shared/paging.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import {
  countOrders,
  findLine,
  findOrder,
  type LineColourRow,
  listLineColours,
  listLines,
  listOrderIds,
  type OrderLineRow,
  type OrderRow,
} from '#db/stores/orders.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { type LineView, type LineWords, lineWordsOf } from '#flows/orders/line-words.ts';
import { addProgress, isRunOut, type Progress, type StateWords, stateWordsOf } from '#flows/orders/progress.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';

/** An order with its lines, in words. */
export type OrderView = {
  readonly id: number;
  readonly number: number;
  readonly version: number;
  readonly customerName: string | null;
  readonly outletId: number;
  readonly outletName: string;
  readonly createdDay: Day;
  readonly dueDay: Day | null;
  readonly reference: string | null;
  readonly state: OrderRow['state'];
  readonly stateWords: StateWords;
  readonly isOverdue: boolean;
  readonly importId: number | null;
  /** As it is stored: what the pages of quotes, money and posting need besides. */
  readonly row: OrderRow;
  readonly lines: readonly LineView[];
  readonly progress: Progress;
};

/** The workshop seen from its orders; made once for a plan and remembered with it. */
export type OrdersSource = {
  readonly plan: WorkshopPlan;
  readonly today: Day;
  readonly settings: Settings;
  readonly rows: WorkshopRows;
  readonly words: LineWords;
  readonly viewOf: (order: OrderRow, lines: readonly OrderLineRow[], colours: readonly LineColourRow[]) => OrderView;
  /** Orders that are not cancelled, by due day. */
  readonly orders: readonly OrderView[];
};

const sourceOf = remember((plan: WorkshopPlan): OrdersSource => {
  const { rows, today, settings } = plan;
  const words = lineWordsOf(rows);
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const outlets = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.name]));
  const viewOf: OrdersSource['viewOf'] = (order, lines, colours) => {
    const coloursOfLine = groupBy(colours, (colour) => colour.lineId);
    const views = lines.map((line) => words.view(line, coloursOfLine.get(line.id) ?? []));
    const progress = addProgress(views.map((line) => line.progress));
    const stateWords = isRunOut(order, today) ? 'run out' : stateWordsOf(order.state, progress);
    const isOpen = order.state === 'agreed' && stateWords !== 'handed over';
    const { id, number, version, outletId, createdDay, dueDay, reference, state, importId } = order;
    return {
      ...{ id, number, version, outletId, createdDay, dueDay, reference, state, importId },
      row: order,
      customerName: order.customerId === null ? null : (customers.get(order.customerId) ?? null),
      outletName: outlets.get(outletId) ?? '',
      stateWords,
      isOverdue: isOpen && dueDay !== null && dueDay < today,
      lines: views,
      progress,
    };
  };
  const linesOf = groupBy(rows.lines, (line) => line.orderId);
  const coloursOf = groupBy(rows.lineColours, (colour) => colour.lineId);
  const orders = rows.orders.map((order) => {
    const lines = linesOf.get(order.id) ?? [];
    return viewOf(
      order,
      lines,
      lines.flatMap((line) => coloursOf.get(line.id) ?? []),
    );
  });
  return { plan, today, settings, rows, words, viewOf, orders };
});

export async function readOrdersSource(workshop: Workshop, now: Date): Promise<OrdersSource> {
  return sourceOf(await readPlan(workshop, now));
}

/** Which orders are listed: `ids` names orders that are not cancelled, in their order. */
export type OrderFilter = 'open' | 'all' | { readonly importId: number } | { readonly ids: readonly number[] };

/** One page of the list of orders. */
export type OrderBook = {
  readonly source: OrdersSource;
  readonly filter: OrderFilter;
  readonly orders: readonly OrderView[];
  readonly openCount: number;
  /** Quotes that have not run out; null where nothing is sold. */
  readonly quoteCount: number | null;
  readonly allCount: number;
  /** Pairs of the open orders that are not handed over. */
  readonly openPairs: number;
  readonly overdueCount: number;
  readonly nextDueDay: Day | null;
  readonly paging: Paging;
};

/** Orders on a page: with some lines each, they are as long as other lists. */
export const ordersOnPage = 50;

/** The list of orders: open ones by due day; all with those handed over and cancelled; those of one import; or some. */
export async function readOrderBook(
  workshop: Workshop,
  now: Date,
  filter: OrderFilter,
  wish: PageWish,
): Promise<OrderBook> {
  const source = await readOrdersSource(workshop, now);
  const summary = summaryOf(source);
  const chosen = await chosenBy(workshop, source, filter);
  const paging = pagingOf(chosen.length, wish);
  return {
    source,
    filter,
    orders: await viewAll(workshop, source, rowsOn(chosen, paging)),
    openCount: summary.open.length,
    quoteCount: summary.quoteCount,
    allCount: await workshop.store.read(countOrders),
    openPairs: summary.openPairs,
    overdueCount: summary.overdueCount,
    nextDueDay: summary.nextDueDay,
    paging,
  };
}

const summaryOf = remember((source: OrdersSource) => {
  const hasQuotes = source.settings.purpose !== 'give';
  const open = source.orders.filter(
    (order) => order.stateWords !== 'handed over' && (order.state === 'agreed' || !hasQuotes),
  );
  const agreed = open.filter((order) => order.state === 'agreed');
  const dueDays = agreed.flatMap((order) => order.dueDay ?? []);
  return {
    open,
    quoteCount: hasQuotes ? source.orders.filter(({ stateWords }) => stateWords === 'asked').length : null,
    openPairs: agreed.reduce((sum, { progress }) => sum + Math.max(0, progress.ordered - progress.handedOver), 0),
    overdueCount: open.filter((order) => order.isOverdue).length,
    nextDueDay: dueDays.find((day) => day >= source.today) ?? null,
  };
});

/** The ids of the orders listed, in their order. */
async function chosenBy(workshop: Workshop, source: OrdersSource, filter: OrderFilter): Promise<readonly number[]> {
  if (filter === 'open') return summaryOf(source).open.map(({ id }) => id);
  if (typeof filter === 'object' && 'ids' in filter) return filter.ids;
  return await workshop.store.read((db) => listOrderIds(db, filter === 'all' ? null : filter.importId));
}

const viewsById = remember((source: OrdersSource) => new Map(source.orders.map((order) => [order.id, order])));

// Cancelled orders and their lines are no part of any plan: they are read for the orders on the page alone.
async function viewAll(
  workshop: Workshop,
  source: OrdersSource,
  ids: readonly number[],
): Promise<readonly OrderView[]> {
  const views: OrderView[] = [];
  for (const id of ids) {
    const known = viewsById(source).get(id);
    const row = known ? null : await workshop.store.read((db) => findOrder(db, id));
    if (known) views.push(known);
    else if (row) views.push(await viewStored(workshop, source, row));
  }
  return views;
}

async function viewStored(workshop: Workshop, source: OrdersSource, order: OrderRow): Promise<OrderView> {
  const [lines, colours] = await workshop.store.read((db) =>
    db.batch([listLines(db, order.id), listLineColours(db, order.id)]),
  );
  return source.viewOf(order, lines, colours);
}

const noOrder = () => new AppError('notFound', 'That order is not here; it may have been removed.');
const noLine = () => new AppError('notFound', 'That line is not here; it may have been removed.');

/** @throws {AppError} `notFound` */
export async function readOrder(
  workshop: Workshop,
  now: Date,
  orderId: number,
): Promise<{ readonly source: OrdersSource; readonly order: OrderView }> {
  const source = await readOrdersSource(workshop, now);
  const known = viewsById(source).get(orderId);
  if (known) return { source, order: known };
  const row = await workshop.store.read((db) => findOrder(db, orderId));
  if (!row) throw noOrder();
  const order = await viewStored(workshop, source, row);
  return { source, order };
}

/** A line with its order and its rows, a cancelled order's too. @throws {AppError} `notFound` */
export async function readLine(workshop: Workshop, now: Date, lineId: number) {
  const row = await workshop.store.read((db) => findLine(db, lineId));
  if (!row) throw noLine();
  const { source, order } = await readOrder(workshop, now, row.orderId);
  const colours = (await workshop.store.read((db) => listLineColours(db, row.orderId))).filter(
    (colour) => colour.lineId === lineId,
  );
  const line = order.lines.find((each) => each.id === lineId);
  if (!line) throw noLine();
  return { source, order, line, row, colours, entry: source.words.entry(row, colours) };
}
