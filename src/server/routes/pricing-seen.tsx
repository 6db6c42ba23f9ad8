import { type Context, Hono } from 'hono';
import type { Problem, Result } from '#core/shared/problem.ts';
import {
  addPriceSeen,
  dropPriceSeen,
  rangeOfSeen,
  readPricesSeen,
  type SeenEntry,
} from '#flows/pricing/prices-seen.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, valuesOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { SeenPage } from '#views/pages/pricing/seen.tsx';

function readSeenForm(body: FormBody, currency: string): Result<SeenEntry> {
  const form = readFields(body, currency);
  const entry = {
    what: form.text('what', { sentence: 'Enter what it was, like felted slippers, size 40', most: 120 }),
    place: form.text('place', { sentence: 'Enter where you saw it, like the harbour fair', most: 120 }),
    cents: form.money('price', { sentence: 'Enter the price you saw, like 42' }),
    day: form.day('day', { sentence: 'Choose the day you saw it' }),
  };
  return form.result(() => entry);
}

const idOf = (text: string) => (/^\d{1,15}$/.test(text) ? Number(text) : 0);

/** A note of what others ask. */
export function pricingSeenRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;

  async function showSeenPage(
    c: Context<AppEnv>,
    { problems = [], values }: { problems?: readonly Problem[]; values?: FormValues } = {},
  ) {
    const { settings, today } = await readPlan(workshop, now());
    const seen = await readPricesSeen(workshop);
    return renderPage(
      c,
      <SeenPage
        seen={seen}
        range={rangeOfSeen(seen)}
        values={values ?? { day: today }}
        problems={problems}
        currency={settings.currency}
        purpose={settings.purpose}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/', function showSeen(c) {
    return showSeenPage(c);
  });

  routes.post('/', async function noteSeen(c) {
    const body = await bodyOf(c);
    const form = readSeenForm(body, (await readPlan(workshop, now())).settings.currency);
    if (!form.ok) return showSeenPage(c, { problems: form.problems, values: valuesOf(body) });
    await addPriceSeen(workshop, form.value);
    return c.redirect('/pricing/seen', 303);
  });

  routes.post('/:id{[0-9]+}/remove', async function removeSeen(c) {
    await dropPriceSeen(workshop, idOf(c.req.param('id')), readFields(await bodyOf(c)).version());
    return c.redirect('/pricing/seen', 303);
  });

  return routes;
}
