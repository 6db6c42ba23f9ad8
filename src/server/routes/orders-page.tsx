import type { Context } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { footCountsOf } from '#flows/orders/line-working.ts';
import { forecastOf } from '#flows/orders/order-forecast.ts';
import { readOrder } from '#flows/orders/read-orders.ts';
import { sizeColourTable } from '#flows/orders/size-colour-table.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderPage } from '#server/render.tsx';
import { OrderPage } from '#views/pages/orders/order.tsx';

/** The page of an order, as it is or with what is wrong with a form on it. */
export async function showOrderPage(
  c: Context<AppEnv>,
  { workshop, now }: AppDeps,
  orderId: number,
  { problems = [] }: { readonly problems?: readonly Problem[] } = {},
) {
  const { source, order } = await readOrder(workshop, now(), orderId);
  const lineIds = order.lines.map((line) => line.id);
  const { lineProblems } = source.plan;
  return renderPage(
    c,
    <OrderPage
      purpose={source.settings.purpose}
      currency={source.settings.currency}
      {...{ order, problems }}
      counts={footCountsOf(source, lineIds)}
      forecast={forecastOf(source, lineIds, order.dueDay)}
      lineProblems={lineProblems.filter((problem) => lineIds.includes(problem.lineId))}
      table={sizeColourTable(order.lines)}
    />,
    problems.length > 0 ? 422 : 200,
  );
}
