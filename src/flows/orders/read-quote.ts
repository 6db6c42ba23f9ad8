import { placementKey } from '#core/buying/lots.ts';
import { linesPaid } from '#core/buying/prices.ts';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { type CareCard, careCardOf } from '#core/cards/care-card.ts';
import type { OrderMoney } from '#core/pricing/order-money.ts';
import { minutesMoreFor } from '#core/schedule/promise-help.ts';
import { AppError } from '#core/shared/app-error.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { formatDay, formatMinutes } from '#core/shared/format.ts';
import type { Workshop } from '#db/open.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { moneyOfOrder } from '#flows/orders/order-money.ts';
import { isRunOut } from '#flows/orders/progress.ts';
import { type QuotedPrice, quotedPrice } from '#flows/orders/quote-money.ts';
import { isHolding, type PlacedQuote, pairsOfQuote, placeQuote } from '#flows/orders/quote-place.ts';
import { type OrdersSource, type OrderView, readOrder } from '#flows/orders/read-orders.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

/** Yarn of one colour for a quote: what it takes, where that is, what is bought for it alone, and what stays over. */
export type QuoteYarn = {
  readonly colour: NamedColour;
  /** Likely grams of all its pairs. */
  readonly usesG: number;
  readonly fromShelfG: number;
  /** Dye lots of the shelf that it comes from. */
  readonly lotNames: readonly string[];
  /** Out of what is over of the yarn that the plan buys anyway. */
  readonly fromPlanG: number;
  /** Grams to be bought for it, and the packs that are. */
  readonly toBuyG: number;
  readonly packs: readonly {
    readonly shop: string;
    readonly packs: number;
    readonly ballG: number;
    readonly balls: number;
  }[];
  readonly boughtG: number;
  readonly boughtCents: number;
  /** Left over still of what the plan buys anyway. */
  readonly leftOfPlanG: number;
  /** Likely left of what was bought for it alone. */
  readonly leftOfBoughtG: number;
  /** Likely left on the shelf in the lots it takes from. */
  readonly leftOnShelfG: number;
  readonly isUnsold: boolean;
};

export type QuoteLineView = {
  readonly lineId: number;
  /** Null where the pair cannot be planned. */
  readonly price: QuotedPrice | null;
  /** The foot that its size stands for; null where it was measured. */
  readonly footLengthMm: number | null;
  readonly care: CareCard | null;
};

export type QuoteView = {
  readonly source: OrdersSource;
  readonly order: OrderView;
  readonly outlet: OutletRow;
  readonly contact: string | null;
  /** By line, in the order of the quote. */
  readonly lines: readonly QuoteLineView[];
  readonly money: OrderMoney;
  /** The day that was promised, or could be while nothing was. */
  readonly promisedDay: Day | null;
  /** The day as things stand now; null when it cannot be said. */
  readonly dayNow: Day | null;
  /** It was given: with prices, a day and a last day. */
  readonly isGiven: boolean;
  readonly isRunOut: boolean;
  readonly isHolding: boolean;
  /** The day it must be ready, or posted, to meet the wish; null without a wish. */
  readonly wishedDay: Day | null;
  readonly isWishMet: boolean;
  /** What would help to meet the wish. */
  readonly help: string | null;
  /** Where it is posted: the day it is there when it is posted on the day promised. */
  readonly arrivesDay: Day | null;
  readonly knitters: readonly string[];
  readonly minutes: number;
  readonly yarn: readonly QuoteYarn[];
  readonly yarnCents: number;
  readonly shippingCents: number;
  /** What a slower shop would save; null when it would save nothing. */
  readonly savesCents: number | null;
  readonly problems: readonly { readonly lineId: number; readonly message: string }[];
};

