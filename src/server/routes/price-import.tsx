import { type Context, Hono } from 'hono';
import { formatCentsForInput } from '#core/shared/format.ts';
import { importPrices, readKnownForPrices } from '#flows/buying/import-prices.ts';
import { priceCsvColumns } from '#flows/buying/read-price-csv.ts';
import { readShops } from '#flows/buying/read-shops.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { readSentTable, writeCsv } from '#server/forms/csv.ts';
import { type FormBody, textOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { PriceImportPage, type PriceImportProps } from '#views/pages/buying/price-import-page.tsx';

const mostFaults = 200;
const mostShown = 100;

/** Shop prices out of a table. */
export function priceImportRoutes({ workshop }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showImport(
    c: Context<AppEnv>,
    parts: Partial<Pick<PriceImportProps, 'text' | 'problems' | 'count'>> = {},
    status = 200,
  ) {
    const { settings } = await readShops(workshop);
    const problems = parts.problems ?? [];
    const props = { text: '', count: null, saved: null, ...parts };
    return renderPage(
      c,
      <PriceImportPage
        {...props}
        purpose={settings.purpose}
        currency={settings.currency}
        saved={c.req.query('saved') ?? null}
        problems={problems.slice(0, mostFaults)}
        faultCount={problems.length}
      />,
      status as 200 | 422,
    );
  }

  routes.get('/', (c) => showImport(c));
  routes.get('/example.csv', async function downloadExample(c) {
    const { shops, yarns, colours, offers, currency } = await workshop.store.read(readKnownForPrices);
    const nameOf = (rows: readonly { id: number; name: string }[], id: number) =>
      rows.find((row) => row.id === id)?.name ?? '';
    const rows = offers.map((offer) => {
      const colour = colours.find(({ id }) => id === offer.yarnColourId)!;
      return [
        nameOf(shops, offer.supplierId),
        nameOf(yarns, colour.yarnId),
        colour.name,
        String(offer.ballMg / 1000),
        String(offer.ballsPerPack),
        formatCentsForInput(offer.priceCents, currency),
        offer.stockPacks === null ? '' : String(offer.stockPacks),
      ];
    });
    c.header('Content-Type', 'text/csv; charset=utf-8');
    c.header('Content-Disposition', 'attachment; filename="prices.csv"');
    return c.body(writeCsv([[...priceCsvColumns], ...rows]));
  });
  routes.post('/', async function postImport(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const { text, problem } = await readSentTable(body);
    if (problem !== null)
      return showImport(c, { text, problems: [{ code: 'file', path: 'file', message: problem }] }, 422);
    // A file that was chosen now is not the table that was counted.
    const hasFile = [body.file].flat().some((each) => each instanceof File && each.size > 0);
    const outcome = await importPrices(workshop, text, hasFile ? '' : textOf(body, 'seen'));
    if (outcome.kind === 'faulty') return showImport(c, { text, problems: outcome.problems }, 422);
    if (outcome.kind === 'saved') {
      const { added, changed } = outcome.changes;
      return c.redirect(`/buying/prices/import?saved=${added.length}-${changed.length}`, 303);
    }
    const { changes, seen, known } = outcome;
    const nameOf = (rows: readonly { id: number; name: string }[], id: number) =>
      rows.find((row) => row.id === id)?.name ?? '';
    const changed = changes.changed.slice(0, mostShown).map(({ entry, offer }) => ({
      row: entry.row,
      shop: nameOf(known.shops, entry.supplierId),
      colour: nameOf(known.colours, entry.yarnColourId),
      wasCents: offer.priceCents,
      isCents: entry.priceCents,
      wasStock: offer.stockPacks,
      isStock: entry.stockPacks === undefined ? offer.stockPacks : entry.stockPacks,
    }));
    const count = { added: changes.added.length, changed: changes.changed.length, unchanged: changes.unchanged };
    return showImport(c, { text, count: { ...count, seen, rows: changed } });
  });

  return routes;
}
