import { basketCents } from '#core/buying/prices.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { Workshop } from '#db/open.ts';
import { listEventsNamed } from '#db/stores/batch.ts';
import { lateHelpIn } from '#flows/batch/late-help.ts';
import { isEmpty } from '#flows/begin/is-empty.ts';
import { purchasesOnTheirWay } from '#flows/buying/purchases-on-their-way.ts';
import { lastGoodDays } from '#flows/buying/read-buying.ts';
import { type MoneyAhead, moneyAhead } from '#flows/home/money-ahead.ts';
import { type OpenQuotes, openQuotes } from '#flows/home/open-quotes.ts';
import { type OrderToPost, type OwedOrder, owedNow, toPostNow } from '#flows/home/owed-and-post.ts';
import { hasGuessedHours } from '#flows/knitters/read-knitters.ts';
import { type OrdersSource, type OrderView, readOrdersSource } from '#flows/orders/read-orders.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';
import { dueAtShop, shopCaution } from '#flows/shelf/due-at-shop.ts';
import { gaveYarnBack, type ShortLot, shortLots } from '#flows/shelf/short-pairs.ts';
import { yarnCautions } from '#flows/shelf/yarn-cautions.ts';

/** An order on this page: what it is, when it is due, and when its last pair is done as planned. */
export type TodayOrder = {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  readonly dueDay: Day | null;
  readonly pairsLeft: number;
  readonly doneDay: Day | null;
  readonly daysLate: number | null;
  readonly isLate: boolean;
  /** What would bring it home in time; null when it is in time. */
  readonly help: string | null;
  readonly promiseDay: Day | null;
};

/** Yarn to order at one shop. */
export type YarnToOrder = {
  readonly supplierId: number;
  readonly name: string;
  readonly cents: number;
  readonly grams: number;
  /** The last day to order so that nothing gets late by it; null when nothing hurries. */
  readonly orderByDay: Day | null;
};

/** A parcel of yarn that should be here soon, or should have been. */
export type ParcelDue = {
  readonly purchaseId: number;
  readonly shop: string;
  readonly expectedDay: Day;
  readonly isOverdue: boolean;
};

export type Caution = {
  readonly title: string;
  readonly sentence: string;
  readonly href: string;
  readonly words: string;
};
export type NextAction = { readonly href: string; readonly words: string };

export type TodayView = {
  readonly today: Day;
  readonly currency: string;
  readonly purpose: 'sell' | 'order' | 'give';
  readonly hasOrders: boolean;
  readonly pairsToMake: number;
  readonly pairsInHand: number;
  /** The day the last pair of all is done; null when there is none or somebody is missing. */
  readonly lastDay: Day | null;
  /** Orders due within a week, their pairs left, and the first of them; the same of what is late, owed and to post. */
  readonly dueCount: number;
  readonly duePairs: number;
  readonly dueThisWeek: readonly TodayOrder[];
  readonly lateCount: number;
  readonly late: readonly TodayOrder[];
  readonly yarn: readonly YarnToOrder[];
  /** Parcels that should be here within a few days, or should have been. */
  readonly parcels: readonly ParcelDue[];
  /** Names of colours that no shop sells. */
  readonly uncovered: readonly string[];
  /** Lots that lack yarn for begun pairs; none is bought for them. */
  readonly short: readonly ShortLot[];
  readonly money: MoneyAhead;
  readonly quotes: OpenQuotes;
  readonly owedCount: number;
  /** What all of them owe; what goes back is not taken off. */
  readonly owedCents: number;
  readonly owed: readonly OwedOrder[];
  readonly toPostCount: number;
  readonly toPost: readonly OrderToPost[];
  readonly cautions: readonly Caution[];
  readonly next: NextAction;
};

const daysInWeek = 7;
/** Orders named in each list of this page; the rest is counted, with the way to it. Our own choice. */
const mostOrders = 10;
/** Ordering yarn is the next thing to do when its last day is this near. Our own choice. */
const soonDays = 3;

