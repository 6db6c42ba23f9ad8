import { amountsOfSale, standingSales } from '#core/fair/day-account.ts';
import { type Booking, type SoldPart, type StyleShare, shareByStyle, taxOfPayments } from '#core/pricing/books.ts';
import { feeOf } from '#core/pricing/price.ts';
import { shareWithin } from '#core/pricing/share.ts';
import { shareSale } from '#core/pricing/shop-account.ts';
import { splitCents } from '#core/shared/money.ts';
import type { OrderRow, PaymentRow } from '#db/stores/orders.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import type { StoredPair } from '#flows/batch/started-pairs.ts';
import type { BookRows } from '#flows/books/book-rows.ts';
import { pairCoster } from '#flows/books/pair-costs.ts';
import { pairsOf } from '#flows/fair/fair-rows.ts';
import { termsOf } from '#flows/fair/read-day.ts';
import { outletCentsOf } from '#flows/orders/order-money.ts';
import { priceOfKind } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** A booking, and for income what it brought to which style. */
export type Entry = Booking & { readonly shares: readonly StyleShare[] };

const plain = { inCents: 0, outCents: 0, taxCents: 0, outlet: null, shares: [] } as const;

type Source = {
  readonly plan: WorkshopPlan;
  readonly rows: BookRows;
  readonly outlets: ReadonlyMap<number, OutletRow>;
  readonly costOf: ReturnType<typeof pairCoster>;
  readonly pairs: ReadonlyMap<number, StoredPair>;
  /** By style version. */
  readonly styleNames: ReadonlyMap<number, string>;
};

function sourceOf(plan: WorkshopPlan, rows: BookRows): Source {
  const pairs = new Map(pairsOf(rows.fair, plan));
  for (const pair of rows.leftPairs) pairs.set(pair.row.id, pair);
  const names = new Map(plan.rows.styles.map(({ id, name }) => [id, name]));
  return {
    plan,
    rows,
    outlets: new Map(plan.rows.outlets.map((outlet) => [outlet.id, outlet])),
    costOf: pairCoster(plan),
    pairs,
    styleNames: new Map(plan.rows.styleVersions.map(({ id, styleId }) => [id, names.get(styleId) ?? ''])),
  };
}

function partOfPair(source: Source, pairId: number | null, weightCents: number): SoldPart {
  const pair = pairId === null ? undefined : source.pairs.get(pairId);
  if (!pair) return { style: null, weightCents, costCents: 0, minutes: 0, pairs: 0 };
  const { yarnCents, materialsCents, minutes } = source.costOf(pair);
  const style = source.styleNames.get(pair.row.styleVersionId) ?? null;
  return { style, weightCents, costCents: yarnCents + materialsCents, minutes, pairs: 1 };
}

/** What an order is of, by price: its lines, and what belongs to no style. */
function partsOfOrder(source: Source, order: OrderRow): readonly SoldPart[] {
  const { rows, kindOfLine } = source.plan;
  const lines = rows.lines.filter(({ orderId }) => orderId === order.id);
  const styleNames = new Map(rows.styles.map(({ id, name }) => [id, name]));
  const parts = lines.map((line): SoldPart => {
    const kind = kindOfLine.get(line.id);
    const price = kind ? priceOfKind(source.plan, kind) : null;
    const each = line.agreedCents ?? outletCentsOf(source.plan, line.id, order.outletId) ?? 0;
    const costCents = price ? price.cost.yarnCents + price.cost.materialsCents : 0;
    return {
      style: styleNames.get(line.styleId) ?? null,
      weightCents: each * line.quantity,
      costCents: costCents * line.quantity,
      minutes: (price?.minutes ?? 0) * line.quantity,
      pairs: line.quantity,
    };
  });
  const besides = rows.orderExtras
    .filter(({ orderId }) => orderId === order.id)
    .reduce((sum, { cents }) => sum + cents, order.postageCents ?? 0);
  const nobodys = { style: null, weightCents: besides, costCents: 0, minutes: 0, pairs: 0 };
  return besides > 0 ? [...parts, nobodys] : parts;
}

function* orderPayments(source: Source): Generator<Entry> {
  const byOrder = new Map<number, PaymentRow[]>();
  for (const row of source.plan.rows.payments) byOrder.set(row.orderId, [...(byOrder.get(row.orderId) ?? []), row]);
  const orders = new Map(source.rows.orders.map((order) => [order.id, order]));
  for (const [orderId, payments] of byOrder) {
    const order = orders.get(orderId)!;
    const outlet = source.outlets.get(order.outletId)!;
    const byId = new Map(payments.map((payment) => [payment.id, payment]));
    const inOrder = [...payments].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.id - b.id));
    const signed = inOrder.map(({ kind, cents, reversesId }) => {
      const sign = (reversesId === null ? kind : byId.get(reversesId)!.kind) === 'returned' ? -1 : 1;
      return cents * sign * (reversesId === null ? 1 : -1);
    });
    const taxes = taxOfPayments(signed, outlet.taxRatio);
    const parts = order.state === 'cancelled' ? [] : partsOfOrder(source, order);
    const whole = parts.reduce((sum, { weightCents }) => sum + weightCents, 0);
    const withTax = outlet.isTaxIncluded ? whole : whole * (1 + outlet.taxRatio);
    for (const [index, payment] of inOrder.entries()) {
      const inCents = signed[index]!;
      const [taxCents, what] = [taxes[index]!, wordsOf(payment, order)];
      // A card takes its fee when it is paid with, and gives it back only where the payment never was.
      const isCard = payment.how === 'card' && (payment.reversesId !== null || payment.kind !== 'returned');
      const feeCents = isCard ? feeOf(payment.cents, outlet) * Math.sign(inCents) : 0;
      const ratio = withTax > 0 ? inCents / withTax : 0;
      const shares = shareByStyle(inCents - taxCents - feeCents, ratio, whole > 0 ? parts : []);
      yield { ...plain, day: payment.day, what, outlet: outlet.name, inCents, taxCents, shares };
      if (feeCents !== 0) {
        yield { ...plain, day: payment.day, what: `Card fee, ${what}`, outlet: outlet.name, outCents: feeCents };
      }
    }
  }
}

