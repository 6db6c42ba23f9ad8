import type { Context } from 'hono';
import { childFibreWords } from '#core/gauge/fibre-words.ts';
import { pagingOf } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { ExtraRow } from '#db/stores/orders.ts';
import { readUsualExtras } from '#flows/orders/extras.ts';
import { footCountsOf } from '#flows/orders/line-working.ts';
import { oddPricesOf } from '#flows/orders/odd-prices.ts';
import { type Forecast, forecastOf } from '#flows/orders/order-forecast.ts';
import { moneyOfOrder } from '#flows/orders/order-money.ts';
import { parcelOf, postByOf } from '#flows/orders/parcel.ts';
import { type OrdersSource, type OrderView, readOrder } from '#flows/orders/read-orders.ts';
import { sizeColourTable } from '#flows/orders/size-colour-table.ts';
import { shortOfLeast } from '#flows/pricing/read-shops.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderPage } from '#server/render.tsx';
import type { OrderMoneyProps, RefusedForm } from '#views/pages/orders/money-types.ts';
import { OrderPage } from '#views/pages/orders/order.tsx';

type Shown = {
  readonly problems?: readonly Problem[];
  /** A form about money or the post that was not taken. */
  readonly refused?: RefusedForm;
  readonly status?: 409 | 422;
};

/** Everything about an order's money and its way there. */
function moneyPropsOf(
  source: OrdersSource,
  order: OrderView,
  forecast: Forecast,
  usualExtras: readonly ExtraRow[],
): Omit<OrderMoneyProps, 'refused' | 'isCancelling'> {
  const { plan, settings, today, rows } = source;
  const view = moneyOfOrder(plan, order);
  const { row } = order;
  return {
    orderId: order.id,
    version: order.version,
    state: order.state,
    isReady: order.stateWords === 'done' || order.stateWords === 'handed over' || row.postedDay !== null,
    isGiving: settings.purpose === 'give',
    currency: settings.currency,
    today,
    outletName: order.outletName,
    outletKind: rows.outlets.find((outlet) => outlet.id === order.outletId)?.kind ?? 'order',
    wageCents: settings.wageCentsPerHour,
    ...view,
    lines: view.lines.map((line, index) => {
      const { version, size, colours } = order.lines[index]!;
      return { ...line, version, name: size, colours: [...new Set(colours.map(({ name }) => name))].join(' and ') };
    }),
    usualExtras,
    post: {
      ...parcelOf(plan, order),
      postageCents: row.postageCents,
      postDays: row.postDays,
      arriveByDay: row.arriveByDay,
      address: row.address,
      postedDay: row.postedDay,
      postBy: postByOf(order, today),
      readyDay: forecast.readyDay,
    },
  };
}

/** The page of an order, as it is or with what is wrong with a form on it. */
export async function showOrderPage(
  c: Context<AppEnv>,
  { workshop, now }: AppDeps,
  orderId: number,
  { problems = [], refused, status = 422 }: Shown = {},
) {
  const { source, order } = await readOrder(workshop, now(), orderId);
  const lineIds = order.lines.map((line) => line.id);
  const { lineProblems } = source.plan;
  const forecast = forecastOf(source, lineIds, order.dueDay);
  const all = refused?.problems ?? problems;
  return renderPage(
    c,
    <OrderPage
      purpose={source.settings.purpose}
      currency={source.settings.currency}
      {...{ order, forecast }}
      linePaging={pagingOf(order.lines.length, pageWish(c))}
      pageHref={pageHrefs(`/orders/${order.id}`)}
      problems={all}
      counts={footCountsOf(source, lineIds)}
      cautionOf={(lineId) => {
        const kind = source.plan.kindOfLine.get(lineId);
        return kind ? childFibreWords(kind.shape) : null;
      }}
      lineProblems={lineProblems.filter((problem) => lineIds.includes(problem.lineId))}
      table={sizeColourTable(order.lines)}
      oddPrices={order.state === 'cancelled' ? [] : oddPricesOf(source.plan, order)}
      short={order.state === 'cancelled' ? null : shortOfLeast(source.plan, order.outletId, order.progress.ordered)}
      money={{
        ...moneyPropsOf(source, order, forecast, await readUsualExtras(workshop)),
        isCancelling: c.req.query('cancel') === 'yes',
        refused: refused ?? null,
      }}
    />,
    all.length > 0 ? status : 200,
  );
}
