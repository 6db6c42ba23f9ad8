import { type Context, Hono } from 'hono';
import { formatCents } from '#core/shared/format.ts';
import { rowsOnScreen } from '#core/shared/paging.ts';
import type { Problem, Result } from '#core/shared/problem.ts';
import { agreePrices } from '#flows/orders/agree-prices.ts';
import { cancelOrder } from '#flows/orders/cancel-order.ts';
import { addOrderExtra, addUsualExtra, dropOrderExtra } from '#flows/orders/extras.ts';
import { moneyOfOrder, type OrderMoneyView } from '#flows/orders/order-money.ts';
import { parcelOf } from '#flows/orders/parcel.ts';
import { notePayment, paidSince, undoPayment } from '#flows/orders/payments.ts';
import { markPosted, setPostage, takeBackPosted } from '#flows/orders/postage.ts';
import { readOrder } from '#flows/orders/read-orders.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, valuesOf } from '#server/forms/fields.ts';
import { versionIn } from '#server/forms/orders.ts';
import {
  readExtraForm,
  readPaidChoice,
  readPaymentForm,
  readPostageForm,
  readPostedForm,
  readPricesForm,
  readSeenMoney,
  usualIdIn,
} from '#server/forms/orders-money.ts';
import { bodyOf, id, idOf } from '#server/routes/orders-common.ts';
import { showOrderPage } from '#server/routes/orders-page.tsx';
import type { MoneyForm } from '#views/pages/orders/money-types.ts';

/** What the outlet asks for the lines without an agreed price. */
function openPrices({ lines }: OrderMoneyView) {
  return lines.flatMap(({ lineId, isAgreed, outletCents }) =>
    isAgreed || outletCents === null ? [] : [{ lineId, cents: outletCents }],
  );
}

