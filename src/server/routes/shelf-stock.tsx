import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { readDonors } from '#flows/shelf/read-donors.ts';
import { readLeftovers } from '#flows/shelf/read-leftovers.ts';
import { pairsThatWait, readPairYarn, type ShortLot } from '#flows/shelf/short-pairs.ts';
import { changedMeanwhile, readStockList, takeStock } from '#flows/shelf/take-stock.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, valuesOf } from '#server/forms/fields.ts';
import { pairIdsIn, parseShort } from '#server/forms/shelf-short.ts';
import { parseStocktake } from '#server/forms/shelf-stocktake.ts';
import { renderPage } from '#server/render.tsx';
import { DonorsPage } from '#views/pages/shelf/donors-page.tsx';
import { LeftoversPage } from '#views/pages/shelf/leftovers-page.tsx';
import { StocktakePage, type StocktakePageProps } from '#views/pages/shelf/stocktake-page.tsx';

function countIn(text: string | undefined): number {
  return text !== undefined && /^\d{1,6}$/.test(text) ? Number(text) : 0;
}

/** The whole shelf at once: weighing all of it, what to use first, what became of given yarn. */
export function shelfStockRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showStocktake(
    c: Context<AppEnv>,
    values: FormValues,
    problems: readonly Problem[],
    more: { readonly taken?: StocktakePageProps['taken']; readonly short?: readonly ShortLot[] } = {},
  ) {
    const { shelf, places } = await readStockList(workshop);
    const { purpose, scaleStepG } = shelf.settings;
    const nameOf = new Map(
      places.flatMap(({ balls }) => balls.map(({ id, colour, number }) => [id, `${colour}, ball ${number}`] as const)),
    );
    const named = problems.map((problem) => {
      const name = nameOf.get(Number(/-(\d+)$/.exec(problem.path)?.[1]));
      return name === undefined ? problem : { ...problem, message: `${name}: ${problem.message}` };
    });
    const { taken = null, short = [] } = more;
    const isChanged = problems.some(({ code }) => code === changedMeanwhile);
    return renderPage(
      c,
      <StocktakePage {...{ purpose, places, scaleStepG, values, problems: named, short, taken }} />,
      isChanged ? 409 : problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/stocktake', async function showEmptyStocktake(c) {
    const [weighed, booked] = [countIn(c.req.query('weighed')), countIn(c.req.query('booked'))];
    if (weighed === 0 || booked > weighed) return showStocktake(c, {}, []);
    const ids = pairIdsIn(c.req.query('back') ?? '');
    const waiting = pairsThatWait(await workshop.store.read(readPairYarn)).filter(({ id }) => ids.includes(id));
    return showStocktake(c, {}, [], { taken: { weighed, booked, gaveBack: ids.length, waiting } });
  });

  routes.post('/stocktake', async function postStocktake(c) {
    const body: FormBody = await c.req.parseBody({ all: true });
    const { shelf, places } = await readStockList(workshop);
    const { settings } = shelf;
    const listed = places.flatMap(({ balls }) => balls);
    const { weighed, problems, answered } = parseStocktake(body, settings, listed);
    const shown = new Set(listed.map((ball) => ball.id));
    // A ball that was used up meanwhile has no row any more, so what was typed for it is told at the head of the list.
    const gone = weighed.filter(({ ballId }) => !shown.has(ballId));
    const goneProblems = gone.map(
      ({ path }): Problem => ({
        code: changedMeanwhile,
        path: 'balls',
        message: `A ball for which you typed ${body[path]} is used up or gone since the list was shown. Save again to book the others.`,
      }),
    );
    if (problems.length > 0 || gone.length > 0) {
      return showStocktake(c, valuesOf(body), [...problems, ...goneProblems, ...answered]);
    }
    const day = todayIn(now(), settings.timeZone);
    const taken = await takeStock(workshop, weighed, settings.scaleStepG * 1000, day, parseShort(body));
    if (!taken.ok) return showStocktake(c, valuesOf(body), [...taken.problems, ...answered], taken);
    const { value } = taken;
    const back = value.gaveBack.length === 0 ? '' : `&back=${value.gaveBack.join('.')}`;
    return c.redirect(`/shelf/stocktake?weighed=${value.weighed}&booked=${value.booked}${back}`, 303);
  });

  routes.get('/leftovers', async function showLeftovers(c) {
    const { plan, balls, expected } = await readLeftovers(workshop, now());
    return renderPage(c, <LeftoversPage purpose={plan.settings.purpose} balls={balls} expected={expected} />);
  });

  routes.get('/donors', async function showDonors(c) {
    const { shelf, accounts } = await readDonors(workshop);
    const today = todayIn(now(), shelf.settings.timeZone);
    return renderPage(c, <DonorsPage purpose={shelf.settings.purpose} today={today} accounts={accounts} />);
  });

  return routes;
}
