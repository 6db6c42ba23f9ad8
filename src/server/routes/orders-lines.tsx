import { Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { changeLineEntry, removeLineEntry } from '#flows/orders/change-line.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { lastUsedOf } from '#flows/orders/last-used.ts';
import { lineWorkingOf } from '#flows/orders/line-working.ts';
import { forecastOf } from '#flows/orders/order-forecast.ts';
import { type OrdersSource, readLine } from '#flows/orders/read-orders.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormValues, valuesOf } from '#server/forms/fields.ts';
import { parseLine, strandNoteOf, valuesForNewLine, valuesOfLine, versionIn } from '#server/forms/orders.ts';
import { type Difference, differencesOf } from '#server/forms/orders-differences.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf, id, idOf, namesOf, unlessConflict } from '#server/routes/orders-common.ts';
import { LinePage } from '#views/pages/orders/line.tsx';
import { LineFormPage } from '#views/pages/orders/new.tsx';
import { orderTitle } from '#views/pages/orders/order-words.ts';

/** One line: its page, its form, and taking it away. */
export function orderLinesRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get(`/${id}`, async function showLine(c) {
    const { source, order, line, row } = await readLine(workshop, now(), idOf(c));
    const asked = c.req.query('knitter') ?? '';
    const knitterId = /^[1-9]\d{0,14}$/.test(asked) ? Number(asked) : row.knitterId;
    const { working, problem } = lineWorkingOf(source, line.id, order.outletId, knitterId);
    const forecast = forecastOf(source, [line.id], order.dueDay);
    const colours = new Map(source.words.known.colours.map((colour) => [colour.id, colour]));
    const yarn = (working?.yarn ?? []).map((each) => {
      const { name = '', yarnName = '', hexes = [] } = colours.get(each.yarnColourId) ?? {};
      return { ...each, name, yarnName, hexes };
    });
    return renderPage(
      c,
      <LinePage
        purpose={source.settings.purpose}
        currency={source.settings.currency}
        {...{ order, line, problem }}
        outletId={order.outletId}
        readyDay={forecast.readyDay}
        isLate={forecast.isLate}
        reason={forecast.reason}
        working={working && { ...working, yarn }}
        hexesOf={(role) => line.colours.find((colour) => colour.role === role)?.hexes ?? line.colours[0]?.hexes ?? []}
      />,
    );
  });

  type LineFormView = {
    readonly id: number;
    readonly version: number;
    readonly title: string;
    readonly orderId: number;
    readonly entry: LineEntry | null;
  };

  function lineForm(
    source: OrdersSource,
    view: LineFormView,
    values: FormValues,
    problems: readonly Problem[],
    differences: readonly Difference[] | null = null,
  ) {
    return (
      <LineFormPage
        names={namesOf(source)}
        {...{ values, problems, differences }}
        title="Change the line"
        where={view.title}
        action={`/orders/lines/${view.id}`}
        backHref={`/orders/${view.orderId}`}
        version={view.version}
        saveWords="Save the line"
        strandNote={strandNoteOf(view.entry, source.words.known)}
      />
    );
  }

  routes.get(`/${id}/edit`, async function showEditLine(c) {
    const { source, order, line, entry } = await readLine(workshop, now(), idOf(c));
    const { known } = source.words;
    const last = lastUsedOf(source.rows);
    const values = entry ? valuesOfLine(entry, known, last) : valuesForNewLine(known, last);
    return renderPage(c, lineForm(source, { ...line, entry, orderId: order.id, title: orderTitle(order) }, values, []));
  });

  routes.post(`/${id}`, async function saveLine(c) {
    const body = await bodyOf(c);
    const typed = valuesOf(body);
    const { source, order, line, entry } = await readLine(workshop, now(), idOf(c));
    const view = { ...line, entry, orderId: order.id, title: orderTitle(order) };
    const parsed = parseLine(body, source.words.known, entry);
    if (!parsed.ok) {
      const shown = { ...view, version: versionIn(body) ?? line.version };
      return renderPage(c, lineForm(source, shown, typed, parsed.problems), 422);
    }
    const saved = await unlessConflict(() => changeLineEntry(workshop, line.id, parsed.value, versionIn(body)));
    if (saved) return c.redirect(`/orders/${order.id}`, 303);
    const fresh = await readLine(workshop, now(), line.id);
    const { known } = fresh.source.words;
    const stored = fresh.entry ? valuesOfLine(fresh.entry, known, lastUsedOf(fresh.source.rows)) : {};
    const shown = { ...view, version: fresh.line.version };
    return renderPage(c, lineForm(fresh.source, shown, typed, [], differencesOf(stored, typed, known)), 409);
  });

  routes.post(`/${id}/remove`, async function removeLine(c) {
    const body = await bodyOf(c);
    const line = await removeLineEntry(workshop, idOf(c), versionIn(body));
    return c.redirect(`/orders/${line.orderId}`, 303);
  });

  return routes;
}
