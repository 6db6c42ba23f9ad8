import { type Context, Hono } from 'hono';
import { inARow } from '#core/cards/dialect.ts';
import { weightNames } from '#core/shelf/unlabelled.ts';
import { readShelf } from '#flows/shelf/read-shelf.ts';
import { saveUnlabelled, workOutUnlabelled } from '#flows/shelf/save-unlabelled.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, textOf, valuesOf } from '#server/forms/fields.ts';
import {
  firstRows,
  parseUnlabelled,
  rowCountAfter,
  rowCountOf,
  type UnlabelledForm,
} from '#server/forms/shelf-unlabelled.ts';
import { renderPage } from '#server/render.tsx';
import { UnlabelledPage } from '#views/pages/shelf/unlabelled-page.tsx';

const weightsOf = (categories: readonly number[]) =>
  inARow(
    categories.map((category) => weightNames[category]!),
    'or',
  );

/** Wool without labels: many balls in one table. */
export function shelfUnlabelledRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showForm(
    c: Context<AppEnv>,
    values: FormValues,
    rowCount: number,
    form: Pick<UnlabelledForm, 'good' | 'joinBy' | 'problems'> | null,
  ) {
    const { settings, places, donors } = await readShelf(workshop);
    const good = form?.good ?? [];
    const { balls, yarns } = workOutUnlabelled(
      good.map(({ ball }) => ball),
      form?.joinBy ?? 'thickness',
      settings,
    );
    const problems = form?.problems ?? [];
    return renderPage(
      c,
      <UnlabelledPage
        purpose={settings.purpose}
        rowCount={rowCount}
        values={values}
        problems={problems}
        worked={balls.map((ball, index) => ({
          ...ball,
          row: good[index]!.row,
          weights: weightsOf(ball.categories),
          countsAs: weightNames[ball.category]!,
          fits: ball.categories.map((category) => ({ value: String(category), words: weightNames[category]! })),
        }))}
        yarns={yarns.map((yarn) => ({
          name: yarn.name,
          balls: yarn.balls.length,
          weight: weightNames[yarn.category]!,
        }))}
        places={places}
        donors={donors}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/', async function showUnlabelled(c) {
    const { settings } = await readShelf(workshop);
    const values = { day: todayIn(now(), settings.timeZone), join: 'thickness', units: settings.unitSystem };
    return showForm(c, values, firstRows, null);
  });

  routes.post('/', async function postUnlabelled(c) {
    const body: FormBody = await c.req.parseBody({ all: true });
    const { settings } = await readShelf(workshop);
    const form = parseUnlabelled(body, todayIn(now(), settings.timeZone), settings);
    const action = textOf(body, 'do');
    if (action === 'more') return showForm(c, valuesOf(body), rowCountAfter(body), { ...form, problems: [] });
    if (action === 'work' || form.problems.length > 0) return showForm(c, valuesOf(body), rowCountOf(body), form);
    const { day, place, joinBy, good } = form;
    const rows = good.map(({ ball }) => ball);
    const saved = await saveUnlabelled(workshop, { rows, joinBy, day, place }, settings);
    if (!saved.ok) return showForm(c, valuesOf(body), rowCountOf(body), { ...form, problems: saved.problems });
    return c.redirect(`/shelf#yarn-${saved.value[0]}`, 303);
  });

  return routes;
}
