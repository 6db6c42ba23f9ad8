import { type Context, Hono } from 'hono';
import { countOf, formatDay } from '#core/shared/format.ts';
import { exampleOrders, orderCsvWords } from '#flows/orders/example-orders.ts';
import { contentHashOf, importOrders } from '#flows/orders/import-orders.ts';
import type { LookAlike } from '#flows/orders/look-alikes.ts';
import { orderCsvColumns } from '#flows/orders/read-order-csv.ts';
import { type OrdersSource, readOrdersSource } from '#flows/orders/read-orders.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { readSentTable, writeCsv } from '#server/forms/csv.ts';
import { textOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { bodyOf } from '#server/routes/orders-common.ts';
import { ImportPage, type ImportPageProps, type LookAlikeView } from '#views/pages/orders/import.tsx';
import { lineTitle, orderTitle } from '#views/pages/orders/order-words.ts';

const mostFaults = 200;

/** The import of a table, and an example to begin from. */
export function ordersImportRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  type ImportParts = Partial<Omit<ImportPageProps, 'purpose' | 'columns'>>;
  async function importPage(c: Context<AppEnv>, parts: ImportParts, status: 200 | 409 | 422 = 200) {
    const { settings } = await readOrdersSource(workshop, now());
    const problems = parts.problems ?? [];
    const columnWords = orderCsvWords(settings.unitSystem);
    const columns = orderCsvColumns
      .filter((name) => name !== 'price' || settings.purpose !== 'give')
      .map((name) => ({ name, words: columnWords[name], isNeeded: name === 'size' || name === 'foot colour' }));
    const page = (
      <ImportPage
        {...{ text: '', fileName: '', lookAlikes: [], odd: [], contentHash: '', ...parts }}
        purpose={settings.purpose}
        columns={columns}
        problems={problems.slice(0, mostFaults)}
        faultCount={problems.length}
      />
    );
    return renderPage(c, page, status);
  }

  function lookAlikeViews(source: OrdersSource, lookAlikes: readonly LookAlike[]): LookAlikeView[] {
    const outlets = new Map(source.rows.outlets.map((outlet) => [outlet.id, outlet.name]));
    return lookAlikes.slice(0, mostFaults).map(({ parsed, stored }) => {
      const there = source.orders.find((order) => order.id === stored.id);
      const pairs = parsed.lines.reduce((sum, line) => sum + line.quantity, 0);
      const due = parsed.dueDay === null ? 'no day' : `due ${formatDay(parsed.dueDay)}`;
      const dueThere = stored.dueDay === null ? 'no day' : `due ${formatDay(stored.dueDay)}`;
      const whom = parsed.customerName ?? outlets.get(parsed.outletId) ?? '';
      return {
        rows: parsed.rows,
        imported: `${whom}, ${countOf(pairs, 'pair', 'pairs')}, ${due}`,
        storedHref: `/orders/${stored.id}`,
        stored: `${there ? orderTitle(there) : `Order ${stored.number}`}, ${there?.stateWords ?? stored.state}, ${dueThere}`,
        lines: (there?.lines ?? []).slice(0, 12).map(lineTitle),
      };
    });
  }

  routes.get('/', async function showImport(c) {
    return importPage(c, {});
  });

  routes.get('/example.csv', async function downloadExample(c) {
    const { words, today } = await readOrdersSource(workshop, now());
    c.header('Content-Type', 'text/csv; charset=utf-8');
    c.header('Content-Disposition', 'attachment; filename="orders.csv"');
    return c.body(writeCsv(exampleOrders(words.known, today)));
  });

  routes.post('/', async function importTable(c) {
    const body = await bodyOf(c);
    const { text, fileName, problem } = await readSentTable(body);
    if (problem !== null) {
      return importPage(c, { text, fileName, problems: [{ code: 'file', path: 'file', message: problem }] }, 422);
    }
    const confirmedHash = textOf(body, 'confirmed');
    const outcome = await importOrders(workshop, { text, fileName, confirmedHash }, now());
    switch (outcome.kind) {
      case 'imported':
        return c.redirect(
          `/orders?import=${outcome.importId}${outcome.readAsEu ? `&asEu=${outcome.readAsEu}` : ''}`,
          303,
        );
      case 'faulty':
        return importPage(c, { text, fileName, problems: outcome.problems }, 422);
      case 'earlier': {
        const { settings } = await readOrdersSource(workshop, now());
        const { id: importId, fileName: earlierName, atMs } = outcome.earlier;
        const day = todayIn(new Date(atMs), settings.timeZone);
        const earlier = { fileName: earlierName, day, href: `/orders?import=${importId}` };
        return importPage(c, { text, fileName, earlier }, 409);
      }
      case 'question': {
        const source = await readOrdersSource(workshop, now());
        const lookAlikes = lookAlikeViews(source, outcome.lookAlikes);
        return importPage(c, { text, fileName, lookAlikes, odd: outcome.odd, contentHash: contentHashOf(text) }, 422);
      }
    }
  });

  return routes;
}
