import { type Handwork, handworkOf } from '#core/batch/handwork.ts';
import { shapesOf } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import { type Placement, placementKey, placeOnLots } from '#core/buying/lots.ts';
import { lotsAfter } from '#core/buying/lots-after.ts';
import { linesPaid } from '#core/buying/prices.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { buyLikelyAndSafe, type ShoppingLists } from '#core/buying/shopping-lists.ts';
import { type Placed, placementOf, type Wants, wantsOf } from '#core/buying/wants.ts';
import { quickestDays } from '#core/buying/yarn-days.ts';
import { scheduleOptionsOf } from '#core/plan.ts';
import type { Assignment } from '#core/schedule/assign.ts';
import { promisePairs } from '#core/schedule/promise.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { specify } from '#core/styles/specify.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { isRunOut } from '#flows/orders/progress.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** What a quote would have knitted. */
export type PairsToQuote = {
  readonly lineId: number;
  readonly kind: Kind;
  readonly quantity: number;
  /** Who is to knit them; null when whoever has time may. */
  readonly pinnedKnitterId: number | null;
};

/** A quote's place behind the plan and the quotes that hold before it: who knits it when, and from which yarn. */
export type PlacedQuote = {
  readonly pairs: readonly WantedPair[];
  readonly assignments: readonly Assignment[];
  /** The day the last of its pairs is done; null when one has nobody to knit it. */
  readonly promiseDay: Day | null;
  readonly handwork: Handwork;
  readonly wants: Wants;
  /** By `placementKey`: the lot a pair's colour comes from; below 0 what the plan's shopping leaves over. */
  readonly lotOf: ReadonlyMap<string, number>;
  readonly placed: Placed;
  /** What is to be bought for this quote alone, in whole packs. */
  readonly lists: ShoppingLists;
  /** What is left of the shelf and of the plan's shopping after it. */
  readonly lotsLeft: readonly ShelfLot[];
  /** The day all its yarn is here. */
  readonly yarnDay: Day;
  /** The plan's pairs and those of quotes before it, as they are knitted then. */
  readonly others: readonly Assignment[];
  /** The day it would be done with other hours; `isAlone` as if nothing else were to be knitted. */
  readonly promiseDayWith: (knitters: readonly Knitter[], isAlone?: boolean) => Day | null;
};

/** How far the evenings and the yarn are spoken for. */
type Queue = {
  readonly assignments: readonly Assignment[];
  readonly dueDays: ReadonlyMap<string, Day | null>;
  readonly lots: readonly ShelfLot[];
};

const mostRounds = 4;

/**
 * What the plan's own list buys beyond its pairs, as lots that are still to come, below 0: one for each colour of each shop,
 * less what pairs take that find no lot on the shelf.
 */
function overLots({ plan, settings, today }: WorkshopPlan, wants: Wants): ShelfLot[] {
  const bought = plan.lists.chosen.baskets.flatMap((basket) => {
    const paid = linesPaid(basket);
    const lines = basket.lines.map((line, i) => ({ ...line, paidCents: paid[i]! }));
    return [...groupBy(lines, (line) => line.yarnColourId)].map(([yarnColourId, own]) => ({
      yarnColourId,
      boughtMg: own.reduce((sum, line) => sum + line.grossMg, 0),
      paidCents: own.reduce((sum, line) => sum + line.paidCents, 0),
    }));
  });
  const lots = bought.map((each, i): ShelfLot => {
    const fromDay = plan.lists.arrivals.get(each.yarnColourId) ?? today;
    return { ...each, id: -1 - i, dyeLot: '', freeMg: each.boughtMg, fromDay };
  });
  const { lotOf, mixedOf } = plan.placed;
  const isLeft = (key: string) => !lotOf.has(key) && !mixedOf.has(key);
  const left = wants.wants.filter((want) => isLeft(placementKey(want.pairKey, want.yarnColourId)));
  const { placed, mixed } = placeOnLots(left, lots);
  const leastMg = Math.max(1, settings.leastPartBallG * 1000);
  return lotsAfter(lots, left, { lotOf: placed, mixedOf: mixed }).filter((lot) => lot.freeMg >= leastMg);
}

