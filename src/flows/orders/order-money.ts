import { type OrderMoney, type OrderPayment, orderMoney, standingPayments } from '#core/pricing/order-money.ts';
import { type OrderWorth, orderWorth, type PairsOfOrder } from '#core/pricing/order-worth.ts';
import { formatCents } from '#core/shared/format.ts';
import type { OrderExtraRow, PaymentRow } from '#db/stores/orders.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import type { OrderView } from '#flows/orders/read-orders.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** A line as it is charged, with the line it is. */
export type MoneyLine = {
  readonly lineId: number;
  readonly quantity: number;
  /** What the outlet asks for a pair today; null where no price can be made. */
  readonly outletCents: number | null;
  readonly eachCents: number | null;
  readonly cents: number;
  readonly isAgreed: boolean;
};

export type PaymentView = PaymentRow & { readonly isStanding: boolean };

/** An order's money with all that it is made of. */
export type OrderMoneyView = {
  /**
   * Whether somebody owes for it. Pairs for a fair's table, for a shop that shows them, or to give are paid for when they
   * are sold, or never; once anything was charged or paid for one of them, it is charged like any other.
   */
  readonly isCharged: boolean;
  readonly money: OrderMoney;
  readonly lines: readonly MoneyLine[];
  readonly extras: readonly OrderExtraRow[];
  readonly payments: readonly PaymentView[];
  /** Null while a pair has no cost, or the order is cancelled. */
  readonly worth: OrderWorth | null;
  /** Some yarn has no price, so that less is left than `worth` says. */
  readonly isYarnPriceUnknown: boolean;
  readonly taxRatio: number;
  readonly isTaxIncluded: boolean;
  /** Names what the page showed: a payment typed on it is of this sum. */
  readonly seen: string;
};

type MoneyRows = {
  readonly extras: ReadonlyMap<number, readonly OrderExtraRow[]>;
  readonly payments: ReadonlyMap<number, readonly PaymentRow[]>;
  readonly outlets: ReadonlyMap<number, OutletRow>;
  /** By outlet and kind. */
  readonly prices: Map<number, Map<string, number | null>>;
};

function byOrder<R extends { readonly orderId: number }>(rows: readonly R[]): ReadonlyMap<number, readonly R[]> {
  const groups = new Map<number, R[]>();
  for (const row of rows) groups.set(row.orderId, [...(groups.get(row.orderId) ?? []), row]);
  return groups;
}

const known = new WeakMap<WorkshopPlan, MoneyRows>();

function rowsOf(plan: WorkshopPlan): MoneyRows {
  let rows = known.get(plan);
  if (!rows) {
    rows = {
      extras: byOrder(plan.rows.orderExtras),
      payments: byOrder(plan.rows.payments),
      outlets: new Map(plan.rows.outlets.map((outlet) => [outlet.id, outlet])),
      prices: new Map(),
    };
    known.set(plan, rows);
  }
  return rows;
}

/** What the outlet asks for a pair of a line today; null where the line cannot be planned or has no price. */
export function outletCentsOf(plan: WorkshopPlan, lineId: number, outletId: number): number | null {
  const kind = plan.kindOfLine.get(lineId);
  if (!kind) return null;
  const { prices } = rowsOf(plan);
  const atOutlet = prices.get(outletId) ?? new Map<string, number | null>();
  prices.set(outletId, atOutlet);
  let cents = atOutlet.get(kind.key);
  if (cents === undefined) {
    cents = priceOfPair(plan, kind, outletId).priceCents;
    atOutlet.set(kind.key, cents);
  }
  return cents;
}

function isChargedIn(order: OrderView, { outlets, extras, payments }: MoneyRows): boolean {
  const outlet = outlets.get(order.outletId)!;
  if (extras.has(order.id) || payments.has(order.id)) return true;
  // The postage of a gift is the giver's.
  if (order.row.postageCents !== null && outlet.kind !== 'gift') return true;
  if (outlet.kind === 'gift' || outlet.terms === 'sale or return') return false;
  return outlet.kind === 'order' || outlet.terms === 'wholesale' || order.customerName !== null;
}

/** What a line's pairs cost and take at the reference knitter; null where the cost of one of them is not known. */
function pairsOf(plan: WorkshopPlan, lines: readonly MoneyLine[]): PairsOfOrder[] | null {
  const pairs = lines.map(({ lineId, quantity }) => {
    const kind = plan.kindOfLine.get(lineId);
    const price = kind && priceOfKind(plan, kind);
    return price && !price.isCostUnknown ? { quantity, cost: price.cost, minutes: price.paidMinutes } : null;
  });
  return pairs.every((pair) => pair !== null) ? pairs : null;
}