function wordsOf({ kind, reversesId }: PaymentRow, order: OrderRow): string {
  const words = { deposit: 'Deposit', balance: 'Payment', returned: 'Paid back' }[kind];
  return `${reversesId === null ? words : `Taken back: ${words.toLowerCase()}`}, order ${order.number}`;
}

function* sales(source: Source): Generator<Entry> {
  const { sales, lines } = source.rows.fair;
  const standing = new Set(standingSales(sales).map(({ id }) => id));
  for (const sale of sales) {
    const own = lines.filter(({ saleId }) => saleId === (sale.reversesId ?? sale.id));
    const outlet = source.outlets.get(sale.outletId)!;
    const prices = own.map(({ priceCents }) => priceCents);
    const { paidCents, taxCents, feeCents, netCents } = amountsOfSale(prices, sale.how, termsOf(outlet, source.plan));
    const sign = sale.reversesId === null ? 1 : -1;
    const names = own.map(({ what: each }) => each).join('; ');
    const what = `${sale.reversesId === null ? 'Sold' : 'Taken back: sold'}, ${names}`;
    const base = { ...plain, day: sale.day, outlet: outlet.name };
    const parts = own.map(({ pairId, priceCents }) => partOfPair(source, pairId, priceCents));
    const shares = standing.has(sale.id) ? shareByStyle(netCents, 1, parts) : [];
    yield { ...base, what, inCents: paidCents * sign + 0, taxCents: taxCents * sign + 0, shares };
    if (feeCents > 0) yield { ...base, what: `Card fee, ${names}`, outCents: feeCents * sign };
  }
}

/** What a shop pays is for what it sold first. */
function* shopPayments(source: Source): Generator<Entry> {
  const unpaid = new Map<number, { readonly pairId: number; readonly oursCents: number; left: number }[]>();
  const sold = source.plan.rows.placements.filter(({ soldDay }) => soldDay !== null);
  for (const { outletId, pairId, priceCents, shareRatio } of sold.sort((a, b) => (a.soldDay! < b.soldDay! ? -1 : 1))) {
    const { oursCents } = shareSale(priceCents, shareRatio);
    unpaid.set(outletId, [...(unpaid.get(outletId) ?? []), { pairId, oursCents, left: oursCents }]);
  }
  const inOrder = [...source.rows.shopPayments].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.id - b.id));
  for (const { outletId, cents, day } of inOrder) {
    const outlet = source.outlets.get(outletId)!;
    const taxCents = shareWithin(cents, outlet.taxRatio);
    let toShare = cents;
    const parts: SoldPart[] = [];
    for (const pair of unpaid.get(outletId) ?? []) {
      const taken = Math.min(pair.left, toShare);
      if (taken <= 0) continue;
      pair.left -= taken;
      toShare -= taken;
      const part = partOfPair(source, pair.pairId, taken);
      const ratio = taken / pair.oursCents;
      parts.push({
        ...part,
        costCents: part.costCents * ratio,
        minutes: part.minutes * ratio,
        pairs: part.pairs * ratio,
      });
    }
    if (toShare > 0) parts.push({ style: null, weightCents: toShare, costCents: 0, minutes: 0, pairs: 0 });
    const shares = shareByStyle(cents - taxCents, 1, parts);
    yield { ...plain, day, what: `${outlet.name} paid`, outlet: outlet.name, inCents: cents, taxCents, shares };
  }
}

function* tableFees(source: Source): Generator<Entry> {
  const { fairs, days } = source.rows.fair;
  for (const fair of fairs.filter(({ feeCents }) => feeCents > 0)) {
    const own = days.filter(({ fairId }) => fairId === fair.id).sort((a, b) => (a.day < b.day ? -1 : 1));
    if (own.length === 0) continue;
    const shares = splitCents(
      fair.feeCents,
      own.map(() => 1),
    );
    const outlet = source.outlets.get(fair.outletId)!.name;
    for (const [index, { day }] of own.entries()) {
      yield { ...plain, day, what: `Table, ${fair.name}`, outlet, outCents: shares[index]! };
    }
  }
}

function* yarn(source: Source): Generator<Entry> {
  const colours = coloursOf(source.plan.rows);
  for (const { gotDay, yarnColourId, paidCents, dyeLot } of source.plan.rows.lots) {
    const colour = colours.get(yarnColourId);
    if (paidCents === 0 || !colour) continue;
    const lot = dyeLot === null ? '' : `, lot ${dyeLot}`;
    yield { ...plain, day: gotDay, what: `Yarn, ${colour.yarn.name} ${colour.name}${lot}`, outCents: paidCents };
  }
}

/** All money in and out that is stored, as bookings; not in the order of days. */
export function bookingsOf(plan: WorkshopPlan, rows: BookRows): readonly Entry[] {
  const source = sourceOf(plan, rows);
  return [
    ...orderPayments(source),
    ...sales(source),
    ...shopPayments(source),
    ...tableFees(source),
    ...yarn(source),
    ...plan.rows.expenses.map((each) => ({ ...plain, day: each.day, what: each.kind, outCents: each.cents })),
  ];
}
