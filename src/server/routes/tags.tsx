import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import { readTagChoices, readTags } from '#flows/pricing/tags.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { readTagForm, tagSystems, tagValues } from '#server/forms/tags.ts';
import { renderPage } from '#server/render.tsx';
import { TagPrintPage } from '#views/pages/pricing/tag-print.tsx';
import { TagsPage } from '#views/pages/pricing/tags.tsx';

/** Tags and care cards to print. */
export function tagsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showForm(c: Context<AppEnv>, problems: readonly Problem[] = []) {
    const workshopPlan = await readPlan(workshop, now());
    const choices = readTagChoices(workshopPlan);
    const page = (
      <TagsPage
        {...choices}
        systems={tagSystems}
        values={tagValues(c.req.queries(), choices)}
        purpose={workshopPlan.settings.purpose}
        problems={problems}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  routes.get('/', function showTags(c) {
    return showForm(c);
  });

  routes.get('/print', async function printTags(c) {
    const workshopPlan = await readPlan(workshop, now());
    const { purpose } = workshopPlan.settings;
    const query = c.req.queries();
    const form = readTagForm(query, readTagChoices(workshopPlan), purpose === 'give');
    if (!form.ok) return showForm(c, form.problems);
    const { wish, print } = form.value;
    const back = `/pricing/tags${new URL(c.req.url).search}`;
    return renderPage(c, <TagPrintPage {...readTags(workshopPlan, wish)} {...print} purpose={purpose} back={back} />);
  });

  return routes;
}
