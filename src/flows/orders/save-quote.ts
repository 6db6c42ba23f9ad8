import type { Kind } from '#core/batch/lines.ts';
import { AppError } from '#core/shared/app-error.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changeCustomer,
  changeLine,
  changeOrder,
  createLine,
  createOrder,
  createOrderExtra,
  findLine,
  findOrder,
  type OrderLineRow,
  type OrderRow,
  removeLine,
} from '#db/stores/orders.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { readState } from '#db/stores/workshop.ts';
import { cancelOrder } from '#flows/orders/cancel-order.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import type { ExtraEntry } from '#flows/orders/extras.ts';
import { kindsOfEntries } from '#flows/orders/quote-kinds.ts';
import { depositOf, quotedPrice } from '#flows/orders/quote-money.ts';
import { pairsOfQuote, placeQuote } from '#flows/orders/quote-place.ts';
import { type Posted, type PostWish, postOf } from '#flows/orders/quote-post.ts';
import { customerIdOf, newLinesOf } from '#flows/orders/stored-line.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';

/** What is said about a quote beside its pairs. */
export type QuoteDetails = {
  readonly customerName: string | null;
  readonly contact: string | null;
  readonly outletId: number;
  /** The day the customer wishes to have it: in the hand where it is posted, else ready. */
  readonly wishedDay: Day | null;
  /** Null where it is fetched or handed over. */
  readonly post: PostWish | null;
  /** Null for the outlet's own share. */
  readonly depositCents: number | null;
  /** Null for as many days as the settings say. */
  readonly validUntilDay: Day | null;
  readonly holds: boolean;
  readonly remarks: string | null;
};

export type QuoteEntry = QuoteDetails & {
  readonly lines: readonly LineEntry[];
  /** Taken along from the order that it is the same as. */
  readonly extras?: readonly ExtraEntry[];
};

/** A pair of a quote as it is reckoned with before it is stored. */
type Reckoned = {
  readonly lineId: number;
  readonly kind: Kind;
  readonly quantity: number;
  readonly agreedCents: number | null;
  readonly pinnedKnitterId: number | null;
};

const noQuote = () => new AppError('notFound', 'That quote is not here; it may have been removed.');
const noQuoteAnyMore = () =>
  new AppError('conflict', 'This is no quote any more: it was agreed to or cancelled meanwhile. Look at the order.');

/** Thrown out of a write whose plan is an older one, so that nothing is kept of it. */
const olderPlan: Problem = {
  code: 'olderPlan',
  path: '',
  message: 'Other changes came in between. Send it once more.',
};
const mostTries = 5;

/**
 * Works something out on the plan and writes it, unless anything was written meanwhile: then it is worked out anew, so
 * that two quotes sent at once do not promise the same evenings.
 */
async function writeOnPlan<P, T>(
  workshop: Workshop,
  now: Date,
  flow: string,
  prepare: (plan: WorkshopPlan) => Result<P>,
  write: (tx: Tx, prepared: P, plan: WorkshopPlan) => Promise<T>,
): Promise<Result<T>> {
  for (let tries = 1; ; tries += 1) {
    const plan = await readPlan(workshop, now);
    const prepared = prepare(plan);
    if (!prepared.ok) return prepared;
    const written = await workshop.store.write(flow, async (tx) => {
      const { revision } = await readState(tx);
      if (revision !== plan.rows.revision) return refuse(olderPlan);
      return succeed(await write(tx, prepared.value, plan));
    });
    if (written.ok || tries === mostTries) return written;
  }
}

function outletIn({ rows }: WorkshopPlan, outletId: number): OutletRow {
  const outlet = rows.outlets.find((each) => each.id === outletId);
  if (!outlet) throw new AppError('notFound', 'That outlet is not here.');
  return outlet;
}

/** A stored quote in a plan. @throws {AppError} `notFound`, or `conflict` where it is no quote any more */
export function quoteIn({ rows }: WorkshopPlan, orderId: number): OrderRow {
  const order = rows.orders.find((each) => each.id === orderId);
  if (!order) throw noQuote();
  if (order.state !== 'asked') throw noQuoteAnyMore();
  return order;
}

function priced(plan: WorkshopPlan, outlet: OutletRow, { kind, quantity, agreedCents }: Reckoned) {
  return { quantity, eachCents: quotedPrice(plan, kind, outlet, agreedCents).eachCents };
}

