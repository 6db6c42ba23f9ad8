import { addDays, type Day } from '#core/shared/calendar.ts';
import { forecastOf } from '#flows/orders/order-forecast.ts';
import { type DueMoney, dueNow } from '#flows/orders/order-money.ts';
import { postByOf } from '#flows/orders/parcel.ts';
import type { OrdersSource, OrderView } from '#flows/orders/read-orders.ts';
import { remember } from '#flows/remember.ts';

/** An order that should bring money now, or get some back. */
export type OwedOrder = DueMoney & {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  readonly dueDay: Day | null;
};

/** An order that is to go by post soon. */
export type OrderToPost = {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  /** The last day to post it; null where no day was said. */
  readonly postByDay: Day | null;
  readonly isPast: boolean;
  readonly arriveByDay: Day | null;
  /** All its pairs are finished. */
  readonly isReady: boolean;
  /** The day the last of them is done as planned, when that is too late for the post. */
  readonly tooLateDay: Day | null;
};

/** An order to post is shown this long before. Our own choice, the same week as what is due. */
const daysAhead = 7;

const nameOf = (order: OrderView) => order.customerName ?? order.outletName;
const rank: Readonly<Record<DueMoney['why'], number>> = { ready: 0, back: 1, deposit: 2 };

// Days sort as texts; orders without one come last.
function byDay(a: Day | null, b: Day | null): number {
  return a === b ? 0 : a === null ? 1 : b === null ? -1 : a < b ? -1 : 1;
}

/** Orders that should bring money now: the finished and gone first, then what goes back, then deposits. */
export const owedNow = remember(({ plan, orders, settings }: OrdersSource): readonly OwedOrder[] => {
  if (settings.purpose === 'give') return [];
  return orders
    .flatMap((order) => {
      const due = dueNow(plan, order);
      return due ? [{ ...due, id: order.id, number: order.number, name: nameOf(order), dueDay: order.dueDay }] : [];
    })
    .sort((a, b) => rank[a.why] - rank[b.why] || byDay(a.dueDay, b.dueDay) || a.number - b.number);
});

/** Agreed orders to post within a week, or since some days, and finished ones that only wait for the post. */
export const toPostNow = remember((source: OrdersSource): readonly OrderToPost[] => {
  const { orders, today } = source;
  return orders
    .flatMap((order) => {
      const { row, state, stateWords, id, number } = order;
      const isToPost = row.postageCents !== null || row.arriveByDay !== null;
      if (state !== 'agreed' || stateWords === 'handed over' || row.postedDay !== null || !isToPost) return [];
      const post = postByOf(order, today);
      const isReady = stateWords === 'done';
      if (!isReady && (post === null || post.day > addDays(today, daysAhead))) return [];
      const days = { postByDay: post?.day ?? null, isPast: post?.isPast ?? false, arriveByDay: row.arriveByDay };
      const lineIds = order.lines.map((line) => line.id);
      const readyDay = isReady ? null : forecastOf(source, lineIds, order.dueDay).readyDay;
      const tooLateDay = readyDay !== null && post !== null && readyDay > post.day ? readyDay : null;
      return [{ id, number, name: nameOf(order), ...days, isReady, tooLateDay }];
    })
    .sort((a, b) => byDay(a.postByDay, b.postByDay) || a.number - b.number);
});
