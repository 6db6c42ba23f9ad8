import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { firstPage } from '#core/shared/paging.ts';
import { isEmpty } from '#flows/begin/is-empty.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { flatPiecesOf } from '#flows/styles/flat-pieces-of.ts';
import { cardOfPair } from '#flows/try/card-of-pair.ts';
import { keepPair } from '#flows/try/keep-pair.ts';
import {
  emptyTry,
  minutesMoreInColours,
  type TryValues,
  tryPair,
  unknownChoices,
  yarnChoices,
} from '#flows/try/try-pair.ts';
import { pageOfFigure } from '#flows/working/open-working.ts';
import { figureTree } from '#flows/working/pair-figures.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { textOf } from '#server/forms/fields.ts';
import { pageHrefs } from '#server/forms/page-wish.ts';
import { renderPage } from '#server/render.tsx';
import { TryPage } from '#views/pages/try/try-page.tsx';
import { FigurePage } from '#views/pages/working/figure-page.tsx';

const names = ['person', 'size', 'yarn', 'stitches', 'rows', 'style', 'knitter', 'units'] as const;

const stylesOf = (current: WorkshopPlan | null) =>
  (current?.rows.styles ?? []).map((style) => ({ value: String(style.id), words: style.name }));

const knittersOf = (current: WorkshopPlan | null) =>
  (current?.input.knitters ?? []).map(({ id, name }) => ({ value: String(id), words: name }));

function valuesFromQuery(c: Context<AppEnv>): TryValues {
  const asked = Object.fromEntries(names.map((name) => [name, (c.req.query(name) ?? '').slice(0, 200)]));
  return { ...emptyTry, ...asked, person: asked.person || emptyTry.person };
}

/** Try one pair: the form and its answer share one address, so that an answer can be kept as a bookmark. */
export function tryRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showTry(c) {
    const read = await readPlan(workshop, now());
    const current = isEmpty(read.rows) ? null : read;
    const values = valuesFromQuery(c);
    const shared = {
      values,
      yarns: yarnChoices(current),
      styles: stylesOf(current),
      knitters: knittersOf(current),
      isEmpty: current === null,
    };
    if (c.req.query('size') === undefined) {
      const problems = unknownChoices(values, current);
      return renderPage(c, <TryPage {...shared} problems={problems} />, problems.length > 0 ? 422 : 200);
    }
    const tried = tryPair(values, current);
    if (!tried.ok) return renderPage(c, <TryPage {...shared} problems={tried.problems} />, 422);
    const { working, shape } = tried.value;
    const shown = {
      ...tried.value,
      card: cardOfPair(tried.value, read.settings.unitSystem),
      minutesMoreInColours: minutesMoreInColours(tried.value),
      flat: flatPiecesOf(working.spec, shape.style.body),
    };
    return renderPage(c, <TryPage {...shared} tried={shown} />);
  });

  routes.get('/working/:figure', async function showTriedWorking(c) {
    const read = await readPlan(workshop, now());
    const current = isEmpty(read.rows) ? null : read;
    const values = valuesFromQuery(c);
    const tried = tryPair(values, current);
    if (!tried.ok) throw new AppError('notFound', 'This pair cannot be reckoned. Go back and enter it again.');
    const { shape, hand, size, rates } = tried.value;
    const found = figureTree(shape, hand, size.length, rates, c.req.param('figure'));
    if (found === null) throw new AppError('notFound', 'There is no figure of that name. Go back to the pair.');
    if (typeof found === 'string') throw new AppError('notFound', found);
    const back = { href: `/try?${new URLSearchParams(values)}`, words: 'Back to the pair' };
    const page = pageOfFigure(found, { where: 'Try one pair', back, currency: read.settings.currency });
    return renderPage(c, <FigurePage {...page} wish={firstPage} pageHref={pageHrefs(c.req.path)} />);
  });

  routes.post('/keep', async function keepTried(c) {
    const body = await c.req.parseBody({ all: true });
    const values = Object.fromEntries(names.map((name) => [name, textOf(body, name)])) as TryValues;
    const kept = await keepPair(workshop, now(), values);
    if (kept.ok) return c.redirect(`/orders/${kept.value.orderId}`, 303);
    const read = await readPlan(workshop, now());
    const current = isEmpty(read.rows) ? null : read;
    return renderPage(
      c,
      <TryPage
        values={values}
        yarns={yarnChoices(current)}
        styles={stylesOf(current)}
        knitters={knittersOf(current)}
        isEmpty={current === null}
        problems={kept.problems}
      />,
      422,
    );
  });

  return routes;
}