function isUnpriced(plan: WorkshopPlan, lineId: number): boolean {
  const kind = plan.kindOfLine.get(lineId);
  return kind !== undefined && priceOfKind(plan, kind).isYarnPriceUnknown;
}

function reckon(plan: WorkshopPlan, order: OrderView) {
  const { row, state } = order;
  const rows = rowsOf(plan);
  const outlet = rows.outlets.get(order.outletId)!;
  const extras = rows.extras.get(order.id) ?? [];
  const payments = rows.payments.get(order.id) ?? [];
  const toCharge = order.lines.map(({ id, quantity, agreedCents }) => ({
    quantity,
    agreedCents,
    outletCents: state === 'cancelled' ? null : outletCentsOf(plan, id, order.outletId),
  }));
  const money = orderMoney({
    state,
    lines: toCharge,
    extras,
    payments,
    postageCents: row.postageCents,
    taxRatio: outlet.taxRatio,
    isTaxIncluded: outlet.isTaxIncluded,
    rounding: outlet.rounding,
    depositCents: row.depositCents,
    depositRatio: outlet.depositRatio,
    cashStepCents: plan.settings.cashStepCents,
  });
  return { money, toCharge, extras, payments, outlet };
}

/** An order's money, from the plan's own prices and the rows that stand. */
export function moneyOfOrder(plan: WorkshopPlan, order: OrderView): OrderMoneyView {
  const { money, toCharge, extras, payments, outlet } = reckon(plan, order);
  const lines = money.lines.map((line, index) => ({
    ...line,
    lineId: order.lines[index]!.id,
    quantity: order.lines[index]!.quantity,
    outletCents: toCharge[index]!.outletCents,
  }));
  const pairs = order.state === 'cancelled' ? null : pairsOf(plan, lines);
  const { overheadCentsPerHour } = plan.input.settings;
  const standing = new Set(standingPayments(payments));
  return {
    isCharged: isChargedIn(order, rowsOf(plan)),
    money,
    lines,
    extras,
    payments: payments.map((payment) => ({ ...payment, isStanding: standing.has(payment) })),
    worth: pairs && orderWorth(money, pairs, extras, outlet, overheadCentsPerHour),
    isYarnPriceUnknown: lines.some(({ lineId }) => isUnpriced(plan, lineId)),
    taxRatio: outlet.taxRatio,
    isTaxIncluded: outlet.isTaxIncluded,
    seen: seenText(payments, money.totalCents),
  };
}

/** What a page showed, in short: its last payment and what the order came to. */
export function seenText(payments: readonly Pick<OrderPayment, 'id'>[], totalCents: number): string {
  return `${Math.max(0, ...payments.map(({ id }) => id))}/${totalCents}`;
}

/** Money that should change hands now. */
export type DueMoney = {
  /** Below 0 when it is to go back to the customer. */
  readonly cents: number;
  /** `ready`: the pairs are finished or gone; `deposit`: it comes before they are begun. */
  readonly why: 'ready' | 'deposit' | 'back';
};

/** What an order should bring now, in words for a list; null for nothing. */
export function dueWords(due: DueMoney | null, currency: string): string | null {
  if (due === null) return null;
  if (due.why === 'back') return `gets ${formatCents(-due.cents, currency)} back`;
  return due.why === 'ready'
    ? `owes ${formatCents(due.cents, currency)}`
    : `owes a deposit of ${formatCents(due.cents, currency)}`;
}

/** What an order should bring now: all that is owed once its pairs are done or gone, the deposit before; null for nothing. */
export function dueNow(plan: WorkshopPlan, order: OrderView): DueMoney | null {
  if (order.state === 'asked' || !isChargedIn(order, rowsOf(plan))) return null;
  const { money } = reckon(plan, order);
  if (money.owedCents < 0) return { cents: money.owedCents, why: 'back' };
  const isReady = order.stateWords === 'done' || order.stateWords === 'handed over' || order.row.postedDay !== null;
  if (isReady) return money.owedCents > 0 ? { cents: money.owedCents, why: 'ready' } : null;
  return money.depositDueCents > 0 ? { cents: money.depositDueCents, why: 'deposit' } : null;
}
