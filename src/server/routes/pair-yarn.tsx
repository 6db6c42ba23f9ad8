import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { readPairToName } from '#flows/batch/finish-yarn.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { backIn, parseStep, parseYarnFrom } from '#server/forms/batch.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { PairYarnPage } from '#views/pages/batch/pair-yarn-page.tsx';

/** Where it is asked what a pair was knitted from, before the press that finishes it. */
export function pairYarnHref(pairId: number, step: string, back: string): string {
  return `/batch/pairs/${pairId}/yarn?${new URLSearchParams({ step, back })}`;
}

/** What a pair was knitted from that still waits for yarn when it is finished. */
export function pairYarnRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  function showYarn(
    c: Context<AppEnv>,
    workshopPlan: WorkshopPlan,
    values: FormValues,
    problems: readonly Problem[] = [],
  ) {
    const pair = readPairToName(workshopPlan, Number(c.req.param('id')));
    const { step = '', back = '' } = values;
    // A page shown again keeps the version it was first shown with: who was faster is noticed at the press.
    const version = Number(values.version ?? pair.version);
    return renderPage(
      c,
      <PairYarnPage
        {...pair}
        {...{ version, values, problems }}
        purpose={workshopPlan.settings.purpose}
        step={step || 'finish'}
        back={backIn(back)}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/:id{[0-9]+}/yarn', async function askYarn(c) {
    const { step = '', back = '' } = c.req.query();
    return showYarn(c, await readPlan(workshop, now()), { step, back });
  });
  routes.post('/:id{[0-9]+}/yarn', async function postYarnFrom(c) {
    const body: FormBody = await c.req.parseBody({ all: true });
    const workshopPlan = await readPlan(workshop, now());
    const pairId = Number(c.req.param('id'));
    const step = parseStep(body);
    const from = parseYarnFrom(body, readPairToName(workshopPlan, pairId).colours);
    if (!step.ok) return showYarn(c, workshopPlan, valuesOf(body), step.problems);
    if (!from.ok) return showYarn(c, workshopPlan, valuesOf(body), from.problems);
    const day = todayIn(now(), workshopPlan.settings.timeZone);
    await stepPair(workshop, pairId, step.value, day, readFields(body).version(), from.value);
    const back = backIn(textOf(body, 'back'));
    return c.redirect(back.startsWith('/cards') ? back : `${back}#pair-${pairId}`, 303);
  });

  return routes;
}