/** Everything a quote says in numbers: the price of a pair of each line, the deposit, and the day. */
function reckon(
  plan: WorkshopPlan,
  own: OrderRow | null,
  outlet: OutletRow,
  lines: readonly Reckoned[],
  depositCents: number | null,
  extras: readonly Pick<ExtraEntry, 'cents'>[] = plan.rows.orderExtras.filter((extra) => extra.orderId === own?.id),
) {
  const prices = lines.map((line) => priced(plan, outlet, line));
  return {
    agreedCents: new Map(lines.map(({ lineId }, index) => [lineId, prices[index]!.eachCents])),
    depositCents: depositCents ?? depositOf(outlet, prices, extras),
    promisedDay: placeQuote(plan, { own, isAnew: true, lines }).promiseDay,
  };
}

function daysOf(wishedDay: Day | null, post: Posted | null) {
  const isPosted = post !== null;
  return {
    dueDay: wishedDay === null ? null : addDays(wishedDay, isPosted ? -post.days : 0),
    arriveByDay: isPosted ? wishedDay : null,
    postageCents: post?.cents ?? null,
    postDays: post?.days ?? null,
  };
}

function validUntil({ today, settings }: WorkshopPlan): Day {
  return addDays(today, settings.quoteDays);
}

async function customerOf(tx: Tx, { customerName, contact }: QuoteDetails, mayClear: boolean): Promise<number | null> {
  const customerId = await customerIdOf(tx, customerName);
  if (customerId !== null && (contact !== null || mayClear)) await changeCustomer(tx, customerId, { contact });
  return customerId;
}

function reckonedEntries(plan: WorkshopPlan, entries: readonly LineEntry[]): Result<Reckoned[]> {
  const kinds = kindsOfEntries(plan, entries);
  const problems = kinds.filter((kind) => 'message' in kind);
  if (problems.length > 0) return refuse(...problems);
  return succeed(
    entries.map(({ quantity, agreedCents, knitterId }, index) => ({
      lineId: -1 - index,
      kind: kinds[index] as Kind,
      quantity,
      agreedCents,
      pinnedKnitterId: knitterId,
    })),
  );
}

/** Gives a quote: an order that is only asked, with its prices, its deposit and the day it could be done. */
export async function addQuote(workshop: Workshop, entry: QuoteEntry, now: Date): Promise<Result<OrderRow>> {
  return await writeOnPlan(
    workshop,
    now,
    'orders: give a quote',
    (plan) => {
      const lines = reckonedEntries(plan, entry.lines);
      if (!lines.ok) return lines;
      const post = postOf(plan, entry.post, lines.value);
      if (!post.ok) return post;
      const outlet = outletIn(plan, entry.outletId);
      const reckoned = reckon(plan, null, outlet, lines.value, entry.depositCents, entry.extras ?? []);
      return succeed({ ...reckoned, post: post.value });
    },
    async (tx, { agreedCents, post, ...numbers }, plan) => {
      const customerId = await customerOf(tx, entry, false);
      const lines = await newLinesOf(tx, customerId, entry.lines);
      const order = await createOrder(tx, {
        ...daysOf(entry.wishedDay, post),
        ...numbers,
        customerId,
        outletId: entry.outletId,
        state: 'asked',
        createdDay: plan.today,
        validUntilDay: entry.validUntilDay ?? validUntil(plan),
        holds: entry.holds,
        remarks: entry.remarks,
        lines: lines.map((line, index) => ({ ...line, agreedCents: agreedCents.get(-1 - index) ?? null })),
      });
      for (const { name, cents, minutes, materialCents } of entry.extras ?? []) {
        await createOrderExtra(tx, { orderId: order.id, name, cents, minutes, materialCents });
      }
      return order;
    },
  );
}

/** The lines of a stored quote; those at the price sheet's price are priced anew where the outlet is another. */
function storedLines(plan: WorkshopPlan, order: OrderRow, outlet: OutletRow): Reckoned[] {
  const before = outletIn(plan, order.outletId);
  const rows = new Map(plan.rows.lines.map((line) => [line.id, line]));
  return pairsOfQuote(plan, order.id).map((line) => {
    const { agreedCents } = rows.get(line.lineId)!;
    const isSheets = before.id !== outlet.id && !quotedPrice(plan, line.kind, before, agreedCents).isOwn;
    return { ...line, agreedCents: isSheets ? null : agreedCents };
  });
}