/** What the workshop's plan of agreed orders leaves, before any quote. */
function queueBehindPlan(workshopPlan: WorkshopPlan): Queue {
  const { plan, input } = workshopPlan;
  const wants = wantsOf(plan.wanted.pairs, plan.weeks, plan.handwork, input.settings);
  return {
    assignments: plan.weeks,
    dueDays: new Map(plan.wanted.pairs.map((pair) => [pair.key, pair.dueDay])),
    lots: [...lotsAfter(input.shelf, wants.wants, plan.placed), ...overLots(workshopPlan, wants)],
  };
}

function wantedPairs(orderId: number, lines: readonly PairsToQuote[]): WantedPair[] {
  return lines.flatMap(({ lineId, kind, quantity, pinnedKnitterId }) =>
    Array.from({ length: quantity }, (_, index) => ({
      key: `quote-${orderId}-${lineId}-${index + 1}`,
      lineId,
      orderId,
      kind,
      dueDay: null,
      isSpare: false,
      started: null,
      pinnedKnitterId,
    })),
  );
}

function latest(days: readonly Day[]): Day {
  return days.reduce((late, day) => {
    if (day > late) return day;
    return late;
  });
}

/** The day all are done; null when one never is, or there is none. */
function lastDay(assignments: readonly Assignment[]): Day | null {
  const days = assignments.map((each) => each.finishDay);
  return days.length === 0 || days.includes(null) ? null : latest(days as Day[]);
}

/** Puts a quote behind others: yarn first as the reference knitter would want it, then knitters, then their own counts. */
function placeBehind(
  workshopPlan: WorkshopPlan,
  queue: Queue,
  quote: { readonly orderId: number; readonly promisedDay: Day | null; readonly lines: readonly PairsToQuote[] },
): PlacedQuote {
  const { input, today } = workshopPlan;
  const pairs = wantedPairs(quote.orderId, quote.lines);
  const specs = specify(shapesOf(quote.lines.map(({ kind }) => kind)), input.hands);
  const handwork = handworkOf(specs, input.knitters, input.referenceKnitterId);
  const byKey = new Map(pairs.map((pair) => [pair.key, pair]));
  const minutesOf = (key: string, knitterId: number) => handwork.minutesOf(byKey.get(key)!.kind, knitterId);
  const quickest = quickestDays(input.suppliers, input.offers);
  const dayOfLot = new Map(queue.lots.map((lot) => [lot.id, lot.fromDay ?? today]));
  const arrivalOfLot = (lot: number) => dayOfLot.get(lot) ?? today;
  /** The day a pair's yarn is here, when what no lot has comes as `dayOfBought` says. */
  const arrivals = (wants: Wants, { placed, mixed }: Placement, dayOfBought: (colour: number) => Day) => {
    const days = new Map<string, Day>();
    for (const { pairKey, yarnColourId } of wants.wants) {
      const key = placementKey(pairKey, yarnColourId);
      const lot = placed.get(key);
      const rows = lot === undefined ? (mixed.get(key) ?? []).map(({ lotId }) => lotId) : [lot];
      const day = rows.length === 0 ? dayOfBought(yarnColourId) : latest(rows.map(arrivalOfLot));
      days.set(pairKey, latest([day, days.get(pairKey) ?? today]));
    }
    return days;
  };

  const first = wantsOf(pairs, [], handwork, input.settings);
  let ready = arrivals(first, placeOnLots(first.wants, queue.lots), (colour) =>
    addDays(today, quickest.get(colour) ?? 0),
  );
  const dueDayOf = (key: string) => queue.dueDays.get(key) ?? null;
  const promise = (knitters: readonly Knitter[], assignments: readonly Assignment[]) =>
    promisePairs(
      pairs.map(({ key, pinnedKnitterId = null }) => ({
        key,
        readyDay: ready.get(key) ?? today,
        dueDay: quote.promisedDay,
        pinnedKnitterId,
      })),
      assignments,
      dueDayOf,
      knitters,
      minutesOf,
      scheduleOptionsOf(input),
    );
  for (let round = 1; ; round += 1) {
    const promised = promise(input.knitters, queue.assignments);
    const wants = wantsOf(pairs, promised.pairs, handwork, input.settings);
    const placement = placeOnLots(wants.wants, queue.lots);
    const placed = placementOf(placement, wants);
    const starts = new Map(
      promised.pairs.flatMap((each) => (each.startDay === null ? [] : [[each.pairKey, each.startDay] as const])),
    );
    const options = { today, ...input.settings };
    const lists = buyLikelyAndSafe(placed.toBuy, input.suppliers, input.offers, placed.neededByDay(starts), options);
    const arrive = arrivals(wants, placement, (colour) => lists.arrivals.get(colour) ?? today);
    // Another hand may take more yarn than the lots have: then the pair waits for what is bought, and is placed anew.
    const isLateYarn = [...starts].some(([key, start]) => (arrive.get(key) ?? today) > start);
    if (isLateYarn && round < mostRounds) {
      ready = new Map(pairs.map(({ key }) => [key, latest([ready.get(key) ?? today, arrive.get(key) ?? today])]));
      continue;
    }
    return {
      pairs,
      assignments: promised.pairs,
      promiseDay: lastDay(promised.pairs),
      handwork,
      wants,
      lotOf: placement.placed,
      placed,
      lists,
      yarnDay: latest([today, ...arrive.values()]),
      lotsLeft: lotsAfter(queue.lots, wants.wants, placed),
      others: promised.others,
      promiseDayWith: (knitters, isAlone = false) => lastDay(promise(knitters, isAlone ? [] : queue.assignments).pairs),
    };
  }
}