/** What the first page says; null for a workshop in which nothing is yet. */
export async function readToday(workshop: Workshop, now: Date): Promise<TodayView | null> {
  const source = await readOrdersSource(workshop, now);
  if (isEmpty(source.rows)) return null;
  const gaveBack = await workshop.store.read((db) => listEventsNamed(db, gaveYarnBack));
  const view = todayOf(source);
  const yarn = yarnCautions(source.rows, new Set(gaveBack.map(({ pairId }) => pairId)));
  return yarn.length === 0 ? view : { ...view, cautions: [...view.cautions, ...yarn] };
}

function orderName(order: OrderView): string {
  return order.customerName ?? order.outletName;
}

/** The last of some days; null when one is missing, or there is none. */
function lastDayOf(days: readonly (Day | null)[]): Day | null {
  let last: Day | null = null;
  for (const day of days) {
    if (day === null) return null;
    if (last === null || day > last) last = day;
  }
  return last;
}

const pairsLeftOf = ({ progress }: OrderView) => Math.max(0, progress.ordered - progress.handedOver - progress.done);

/** Views of single orders, from what is made once for all of them. */
function orderViewer({ plan: workshopPlan }: OrdersSource): (order: OrderView) => TodayOrder {
  const { plan } = workshopPlan;
  const lateOf = new Map(plan.late.lateOrders.map((late) => [late.orderId, late]));
  const planned = plan.wanted.pairs.map((pair, index) => ({
    orderId: pair.orderId,
    finishDay: plan.weeks[index]?.finishDay ?? null,
  }));
  const ofOrder = groupBy(planned, ({ orderId }) => orderId);
  return (order) => {
    const late = lateOf.get(order.id);
    const help = late ? lateHelpIn(workshopPlan)(order.id) : null;
    return {
      id: order.id,
      number: order.number,
      name: orderName(order),
      dueDay: order.dueDay,
      pairsLeft: pairsLeftOf(order),
      doneDay: lastDayOf((ofOrder.get(order.id) ?? []).map(({ finishDay }) => finishDay)),
      isLate: late !== undefined,
      daysLate: late?.daysLate ?? null,
      help: help?.words ?? null,
      promiseDay: help?.promiseDay ?? null,
    };
  };
}

/** What to order where, and by when: the day the yarn is needed less delivery and the days to spare. */
export function yarnToOrder(workshopPlan: WorkshopPlan): YarnToOrder[] {
  const { plan, rows, settings } = workshopPlan;
  const needed = lastGoodDays(workshopPlan);
  return plan.lists.chosen.baskets.map((basket) => {
    const supplier = rows.suppliers.find((each) => each.id === basket.supplierId);
    const lead = (supplier?.deliveryDays ?? 0) + settings.orderByBufferDays;
    const days = basket.lines.flatMap((line) => needed.get(line.yarnColourId) ?? []).sort();
    return {
      supplierId: basket.supplierId,
      name: supplier?.name ?? '',
      cents: basketCents(basket),
      grams: basket.lines.reduce((sum, line) => sum + line.grossMg, 0) / 1000,
      orderByDay: days.length === 0 ? null : addDays(days[0]!, -lead),
    };
  });
}

function parcelsDue({ rows, today }: WorkshopPlan): ParcelDue[] {
  const shops = new Map(rows.suppliers.map((shop) => [shop.id, shop.name]));
  return purchasesOnTheirWay(rows)
    .filter(({ row }) => row.expectedDay <= addDays(today, soonDays))
    .map(({ row: { id, supplierId, expectedDay } }) => {
      return { purchaseId: id, shop: shops.get(supplierId) ?? '', expectedDay, isOverdue: expectedDay < today };
    });
}