/** Everything about an order's money and its way there: payments, extras, prices, postage, posted, cancelled. */
export function ordersMoneyRoutes(deps: AppDeps): Hono<AppEnv> {
  const { workshop, now } = deps;
  const routes = new Hono<AppEnv>();

  async function readMoney(orderId: number) {
    const { source, order } = await readOrder(workshop, now(), orderId);
    return { source, order, view: moneyOfOrder(source.plan, order), ...source.settings };
  }

  /** The order with the form as it was typed, and what is wrong with it. */
  function refuseForm(c: Context<AppEnv>, form: MoneyForm, body: FormBody, problems: readonly Problem[]) {
    const status = problems.some((problem) => problem.code === paidSince) ? 409 : 422;
    return showOrderPage(c, deps, idOf(c), { refused: { form, values: valuesOf(body), problems }, status });
  }

  /** Back to the part of the order that the form was in, or the form once more. */
  function answer(c: Context<AppEnv>, form: MoneyForm, body: FormBody, done: Result<unknown>, part = 'money') {
    if (done.ok) return c.redirect(`/orders/${idOf(c)}#${part}`, 303);
    return refuseForm(c, form, body, done.problems);
  }

  routes.post(`/${id}/payments`, async function postPayment(c) {
    const body = await bodyOf(c);
    const { source, order, view, currency } = await readMoney(idOf(c));
    const seen = readSeenMoney(body);
    const isNewPayment = view.payments.some((payment) => seen !== null && payment.id > seen.lastPaymentId);
    const { owedCents, owedInCashCents, withoutPrice } = view.money;
    const isAsked = withoutPrice === 0 && !isNewPayment && order.state !== 'cancelled';
    const owed = isAsked ? { cents: owedCents, inCashCents: owedInCashCents } : null;
    const parsed = readPaymentForm(body, currency, source.today, owed);
    if (!parsed.ok) return refuseForm(c, 'payment', body, parsed.problems);
    const { totalCents } = view.money;
    if (seen && !isNewPayment && seen.totalCents !== totalCents) {
      const [was, is] = [formatCents(seen.totalCents, currency), formatCents(totalCents, currency)];
      const message = `Meanwhile the order comes to ${is} and no longer to ${was}. Look at the amount, then note it again.`;
      return refuseForm(c, 'payment', body, [{ code: paidSince, path: 'amount', message }]);
    }
    const { depositCents } = view.money;
    const shown = { lastPaymentId: seen?.lastPaymentId, prices: openPrices(view), depositCents, currency };
    return answer(c, 'payment', body, await notePayment(workshop, idOf(c), parsed.value, shown));
  });

  routes.post(`/${id}/payments/:payment{[1-9][0-9]{0,14}}/undo`, async function postUndo(c) {
    const { source } = await readMoney(idOf(c));
    await undoPayment(workshop, idOf(c), Number(c.req.param('payment')), source.today);
    return c.redirect(`/orders/${idOf(c)}#money`, 303);
  });

  routes.post(`/${id}/extras`, async function postExtra(c) {
    const body = await bodyOf(c);
    const { currency } = await readMoney(idOf(c));
    const usualId = usualIdIn(body);
    if (usualId !== null) return answer(c, 'extra', body, await addUsualExtra(workshop, idOf(c), usualId));
    const parsed = readExtraForm(body, currency);
    return answer(c, 'extra', body, parsed.ok ? await addOrderExtra(workshop, idOf(c), parsed.value) : parsed);
  });

  routes.post(`/${id}/extras/:extra{[1-9][0-9]{0,14}}/remove`, async function postDropExtra(c) {
    const body = await bodyOf(c);
    await dropOrderExtra(workshop, idOf(c), Number(c.req.param('extra')), versionIn(body));
    return c.redirect(`/orders/${idOf(c)}#money`, 303);
  });

  routes.post(`/${id}/prices`, async function postPrices(c) {
    const body = await bodyOf(c);
    const { view, currency } = await readMoney(idOf(c));
    const open = view.lines.filter((line) => !line.isAgreed).map((line) => line.lineId);
    const parsed = readPricesForm(body, currency, open.slice(0, rowsOnScreen));
    return answer(c, 'prices', body, parsed.ok ? await agreePrices(workshop, idOf(c), parsed.value) : parsed);
  });

  routes.post(`/${id}/postage`, async function postPostage(c) {
    const body = await bodyOf(c);
    const { source, order, currency } = await readMoney(idOf(c));
    const parsed = readPostageForm(body, currency, parcelOf(source.plan, order).destinations, order, source.today);
    const saved = parsed.ok ? await setPostage(workshop, order.id, parsed.value, versionIn(body)) : parsed;
    return answer(c, 'postage', body, saved, 'post');
  });

  routes.post(`/${id}/posted`, async function postPosted(c) {
    const body = await bodyOf(c);
    const { source, order, view } = await readMoney(idOf(c));
    const parsed = readPostedForm(body, source.today);
    if (!parsed.ok) return refuseForm(c, 'posted', body, parsed.problems);
    const lineIds = order.lines.map((line) => line.id);
    const fromStock = source.plan.plan.wanted.fromStock.filter((each) => lineIds.includes(each.lineId));
    const shown = { fromStock, prices: openPrices(view), version: versionIn(body) };
    return answer(c, 'posted', body, await markPosted(workshop, order.id, parsed.value, shown), 'post');
  });

  routes.post(`/${id}/not-posted`, async function postNotPosted(c) {
    const body = await bodyOf(c);
    const { source } = await readMoney(idOf(c));
    const taken = await takeBackPosted(workshop, idOf(c), source.today, versionIn(body));
    return answer(c, 'posted', body, taken, 'post');
  });

  routes.post(`/${id}/cancel`, async function postCancel(c) {
    const body = await bodyOf(c);
    const { source, order, view } = await readMoney(idOf(c));
    const choice = readPaidChoice(body);
    if (choice === null && order.state !== 'cancelled' && view.money.paidCents > 0) {
      const message = 'Choose whether what was paid is kept or goes back.';
      return refuseForm(c, 'cancel', body, [{ code: 'paidOpen', path: 'paid', message }]);
    }
    await cancelOrder(workshop, order.id, versionIn(body), { day: source.today, choice });
    return c.redirect(`/orders/${order.id}`, 303);
  });

  return routes;
}
