import { type PaymentKind, type PaymentWay, paidOf, standingPayments } from '#core/pricing/order-money.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatCents, formatDay } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeOrder, createPayment, findPayment, listPayments, type PaymentRow } from '#db/stores/orders.ts';
import { agreeOpenPrices, type PriceToAgree } from '#flows/orders/agree-prices.ts';
import { requireOrder } from '#flows/orders/open-order.ts';

export type PaymentEntry = {
  readonly cents: number;
  readonly day: Day;
  readonly how: PaymentWay;
  readonly kind: PaymentKind;
};

/** What the page showed on which a payment was typed. */
export type SeenMoney = {
  /** The last payment on it, 0 for none; undefined for a form that does not say. */
  readonly lastPaymentId: number | undefined;
  /** Lines without an agreed price, at the prices shown. */
  readonly prices: readonly PriceToAgree[];
  /** The deposit that was asked for. */
  readonly depositCents: number;
  readonly currency: string;
};

/** The code of the problem that somebody else was first. */
export const paidSince = 'paidSince';

async function paymentsOf(tx: Tx, orderId: number): Promise<PaymentRow[]> {
  return (await listPayments(tx)).filter((payment) => payment.orderId === orderId);
}

/** A sentence when no more can go back than came; null when it can. */
function sayTooMuch(cents: number, paidCents: number, currency: string): string | null {
  if (cents <= paidCents) return null;
  if (paidCents <= 0) return 'Nothing was paid for this order, so nothing can go back.';
  return `Enter at most ${formatCents(paidCents, currency)}: that is what was paid and is still here.`;
}

/**
 * Notes money that changed hands. With the first money for an order its prices are agreed: those that nobody had agreed
 * become the ones it was paid by, and with a deposit the deposit itself, which an extra added later does not raise. A payment noted since the page was shown is told first: the same form sent twice must not
 * pay twice.
 *
 * @throws {AppError} `notFound`
 */
export async function notePayment(
  workshop: Workshop,
  orderId: number,
  entry: PaymentEntry,
  { lastPaymentId, prices, depositCents, currency }: SeenMoney,
): Promise<Result<PaymentRow>> {
  return await workshop.store.write('orders: enter a payment', async (tx) => {
    const order = await requireOrder(tx, orderId);
    const last = (await paymentsOf(tx, orderId)).toSorted((a, b) => a.id - b.id).at(-1);
    if (last && lastPaymentId !== undefined && last.id > lastPaymentId) {
      const amount = `${formatCents(last.cents, currency)} of ${formatDay(last.day)}`;
      const message = `Meanwhile ${amount} was noted. If this is another payment, note it now.`;
      return refuse({ code: paidSince, path: 'amount', message });
    }
    if (order.state === 'cancelled' && entry.kind !== 'returned') {
      const message = 'This order is cancelled: money can only go back. Take the cancelling back first.';
      return refuse({ code: 'cancelled', path: 'kind', message });
    }
    if (entry.kind === 'returned') {
      const message = sayTooMuch(entry.cents, paidOf(await paymentsOf(tx, orderId)), currency);
      if (message !== null) return refuse({ code: 'tooMuchBack', path: 'amount', message });
    } else {
      await agreeOpenPrices(tx, prices);
      const isFirst = entry.kind === 'deposit' && order.depositCents === null;
      if (isFirst) await changeOrder(tx, orderId, { depositCents });
    }
    return succeed(await createPayment(tx, { orderId, ...entry, reversesId: null }));
  });
}

/** Says that a payment never was: by a row that reverses it, for money is never rubbed out. @throws {AppError} */
export async function undoPayment(
  workshop: Workshop,
  orderId: number,
  paymentId: number,
  today: Day,
): Promise<PaymentRow> {
  return await workshop.store.write('orders: undo a payment', async (tx) => {
    const payment = await findPayment(tx, paymentId);
    if (payment?.orderId !== orderId) {
      throw new AppError('notFound', 'That payment is not here. Look at the order again.');
    }
    if (!standingPayments(await paymentsOf(tx, orderId)).some(({ id }) => id === paymentId)) {
      throw new AppError('conflict', 'This payment was undone already. Look at the order again.');
    }
    const { kind, cents, how } = payment;
    return await createPayment(tx, { orderId, kind, cents, how, day: today, reversesId: paymentId });
  });
}

/** Gives all that was paid back, in another's transaction. */
export async function returnAll(tx: Tx, orderId: number, day: Day, how: PaymentWay): Promise<void> {
  const paidCents = paidOf(await paymentsOf(tx, orderId));
  if (paidCents > 0) {
    await createPayment(tx, { orderId, kind: 'returned', cents: paidCents, how, day, reversesId: null });
  }
}

/** What was paid for an order and is still here, in another's transaction. */
export async function paidIn(tx: Tx, orderId: number): Promise<number> {
  return paidOf(await paymentsOf(tx, orderId));
}