function yarnOf(source: OrdersSource, placed: PlacedQuote): QuoteYarn[] {
  const { rows, input } = source.plan;
  const named = coloursOf(rows);
  const shops = new Map(rows.suppliers.map((shop) => [shop.id, shop.name]));
  const offers = new Map(rows.offers.map((offer) => [offer.id, offer]));
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const leftMg = new Map(placed.lotsLeft.map((lot) => [lot.id, lot.freeMg]));
  const sums = new Map<
    number,
    { uses: number; shelf: number; plan: number; buy: number; lots: Set<number>; toCome: Set<number> }
  >();
  for (const { pair, yarn } of placed.wants.pairs) {
    for (const { yarnColourId, grams } of yarn) {
      const sum = sums.get(yarnColourId) ?? {
        uses: 0,
        shelf: 0,
        plan: 0,
        buy: 0,
        lots: new Set<number>(),
        toCome: new Set<number>(),
      };
      sums.set(yarnColourId, sum);
      const key = placementKey(pair.key, yarnColourId);
      // Rows of one dye lot count as the one that gives the most.
      const lot = placed.lotOf.get(key) ?? placed.placed.mixedOf.get(key)?.[0]?.lotId;
      sum.uses += grams;
      if (lot === undefined) sum.buy += grams;
      else if (lot < 0 || isOnWayLot(lot)) {
        sum.plan += grams;
        sum.toCome.add(lot);
      } else {
        sum.shelf += grams;
        sum.lots.add(lot);
      }
    }
  }
  return [...sums].map(([colourId, sum]) => {
    const bought = placed.lists.chosen.baskets.flatMap((basket) =>
      basket.lines
        .map((line, i) => ({ ...line, paidCents: linesPaid(basket)[i]! }))
        .filter((line) => line.yarnColourId === colourId),
    );
    const boughtG = bought.reduce((total, line) => total + line.grossMg, 0) / 1000;
    return {
      colour: named.get(colourId)!,
      usesG: sum.uses,
      fromShelfG: sum.shelf,
      lotNames: [...sum.lots].flatMap((id) => lots.get(id)?.dyeLot || []),
      fromPlanG: sum.plan,
      toBuyG: sum.buy,
      packs: bought.map(({ offerId, supplierId, packs }) => {
        const offer = offers.get(offerId);
        return {
          shop: shops.get(supplierId) ?? '',
          packs,
          ballG: (offer?.ballMg ?? 0) / 1000,
          balls: packs * (offer?.ballsPerPack ?? 1),
        };
      }),
      boughtG,
      boughtCents: bought.reduce((total, line) => total + line.paidCents, 0),
      leftOfPlanG: [...sum.toCome].reduce((total, id) => total + (leftMg.get(id) ?? 0) / 1000, 0),
      leftOfBoughtG: Math.max(0, boughtG - sum.buy),
      leftOnShelfG: [...sum.lots].reduce((total, id) => total + (leftMg.get(id) ?? 0) / 1000, 0),
      isUnsold: sum.buy > 0 && !input.offers.some((offer) => offer.yarnColourId === colourId),
    };
  });
}

/** What would have it done by the day wished for, and what would not. */
function helpFor(source: OrdersSource, { promiseDayWith, yarnDay }: PlacedQuote, wishedDay: Day): string {
  const { input } = source.plan;
  const { knitters } = input;
  if (yarnDay >= wishedDay && yarnDay > source.today) {
    return `Its yarn can be here on ${formatDay(yarnDay)} at the soonest. Another colour may be on the shelf.`;
  }
  const names = new Map(knitters.map((knitter) => [knitter.id, knitter.name]));
  const { knittingMinutesPerHour } = input.settings;
  const more = minutesMoreFor(knitters, wishedDay, promiseDayWith, knittingMinutesPerHour)
    .filter(({ minutesAWeekMore }) => minutesAWeekMore !== null)
    .map(({ knitterId, minutesAWeekMore }) => `${names.get(knitterId)} ${formatMinutes(minutesAWeekMore ?? 0)}`);
  if (more.length > 0) return `It could be with more knitting a week until then: ${more.join(', or ')}.`;
  const alone = promiseDayWith(knitters, true);
  if (alone === null) return 'Nobody has knitting time for it: enter hours under Knitters.';
  return alone > wishedDay
    ? `Even with nothing else on the needles it would be ${formatDay(alone)}.`
    : 'More hours of one knitter do not do it: fewer pairs would, or a later day for another order.';
}

function lineViewOf(
  source: OrdersSource,
  outlet: OutletRow,
  lineId: number,
  agreedCents: number | null,
): QuoteLineView {
  const { plan } = source;
  const kind = plan.kindOfLine.get(lineId);
  if (!kind) return { lineId, price: null, footLengthMm: null, care: null };
  const { yarns, foot } = kind.shape;
  const isMeasured = plan.rows.lines.find((line) => line.id === lineId)?.footId !== null;
  return {
    lineId,
    price: quotedPrice(plan, kind, outlet, agreedCents),
    footLengthMm: isMeasured ? null : (plan.footOfLine.get(lineId)?.figure.value ?? null),
    care: careCardOf(Object.values(yarns).flat(), foot.person),
  };
}