async function storePrices(tx: Tx, agreedCents: ReadonlyMap<number, number | null>): Promise<void> {
  for (const [lineId, cents] of agreedCents) {
    if (lineId < 0) continue;
    const line = await findLine(tx, lineId);
    if (line && line.agreedCents !== cents) await changeLine(tx, lineId, { agreedCents: cents });
  }
}

/** The deposit as it stands, where it is not just the outlet's share of what was asked before. */
export function ownDeposit(plan: WorkshopPlan, order: OrderRow): number | null {
  const outlet = outletIn(plan, order.outletId);
  const lines = storedLines(plan, order, outlet).map((line) => priced(plan, outlet, line));
  const extras = plan.rows.orderExtras.filter((extra) => extra.orderId === order.id);
  return order.depositCents === depositOf(outlet, lines, extras) ? null : order.depositCents;
}

/**
 * Changes all of a quote but its pairs; the day is promised anew.
 *
 * @throws {AppError} `notFound`, or `conflict` with the other's row when the version moved on
 */
export async function changeQuote(
  workshop: Workshop,
  orderId: number,
  details: QuoteDetails,
  version: number | undefined,
  now: Date,
): Promise<Result<OrderRow>> {
  return await writeOnPlan(
    workshop,
    now,
    'orders: change a quote',
    (plan) => {
      const order = quoteIn(plan, orderId);
      const outlet = outletIn(plan, details.outletId);
      const lines = storedLines(plan, order, outlet);
      const post = postOf(plan, details.post, lines);
      if (!post.ok) return post;
      return succeed({ ...reckon(plan, order, outlet, lines, details.depositCents), post: post.value });
    },
    async (tx, { agreedCents, post, ...numbers }, plan) => {
      const { holds, remarks, outletId } = details;
      const customerId = await customerOf(tx, details, true);
      const validUntilDay = details.validUntilDay ?? validUntil(plan);
      const days = daysOf(details.wishedDay, post);
      const values = { ...days, ...numbers, customerId, outletId, holds, remarks, validUntilDay };
      const order = await changeOrder(tx, orderId, values, version);
      await storePrices(tx, agreedCents);
      return order;
    },
  );
}

/**
 * Adds a line to a quote, or puts one in the place of another; price, deposit and day follow.
 *
 * @param lineId null for a new one
 * @throws {AppError} `notFound`, or `conflict` with the other's row when the line's version moved on
 */
export async function saveQuoteLine(
  workshop: Workshop,
  orderId: number,
  lineId: number | null,
  entry: LineEntry,
  version: number | undefined,
  now: Date,
): Promise<Result<OrderLineRow>> {
  return await writeOnPlan(
    workshop,
    now,
    lineId === null ? 'orders: add a pair to a quote' : 'orders: change a pair of a quote',
    (plan) => {
      const order = quoteIn(plan, orderId);
      const own = reckonedEntries(plan, [entry]);
      if (!own.ok) return own;
      const outlet = outletIn(plan, order.outletId);
      const others = storedLines(plan, order, outlet).filter((line) => line.lineId !== lineId);
      return succeed(reckon(plan, order, outlet, [...others, ...own.value], ownDeposit(plan, order)));
    },
    async (tx, { agreedCents, ...numbers }) => {
      const order = await findOrder(tx, orderId);
      const [columns] = await newLinesOf(tx, order?.customerId ?? null, [entry]);
      const line = { ...columns!, agreedCents: agreedCents.get(-1) ?? null };
      const saved = lineId === null ? await createLine(tx, orderId, line) : await changeLine(tx, lineId, line, version);
      await storePrices(tx, agreedCents);
      await changeOrder(tx, orderId, numbers);
      return saved;
    },
  );
}

/** Reckons a quote again with other prices, another last day, or without a pair that is gone. */
async function reckonAgain(
  workshop: Workshop,
  orderId: number,
  flow: string,
  change: {
    readonly prices?: ReadonlyMap<number, number | null>;
    readonly depositCents?: number | null;
    readonly isRenewed?: boolean;
  },
  version: number | undefined,
  now: Date,
): Promise<Result<OrderRow>> {
  return await writeOnPlan(
    workshop,
    now,
    flow,
    (plan) => {
      const order = quoteIn(plan, orderId);
      const outlet = outletIn(plan, order.outletId);
      const lines = storedLines(plan, order, outlet).map((line) => {
        const price = change.prices?.get(line.lineId);
        return price === undefined ? line : { ...line, agreedCents: price };
      });
      const deposit = change.depositCents === undefined ? ownDeposit(plan, order) : change.depositCents;
      return succeed(reckon(plan, order, outlet, lines, deposit));
    },
    async (tx, { agreedCents, promisedDay, depositCents }, plan) => {
      const isGiven = quoteIn(plan, orderId).validUntilDay !== null;
      const validUntilDay = change.isRenewed || !isGiven ? { validUntilDay: validUntil(plan) } : {};
      // A price that was typed moves no day.
      const day = change.prices && isGiven ? {} : { promisedDay };
      const order = await changeOrder(tx, orderId, { depositCents, ...day, ...validUntilDay }, version);
      await storePrices(tx, agreedCents);
      return order;
    },
  );
}