function cautionsOf({ today, plan: { plan, rows, lineProblems, settings, input } }: OrdersSource): Caution[] {
  const cautions: Caution[] = [];
  if (lineProblems.length > 0) {
    const line = rows.lines.find((each) => each.id === lineProblems[0]!.lineId);
    cautions.push({
      title: lineProblems.length === 1 ? 'One line is not planned' : `${lineProblems.length} lines are not planned`,
      sentence: lineProblems[0]!.message,
      href: `/orders/${line?.orderId ?? ''}`,
      words: 'Open its order',
    });
  }
  if (input.knitters.every((knitter) => knitter.id === 0)) {
    cautions.push({
      title: 'Nobody knits yet',
      sentence: 'Dates need somebody with time to knit.',
      href: '/knitters/new',
      words: 'Add a knitter',
    });
  }
  for (const knitter of input.knitters) {
    const most = Math.max(...knitter.minutesByWeekday) * (settings.knittingMinutesPerHour / 60);
    if (knitter.dailyCapMin > 240 && most > 240) {
      cautions.push({
        title: `${knitter.name} is planned for more than four hours a day`,
        sentence: 'Long knitting strains the hands. Shorter days with pauses last longer.',
        href: `/knitters/${knitter.id}`,
        words: 'Look at the hours',
      });
    }
  }
  const guessing = rows.knitters.find((knitter) => knitter.isActive && hasGuessedHours(knitter, rows));
  if (guessing) {
    cautions.push({
      title: 'Your hours are a guess',
      sentence: 'Dates are reckoned with an hour on weekdays and two at weekends.',
      href: `/knitters/${guessing.id}`,
      words: 'Say when you knit',
    });
  }
  const atShop = shopCaution(dueAtShop(rows, today), settings.unitSystem);
  if (atShop) cautions.push({ ...atShop, href: '/shelf', words: 'Look at the shelf' });
  const hasUnknownPrice = plan.prices.some((price) => price.isYarnPriceUnknown);
  if (hasUnknownPrice && settings.purpose !== 'give') {
    cautions.push({
      title: 'Some yarn has no price yet',
      sentence: 'What a pair costs is too low until a shop, or what you paid, is entered.',
      href: '/buying',
      words: 'Enter a price',
    });
  }
  return cautions;
}

function nextOf(view: Omit<TodayView, 'next'>, source: OrdersSource): NextAction {
  if (source.orders.length === 0) return { href: '/orders/new', words: 'Add an order' };
  const first = view.yarn.find((each) => each.orderByDay !== null && each.orderByDay <= addDays(view.today, soonDays));
  if (first) return { href: '/buying', words: `Order yarn at ${first.name}` };
  if (view.pairsToMake > 0)
    return { href: '/batch', words: view.pairsInHand > 0 ? 'Go on with the batch' : 'Start knitting' };
  return { href: '/orders/new', words: 'Add an order' };
}

const todayOf = remember((source: OrdersSource): TodayView => {
  const { plan: workshopPlan, today, settings, rows } = source;
  const { plan } = workshopPlan;
  const weekEnd = addDays(today, daysInWeek);
  const viewOf = orderViewer(source);
  const late = new Set(plan.late.lateOrders.map(({ orderId }) => orderId));
  const lateOrders = source.orders.filter((order) => order.state === 'agreed' && late.has(order.id));
  const dueOrders = source.orders.filter(
    (order) => order.state === 'agreed' && order.dueDay !== null && order.dueDay <= weekEnd && pairsLeftOf(order) > 0,
  );
  const colourName = (id: number) => rows.yarnColours.find((colour) => colour.id === id)?.name ?? '';
  const owed = owedNow(source);
  const toPost = toPostNow(source);
  const view = {
    today,
    currency: settings.currency,
    purpose: settings.purpose,
    hasOrders: source.orders.length > 0,
    pairsToMake: plan.wanted.pairs.length,
    pairsInHand: plan.wanted.pairs.filter((pair) => pair.started !== null).length,
    lastDay: lastDayOf(plan.weeks.map((each) => each.finishDay)),
    dueCount: dueOrders.length,
    duePairs: dueOrders.reduce((sum, order) => sum + pairsLeftOf(order), 0),
    dueThisWeek: dueOrders.slice(0, mostOrders).map(viewOf),
    lateCount: lateOrders.length,
    late: lateOrders.slice(0, mostOrders).map(viewOf),
    yarn: yarnToOrder(workshopPlan),
    parcels: parcelsDue(workshopPlan),
    uncovered: plan.lists.chosen.uncovered.map((need) => colourName(need.yarnColourId)),
    short: shortLots(rows),
    money: moneyAhead(workshopPlan),
    quotes: openQuotes(source),
    owedCount: owed.length,
    owedCents: owed.reduce((sum, order) => sum + Math.max(0, order.cents), 0),
    owed: owed.slice(0, mostOrders),
    toPostCount: toPost.length,
    toPost: toPost.slice(0, mostOrders),
    cautions: cautionsOf(source),
  };
  return { ...view, next: nextOf(view, source) };
});