/** Whether a price and a day were offered: one that was only written down has none yet. */
function wasGiven({ row, lines }: OrderView): boolean {
  return row.promisedDay !== null || (row.validUntilDay !== null && lines.every((line) => line.agreedCents !== null));
}

/** A quote with all it says. @throws {AppError} `notFound` */
export async function readQuote(workshop: Workshop, now: Date, orderId: number): Promise<QuoteView> {
  const { source, order } = await readOrder(workshop, now, orderId);
  const { plan, today } = source;
  const { row } = order;
  const outlet = plan.rows.outlets.find((each) => each.id === order.outletId);
  if (!outlet) throw new AppError('notFound', 'The outlet of that quote is not here.');
  const isGiven = wasGiven(order);
  const placed = placeQuote(plan, { own: row, isAnew: false, lines: pairsOfQuote(plan, order.id) });
  const lineIds = order.lines.map((line) => line.id);
  const problems = plan.lineProblems.filter(({ lineId }) => lineIds.includes(lineId));
  const dayNow = problems.length > 0 ? null : placed.promiseDay;
  const promisedDay = isGiven ? row.promisedDay : dayNow;
  const wishedDay = row.dueDay;
  const isWishMet = wishedDay === null || (promisedDay !== null && promisedDay <= wishedDay);
  const names = new Map(plan.input.knitters.map((knitter) => [knitter.id, knitter.name]));
  const knitterIds = [...new Set(placed.assignments.flatMap((each) => each.knitterId ?? []))];
  const { chosen, cheaperButLate } = placed.lists;
  return {
    source,
    order,
    outlet,
    contact: plan.rows.customers.find((customer) => customer.id === row.customerId)?.contact ?? null,
    lines: order.lines.map((line) => lineViewOf(source, outlet, line.id, line.agreedCents)),
    money: moneyOfOrder(plan, order).money,
    promisedDay,
    dayNow,
    isGiven,
    isRunOut: isRunOut(row, today),
    isHolding: isHolding(row, today),
    wishedDay,
    isWishMet,
    help: isWishMet || wishedDay === null ? null : helpFor(source, placed, wishedDay),
    arrivesDay: row.postDays === null || promisedDay === null ? null : addDays(promisedDay, row.postDays),
    knitters: knitterIds.flatMap((id) => names.get(id) ?? []),
    minutes: placed.assignments.reduce((sum, each) => sum + each.minutes, 0),
    yarn: yarnOf(source, placed),
    yarnCents: chosen.totalCents,
    shippingCents: chosen.baskets.reduce((sum, basket) => sum + basket.shippingCents, 0),
    savesCents: cheaperButLate === null ? null : chosen.totalCents - cheaperButLate.totalCents,
    problems,
  };
}

/** A quote in the list of quotes. */
export type ListedQuote = {
  readonly order: OrderView;
  readonly totalCents: number;
  readonly promisedDay: Day | null;
  readonly validUntilDay: Day | null;
  readonly isGiven: boolean;
  readonly isRunOut: boolean;
  readonly isHolding: boolean;
};

/** All quotes, those that run out first leading; those that have run out last. */
export function quotesOf({ plan, orders, today }: OrdersSource): readonly ListedQuote[] {
  const never = '9999-99-99';
  return orders
    .filter((order) => order.state === 'asked')
    .map((order) => ({
      order,
      totalCents: moneyOfOrder(plan, order).money.totalCents,
      promisedDay: order.row.promisedDay,
      validUntilDay: order.row.validUntilDay,
      isGiven: wasGiven(order),
      isRunOut: isRunOut(order.row, today),
      isHolding: isHolding(order.row, today),
    }))
    .sort((a, b) => {
      if (a.isRunOut !== b.isRunOut) return a.isRunOut ? 1 : -1;
      const [one, other] = [a.validUntilDay ?? never, b.validUntilDay ?? never];
      if (one !== other) return one < other ? -1 : 1;
      return a.order.number - b.order.number;
    });
}
