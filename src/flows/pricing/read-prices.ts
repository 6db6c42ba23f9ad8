import type { Kind } from '#core/batch/lines.ts';
import { keystone } from '#core/pricing/margin.ts';
import type { CostParts, Outlet } from '#core/pricing/outlet.ts';
import { priceOfSecond } from '#core/pricing/price-group.ts';
import type { KindPrice } from '#core/pricing/price-kinds.ts';
import { type PriceSheetRow, priceFor } from '#core/pricing/price-sheet.ts';
import { AppError } from '#core/shared/app-error.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { Workshop } from '#db/open.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import type { LineView } from '#flows/orders/line-words.ts';
import { type OrdersSource, readOrdersSource } from '#flows/orders/read-orders.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';

/** A pair of one size in its colours, with its cost and its price at each open outlet. */
export type PricedPair = {
  /** A line that asks for it; the address of its page and its workings. */
  readonly lineId: number;
  /** "woman EU 38", with style, fit and cuff where they are not the usual ones. */
  readonly size: string;
  readonly colours: LineView['colours'];
  readonly lengthMm: number;
  /** For one measured foot: its owner's name is nobody else's business. */
  readonly isMeasured: boolean;
  readonly minutes: number;
  /** The work that its price pays for: with its share of the pairs that go wrong. */
  readonly paidMinutes: number;
  readonly cost: CostParts;
  readonly isYarnPriceUnknown: boolean;
  readonly isCostUnknown: boolean;
  readonly prices: readonly PricedAt[];
};

/** What a pair is sold for at an outlet. */
export type PricedAt = {
  readonly outlet: OutletRow;
  readonly row: PriceSheetRow;
  /** The group of sizes that has one price there, and this pair with them. */
  readonly groupName: string | null;
  /** The price with a flaw. */
  readonly secondCents: number | null;
  /** What a shop that buys may ask itself: twice what it pays, the trade's rule of thumb; null elsewhere. */
  readonly suggestedCents: number | null;
};

/** Pairs of one size; what they have in common on a price sheet. */
export type PricedSize = { readonly size: string; readonly pairs: readonly PricedPair[] };

export type PricesView = {
  readonly plan: WorkshopPlan;
  readonly sizes: readonly PricedSize[];
  /** Outlets that take orders, by rank. */
  readonly outlets: readonly OutletRow[];
  readonly closed: readonly OutletRow[];
};

function sizeWordsOf(line: LineView): string {
  const fit = line.fit === 'usual' ? '' : line.fit;
  const cuff = line.cuff === 'short cuff' ? '' : line.cuff;
  const style = line.isUsualStyle ? '' : line.styleName;
  return [style, line.size, fit, cuff].filter(Boolean).join(', ');
}

function pricedPair(source: OrdersSource, line: LineView, kind: Kind, price: KindPrice): PricedPair {
  return {
    lineId: line.id,
    size: sizeWordsOf(line),
    colours: line.colours,
    lengthMm: kind.shape.foot.lengthMm,
    isMeasured: measuredLines(source.rows).has(line.id),
    minutes: price.minutes,
    cost: price.cost,
    isYarnPriceUnknown: price.isYarnPriceUnknown,
    isCostUnknown: price.isCostUnknown,
    paidMinutes: price.paidMinutes,
    prices: source.rows.outlets
      .filter((outlet) => !outlet.isClosed)
      .map((outlet) => {
        const { groupName, ...row } = priceOfPair(source.plan, kind, outlet.id);
        const secondCents =
          row.priceCents === null || outlet.kind === 'gift'
            ? null
            : priceOfSecond(row.priceCents, outlet.secondOffRatio, outlet.endingCents);
        const suggestedCents =
          outlet.terms === 'wholesale' && row.priceCents !== null ? keystone(row.priceCents) : null;
        return { outlet, row, groupName, secondCents, suggestedCents };
      }),
  };
}

function groupBySize(pairs: readonly PricedPair[]): PricedSize[] {
  const inOrder = [...pairs].sort((a, b) => a.lengthMm - b.lengthMm || a.lineId - b.lineId);
  return [...groupBy(inOrder, ({ size }) => size)].map(([size, grouped]) => ({ size, pairs: grouped }));
}

/** The first colour whose yarn has no price yet; null when all have one. */
export function colourWithoutPrice({ plan }: WorkshopPlan): number | null {
  return [...plan.gramPrices].find(([, price]) => price.from === 'unknown')?.[0] ?? null;
}

/** Cost and prices of every kind of pair in the open orders, smallest foot first. */
export async function readPrices(workshop: Workshop, now: Date): Promise<PricesView> {
  return pricesOf(await readOrdersSource(workshop, now));
}

const pricesOf = remember((source: OrdersSource): PricesView => {
  const { plan: workshopPlan, rows, orders } = source;
  const priceOf = new Map(workshopPlan.plan.prices.map((price) => [price.kindKey, price]));
  const seen = new Set<string>();
  const pairs: PricedPair[] = [];
  for (const line of orders.flatMap((order) => order.lines)) {
    const kind = workshopPlan.kindOfLine.get(line.id);
    const price = kind && priceOf.get(kind.key);
    if (!kind || !price || seen.has(kind.key)) continue;
    seen.add(kind.key);
    pairs.push(pricedPair(source, line, kind, price));
  }
  return {
    plan: workshopPlan,
    sizes: groupBySize(pairs),
    outlets: rows.outlets.filter((outlet) => !outlet.isClosed),
    closed: rows.outlets.filter((outlet) => outlet.isClosed),
  };
});

const measuredLines = remember(
  ({ lines }: OrdersSource['rows']) => new Set(lines.filter((line) => line.footId !== null).map((line) => line.id)),
);

/** A price tried on a pair at an outlet. */
export type TriedPrice = { readonly outlet: OutletRow; readonly row: PriceSheetRow };

export type PairPriceView = {
  readonly plan: WorkshopPlan;
  readonly pair: PricedPair;
  readonly orderId: number;
  readonly orderNumber: number;
  readonly agreedCents: number | null;
  readonly outletId: number;
};

/** One pair by a line that asks for it. @throws {AppError} `notFound` */
export async function readPairPrice(workshop: Workshop, now: Date, lineId: number): Promise<PairPriceView> {
  const source = await readOrdersSource(workshop, now);
  const order = source.orders.find((each) => each.lines.some((line) => line.id === lineId));
  const line = order?.lines.find((each) => each.id === lineId);
  if (!order || !line) throw new AppError('notFound', 'That pair is not here; its order may have been changed.');
  const kind = source.plan.kindOfLine.get(lineId);
  if (!kind) {
    const problem = source.plan.lineProblems.find((each) => each.lineId === lineId);
    throw new AppError('notFound', `This pair cannot be priced yet. ${problem?.message ?? ''}`.trim());
  }
  return {
    plan: source.plan,
    pair: pricedPair(source, line, kind, priceOfKind(source.plan, kind)),
    orderId: order.id,
    orderNumber: order.number,
    agreedCents: line.agreedCents,
    outletId: order.outletId,
  };
}

/** What a price that was typed leaves of a pair at an outlet. */
export function tryPrice({ plan, pair }: PairPriceView, outlet: OutletRow, priceCents: number): TriedPrice {
  const asked: Outlet = { ...outlet, priceRule: 'fixed', fixedPriceCents: priceCents, endingCents: null };
  return { outlet, row: priceFor(pair.cost, pair.paidMinutes, asked, plan.settings.wageCentsPerHour) };
}