/**
 * Asks other prices for the pairs of a quote, and another deposit; the day stays.
 *
 * @param prices by line; null for the price sheet's
 * @param depositCents null for the outlet's share
 */
export async function priceQuote(
  workshop: Workshop,
  orderId: number,
  prices: ReadonlyMap<number, number | null>,
  depositCents: number | null,
  version: number | undefined,
  now: Date,
): Promise<Result<OrderRow>> {
  return await reckonAgain(
    workshop,
    orderId,
    'orders: change the price of a quote',
    { prices, depositCents },
    version,
    now,
  );
}

/** Offers a quote again from today: the prices stay, day and last day are new. */
export async function renewQuote(
  workshop: Workshop,
  orderId: number,
  version: number | undefined,
  now: Date,
): Promise<Result<OrderRow>> {
  return await reckonAgain(workshop, orderId, 'orders: give a quote again', { isRenewed: true }, version, now);
}

/** Takes a pair out of a quote that has others; deposit and day follow. @throws {AppError} `notFound`, `conflict` */
export async function removeQuoteLine(
  workshop: Workshop,
  orderId: number,
  lineId: number,
  version: number | undefined,
  now: Date,
): Promise<Result<OrderRow>> {
  return await writeOnPlan(
    workshop,
    now,
    'orders: take a pair out of a quote',
    (plan) => {
      const order = quoteIn(plan, orderId);
      const all = plan.rows.lines.filter((line) => line.orderId === orderId);
      if (!all.some((line) => line.id === lineId)) throw noQuote();
      if (all.length === 1) {
        throw new AppError('conflict', 'A quote needs a pair. Change this one, or say that they said no.');
      }
      const outlet = outletIn(plan, order.outletId);
      const lines = storedLines(plan, order, outlet).filter((line) => line.lineId !== lineId);
      return succeed(reckon(plan, order, outlet, lines, ownDeposit(plan, order)));
    },
    async (tx, { agreedCents, ...numbers }) => {
      await removeLine(tx, lineId, version);
      await storePrices(tx, agreedCents);
      return await changeOrder(tx, orderId, numbers);
    },
  );
}

/**
 * They said yes: the quote becomes an order at the prices it named. Its day is the one wished for where that can be met,
 * else the one that was promised.
 */
export async function acceptQuote(
  workshop: Workshop,
  orderId: number,
  version: number | undefined,
  now: Date,
): Promise<Result<OrderRow>> {
  return await writeOnPlan(
    workshop,
    now,
    'orders: they said yes to a quote',
    (plan) => {
      const order = quoteIn(plan, orderId);
      const outlet = outletIn(plan, order.outletId);
      return succeed(reckon(plan, order, outlet, storedLines(plan, order, outlet), order.depositCents));
    },
    async (tx, { agreedCents, depositCents, promisedDay: dayNow }, plan) => {
      const { dueDay: wished, promisedDay: given, postDays } = quoteIn(plan, orderId);
      const promisedDay = given ?? dayNow;
      const isInTime = wished !== null && (promisedDay === null || wished >= promisedDay);
      const dueDay = isInTime ? wished : promisedDay;
      const arriveByDay = dueDay === null || postDays === null ? null : addDays(dueDay, postDays);
      const values = { state: 'agreed' as const, holds: false, dueDay, arriveByDay, promisedDay, depositCents };
      const order = await changeOrder(tx, orderId, values, version);
      await storePrices(tx, agreedCents);
      return order;
    },
  );
}

/** They said no: the quote is kept as a cancelled order. */
export async function declineQuote(
  workshop: Workshop,
  orderId: number,
  version: number | undefined,
  now: Date,
): Promise<OrderRow> {
  const plan = await readPlan(workshop, now);
  quoteIn(plan, orderId);
  return await cancelOrder(workshop, orderId, version, { day: plan.today, choice: null });
}
