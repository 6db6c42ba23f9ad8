import { type Context, Hono } from 'hono';
import { needleSizes, needleWords } from '#core/gauge/needle-words.ts';
import { AppError } from '#core/shared/app-error.ts';
import { measureForInput, type UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { fabrics } from '#core/styles/fabrics.ts';
import { type FootInHand, keepFirstFoot, readFirstFoot } from '#flows/knitters/first-foot.ts';
import { addSwatch, saveSwatch } from '#flows/knitters/save-swatch.ts';
import { readSwatchChanges } from '#flows/knitters/swatch-changes.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { firstFootValues, readFirstFootForm, readSwatchForm, swatchValues } from '#server/forms/knitters-swatch.ts';
import { renderPage } from '#server/render.tsx';
import { FirstFootPage } from '#views/pages/knitters/first-foot.tsx';
import { SwatchPage } from '#views/pages/knitters/swatch.tsx';
import { SwatchChangesPage } from '#views/pages/knitters/swatch-changes.tsx';

const newValues: FormValues = { strands: '1', fabric: 'stocking', isWashed: 'yes' };
/** A gauge is usually counted over this. */
const usualSide: Readonly<Record<UnitSystem, string>> = { metric: '10', imperial: '4' };
const needles = needleSizes.map(({ mm }) => needleWords(mm));

function optionsOf(rows: readonly { readonly id: number; readonly name: string }[]) {
  return rows.map(({ id, name }) => ({ value: String(id), words: name }));
}

function idOf(text: string | undefined): number | null {
  return /^[1-9]\d{0,14}$/.test(text ?? '') ? Number(text) : null;
}

/** Knitted squares, the first foot as one, and what they change. */
export function swatchRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const bodyOf = async (c: Context<AppEnv>) => (await c.req.parseBody({ all: true })) as FormBody;
  const changesOf = (id: number) => `/knitters/swatches/${id}/changes`;

  type Shown = { readonly values: FormValues; readonly problems?: readonly Problem[] };
  async function showSwatch(c: Context<AppEnv>, id: number | null, { values, problems = [] }: Shown) {
    const { rows } = await readPlan(workshop, now());
    const page = (
      <SwatchPage
        {...{ id, values, problems, needles }}
        knitters={optionsOf(rows.knitters)}
        yarns={optionsOf(rows.yarns)}
        fabrics={fabrics.map((fabric) => fabric.name)}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  async function choices() {
    const { rows, settings } = await readPlan(workshop, now());
    return {
      knitterIds: rows.knitters.map((each) => each.id),
      yarnIds: rows.yarns.map((each) => each.id),
      texOf: (id: number) => rows.yarns.find((each) => each.id === id)?.tex ?? 0,
      unitSystem: settings.unitSystem,
    };
  }

  routes.get('/new', async function showNewSwatch(c) {
    const { rows, settings } = await readPlan(workshop, now());
    const yarn = rows.yarns.find((each) => each.id === idOf(c.req.query('yarn')));
    const active = rows.knitters.filter((knitter) => knitter.isActive);
    const knitterId = c.req.query('knitter') ?? (active.length === 1 ? String(active[0]!.id) : '');
    const values = {
      ...newValues,
      knitterId,
      units: settings.unitSystem,
      width: usualSide[settings.unitSystem],
      height: usualSide[settings.unitSystem],
      scaleStepG: measureForInput(settings.scaleStepG, 'fineMassG', settings.unitSystem),
      ...(yarn ? { yarnId: String(yarn.id), strands: String(yarn.usualStrands) } : {}),
    };
    return showSwatch(c, null, { values });
  });

  routes.post('/', async function addOneSwatch(c) {
    const body = await bodyOf(c);
    const form = readSwatchForm(body, await choices());
    if (!form.ok) return showSwatch(c, null, { values: valuesOf(body), problems: form.problems });
    const { scaleStepG, ...entry } = form.value;
    return c.redirect(changesOf(await addSwatch(workshop, entry, scaleStepG)), 303);
  });

  function footPage(c: Context<AppEnv>, foot: FootInHand, { values, problems = [] }: Shown) {
    const { knitters } = foot.current.input;
    const page = <FirstFootPage {...{ foot, values, problems, needles }} knitters={optionsOf(knitters)} />;
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  routes.get('/first-foot', async function showFirstFoot(c) {
    const lineId = idOf(c.req.query('line')) ?? 0;
    const foot = await readFirstFoot(workshop, now(), lineId, idOf(c.req.query('knitter')));
    return footPage(c, foot, { values: firstFootValues(foot, foot.current.today) });
  });

  routes.post('/first-foot', async function addFirstFoot(c) {
    const body = await bodyOf(c);
    const lineId = idOf(textOf(body, 'line')) ?? 0;
    const foot = await readFirstFoot(workshop, now(), lineId, idOf(textOf(body, 'knitterId')));
    const form = readFirstFootForm(
      body,
      foot.current.input.knitters.map((knitter) => knitter.id),
      foot.current.settings.unitSystem,
    );
    const kept = form.ok ? await keepFirstFoot(workshop, foot, form.value) : form;
    if (kept.ok) return c.redirect(changesOf(kept.value), 303);
    return footPage(c, foot, { values: valuesOf(body), problems: kept.problems });
  });

  routes.get('/:id{[0-9]+}', async function showOneSwatch(c) {
    const id = Number(c.req.param('id'));
    const { rows, settings } = await readPlan(workshop, now());
    const row = rows.swatches.find((each) => each.id === id);
    if (!row) throw new AppError('notFound', 'That swatch is not here.');
    return showSwatch(c, id, { values: swatchValues(row, settings) });
  });

  routes.post('/:id{[0-9]+}', async function saveOneSwatch(c) {
    const id = Number(c.req.param('id'));
    const body = await bodyOf(c);
    const form = readSwatchForm(body, await choices());
    if (!form.ok) return showSwatch(c, id, { values: valuesOf(body), problems: form.problems });
    const { scaleStepG, ...entry } = form.value;
    await saveSwatch(workshop, id, entry, readFields(body).version(), scaleStepG);
    return c.redirect(changesOf(id), 303);
  });

  routes.get('/:id{[0-9]+}/changes', async function showChanges(c) {
    const id = Number(c.req.param('id'));
    return renderPage(c, <SwatchChangesPage id={id} changes={await readSwatchChanges(workshop, now(), id)} />);
  });

  return routes;
}