type OrderRow = WorkshopRows['orders'][number];

/** Whether a quote keeps its evenings and its yarn today: one that has run out keeps nothing. */
export function isHolding(order: Pick<OrderRow, 'state' | 'holds' | 'validUntilDay'>, today: Day): boolean {
  return order.state === 'asked' && order.holds && !isRunOut(order, today);
}

const never = '9999-99-99';

/** Order among quotes that hold: the day promised, then the number. */
function isBefore(a: OrderRow, b: OrderRow): boolean {
  const [one, other] = [a.promisedDay ?? never, b.promisedDay ?? never];
  return one === other ? a.number < b.number : one < other;
}

/** The lines of a stored quote that can be planned. */
export function pairsOfQuote({ rows, kindOfLine }: WorkshopPlan, orderId: number): PairsToQuote[] {
  return rows.lines
    .filter((line) => line.orderId === orderId)
    .flatMap(({ id: lineId, quantity, knitterId: pinnedKnitterId }) => {
      const kind = kindOfLine.get(lineId);
      return kind ? [{ lineId, kind, quantity, pinnedKnitterId }] : [];
    });
}

/**
 * Where a quote finds its place: behind the plan of the agreed orders, which stays as it is, and behind other quotes that
 * hold, in the order of the days promised, each kept to its day. A quote that holds already stands before those promised
 * for later; one that is new, or changed, or holds nothing stands behind all of them.
 *
 * @param quote `own` is its stored row where it is there; `isAnew` when a new day is to be promised
 */
export function placeQuote(
  plan: WorkshopPlan,
  quote: { readonly own: OrderRow | null; readonly isAnew: boolean; readonly lines: readonly PairsToQuote[] },
): PlacedQuote {
  const { own, isAnew, lines } = quote;
  const keepsPlace = own !== null && !isAnew && isHolding(own, plan.today);
  const before = plan.rows.orders
    .filter((order) => isHolding(order, plan.today) && order.id !== own?.id)
    .filter((order) => !keepsPlace || isBefore(order, own))
    .sort((a, b) => (isBefore(a, b) ? -1 : 1));
  return placeBehind(plan, queueBehind(plan, before), { orderId: own?.id ?? 0, promisedDay: null, lines });
}

/** What the plan and quotes that hold leave, these placed one after another. */
function queueBehind(plan: WorkshopPlan, quotes: readonly OrderRow[]): Queue {
  let queue = queueBehindPlan(plan);
  for (const { id: orderId, promisedDay } of quotes) {
    const held = placeBehind(plan, queue, { orderId, promisedDay, lines: pairsOfQuote(plan, orderId) });
    queue = {
      assignments: [...held.others, ...held.assignments],
      dueDays: new Map([...queue.dueDays, ...held.pairs.map(({ key }) => [key, promisedDay] as const)]),
      lots: held.lotsLeft,
    };
  }
  return queue;
}

/** What quotes that hold keep of each lot of the shelf, mg. */
export function heldByQuotes(plan: WorkshopPlan): ReadonlyMap<number, number> {
  const quotes = plan.rows.orders.filter((order) => isHolding(order, plan.today));
  if (quotes.length === 0) return new Map();
  const before = new Map(queueBehindPlan(plan).lots.map(({ id, freeMg }) => [id, freeMg]));
  const { lots } = queueBehind(
    plan,
    quotes.sort((a, b) => (isBefore(a, b) ? -1 : 1)),
  );
  return new Map(lots.map(({ id, freeMg }) => [id, before.get(id)! - freeMg]));
}
