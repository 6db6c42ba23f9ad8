import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { sizeWords } from '#core/sizing/size-words.ts';
import { addGroup, dropGroup, readGroups, saveGroup } from '#flows/pricing/price-groups.ts';
import { readPrices } from '#flows/pricing/read-prices.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, valuesOf } from '#server/forms/fields.ts';
import { type GroupChoices, groupValues, readGroupForm } from '#server/forms/price-groups.ts';
import { renderPage } from '#server/render.tsx';
import { GroupPage, GroupsPage } from '#views/pages/pricing/groups.tsx';

const idOf = (text: string) => (/^\d{1,15}$/.test(text) ? Number(text) : 0);

function choicesOf({ rows, settings }: WorkshopPlan, keptOutletId?: number): GroupChoices {
  return {
    outletIds: rows.outlets
      .filter((outlet) => outlet.kind !== 'gift' && (!outlet.isClosed || outlet.id === keptOutletId))
      .map(({ id }) => id),
    styleIds: rows.styles.map(({ id }) => id),
    bands: rows.bands,
    currency: settings.currency,
    units: settings.unitSystem,
  };
}

/** One price for a run of sizes. */
export function pricingGroupsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;

  routes.get('/', async function showGroups(c) {
    const prices = await readPrices(workshop, now());
    const { currency, purpose } = prices.plan.settings;
    return renderPage(c, <GroupsPage groups={readGroups(prices)} currency={currency} purpose={purpose} />);
  });

  async function showGroupPage(
    c: Context<AppEnv>,
    id: number | null,
    { problems = [], values }: { problems?: readonly Problem[]; values?: FormValues } = {},
  ) {
    const prices = await readPrices(workshop, now());
    const { rows, settings } = prices.plan;
    const shown = id === null ? null : (readGroups(prices).find(({ group }) => group.id === id) ?? null);
    if (id !== null && !shown) throw new AppError('notFound', 'That price is not here; it may have been taken away.');
    const { outletIds } = choicesOf(prices.plan, shown?.group.outletId);
    const named = (each: { readonly id: number; readonly name: string }) => ({
      value: String(each.id),
      words: each.name,
    });
    const stored = shown ? groupValues(shown.group, settings.currency, settings.unitSystem) : {};
    return renderPage(
      c,
      <GroupPage
        shown={shown}
        values={values ?? stored}
        problems={problems}
        outlets={rows.outlets.filter((outlet) => outletIds.includes(outlet.id)).map(named)}
        styles={rows.styles.map(named)}
        bands={rows.bands.map(({ id: bandId, name, person }) => ({
          value: String(bandId),
          words: sizeWords({ by: 'band', person: person ?? 'unknown', name }),
        }))}
        currency={settings.currency}
        purpose={settings.purpose}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/new', function showNewGroup(c) {
    return showGroupPage(c, null);
  });
  routes.get('/:id{[0-9]+}', function showGroup(c) {
    return showGroupPage(c, idOf(c.req.param('id')));
  });

  routes.post('/', async function addOneGroup(c) {
    const body = await bodyOf(c);
    const form = readGroupForm(body, choicesOf(await readPlan(workshop, now())));
    if (!form.ok) return showGroupPage(c, null, { problems: form.problems, values: valuesOf(body) });
    return c.redirect(`/pricing/groups/${await addGroup(workshop, form.value)}`, 303);
  });

  routes.post('/:id{[0-9]+}', async function saveOneGroup(c) {
    const id = idOf(c.req.param('id'));
    const body = await bodyOf(c);
    const plan = await readPlan(workshop, now());
    const was = plan.rows.priceGroups.find((group) => group.id === id);
    const form = readGroupForm(body, choicesOf(plan, was?.outletId), was);
    if (!form.ok) return showGroupPage(c, id, { problems: form.problems, values: valuesOf(body) });
    await saveGroup(workshop, id, form.value, readFields(body).version());
    return c.redirect(`/pricing/groups/${id}`, 303);
  });

  routes.post('/:id{[0-9]+}/remove', async function removeOneGroup(c) {
    await dropGroup(workshop, idOf(c.req.param('id')), readFields(await bodyOf(c)).version());
    return c.redirect('/pricing/groups', 303);
  });

  return routes;
}
