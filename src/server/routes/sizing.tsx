import { type Context, Hono } from 'hono';
import type { Hand } from '#core/gauge/hand.ts';
import { AppError } from '#core/shared/app-error.ts';
import { measureForInput } from '#core/shared/measures.ts';
import { type Person, persons } from '#core/sizing/foot.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { dropBand, saveBand } from '#flows/sizing/save-band.ts';
import { type SizeChartRow, sharedSlippers, sizeChart, sizeChartTable } from '#flows/sizing/size-chart.ts';
import { styleSettings } from '#flows/sizing/style-settings.ts';
import { flatPiecesOf } from '#flows/styles/flat-pieces-of.ts';
import { workshopStyles } from '#flows/styles/read-styles.ts';
import { yarnChoices } from '#flows/try/try-pair.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { writeCsv } from '#server/forms/csv.ts';
import { readFields, valuesOf } from '#server/forms/fields.ts';
import { parseBand } from '#server/forms/sizing.ts';
import { renderPage } from '#server/render.tsx';
import { BandPage } from '#views/pages/sizing/band-page.tsx';
import { SizingPage, type SizingPageProps } from '#views/pages/sizing/sizing-page.tsx';

function handOf(current: WorkshopPlan, knitterId: number): Hand | undefined {
  const knitter = current.input.knitters.find((each) => each.id === knitterId) ?? current.input.knitters[0];
  return current.input.hands.find((hand) => hand.key === knitter?.handKey);
}

function chartProps(c: Context<AppEnv>, current: WorkshopPlan): SizingPageProps & { readonly sizes: SizeChartRow[] } {
  const { rows, settings, input } = current;
  const styles = workshopStyles(rows);
  const chosen = styles.find((each) => String(each.id) === c.req.query('style')) ?? styles[0];
  const style = chosen && { versionId: chosen.versionId, name: chosen.name, body: chosen.body };
  const person: Person = persons.find((each) => each === c.req.query('person')) ?? 'woman';
  const yarns = yarnChoices(current);
  const yarn = yarns.find((each) => each.value === c.req.query('yarn')) ?? yarns[0]!;
  const knitterId = Number(c.req.query('knitter') ?? input.referenceKnitterId);
  const hand = handOf(current, knitterId);
  const bands = rows.bands.map((band) => ({ ...band, person: band.person ?? 'unknown' }));
  const chart =
    style && hand
      ? sizeChart({
          person,
          style,
          yarn,
          hand,
          usWomenOffset: settings.usWomenOffset,
          unitSystem: settings.unitSystem,
          bands: bands.map((band) => ({ ...band, lengthMm: (band.fromMm + band.toMm) / 2 })),
        })
      : { sizes: [], bands: [] };
  const sample = chart.sizes[Math.floor(chart.sizes.length / 2)];
  return {
    purpose: settings.purpose,
    style: chosen ? { id: chosen.id, name: chosen.name } : null,
    styles: styles.map(({ id, name }) => ({ value: String(id), words: name })),
    settings: style ? styleSettings(style.body, settings.unitSystem) : [],
    asked: { style: String(chosen?.id ?? ''), person, yarn: yarn.value, knitter: String(knitterId) },
    yarns,
    knitters: input.knitters.map((knitter) => ({ value: String(knitter.id), words: knitter.name })),
    sizes: chart.sizes,
    shared: sharedSlippers(chart.sizes),
    flat: sample && style ? flatPiecesOf(sample.spec, style.body) : [],
    bandRows: chart.bands,
    bands,
    hexes: yarn.hexes,
  };
}

/** Styles and sizes. */
export function sizingRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function findBand(id: number) {
    const { rows, settings } = await readPlan(workshop, now());
    const band = rows.bands.find((each) => each.id === id);
    if (!band) throw new AppError('notFound', 'This band is not here; it may have been removed.');
    return { band, settings };
  }

  routes.get('/', async function showSizing(c) {
    const current = await readPlan(workshop, now());
    return renderPage(c, <SizingPage {...chartProps(c, current)} />);
  });

  routes.get('/chart.csv', async function sendChart(c) {
    const current = await readPlan(workshop, now());
    const { style, sizes } = chartProps(c, current);
    if (!style) throw new AppError('notFound', 'There is no style yet, so there is no chart.');
    return c.body(writeCsv(sizeChartTable(sizes, current.settings.unitSystem)), 200, {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': 'attachment; filename="size-chart.csv"',
    });
  });

  routes.get('/bands/new', async function showNewBand(c) {
    const { settings } = await readPlan(workshop, now());
    return renderPage(c, <BandPage purpose={settings.purpose} id={null} values={{ person: 'unknown' }} />);
  });

  routes.post('/bands', async function addBand(c) {
    const body = await c.req.parseBody({ all: true });
    const { settings } = await readPlan(workshop, now());
    const parsed = parseBand(body, settings.unitSystem);
    const saved = parsed.ok ? await saveBand(workshop, parsed.value, null) : parsed;
    if (saved.ok) return c.redirect('/sizing', 303);
    const page = <BandPage purpose={settings.purpose} id={null} values={valuesOf(body)} problems={saved.problems} />;
    return renderPage(c, page, 422);
  });

  routes.get('/bands/:id', async function showBand(c) {
    const { band, settings } = await findBand(Number(c.req.param('id')));
    const values = {
      name: band.name,
      person: band.person ?? 'unknown',
      units: settings.unitSystem,
      from: measureForInput(band.fromMm, 'lengthMm', settings.unitSystem),
      to: measureForInput(band.toMm, 'lengthMm', settings.unitSystem),
      version: String(band.version),
    };
    return renderPage(c, <BandPage purpose={settings.purpose} id={band.id} values={values} />);
  });

  routes.post('/bands/:id', async function changeBand(c) {
    const id = Number(c.req.param('id'));
    const body = await c.req.parseBody({ all: true });
    const { band, settings } = await findBand(id);
    const parsed = parseBand(body, settings.unitSystem, band);
    const version = readFields(body).version() ?? 0;
    const saved = parsed.ok ? await saveBand(workshop, parsed.value, { id, version }) : parsed;
    if (saved.ok) return c.redirect('/sizing', 303);
    const page = <BandPage purpose={settings.purpose} id={id} values={valuesOf(body)} problems={saved.problems} />;
    return renderPage(c, page, 422);
  });

  routes.post('/bands/:id/remove', async function removeBand(c) {
    const id = Number(c.req.param('id'));
    const { band } = await findBand(id);
    const body = await c.req.parseBody({ all: true });
    await dropBand(workshop, id, readFields(body).version() ?? band.version);
    return c.redirect('/sizing', 303);
  });

  return routes;
}
