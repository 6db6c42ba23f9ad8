import { Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { type Result, refuse } from '#core/shared/problem.ts';
import { fabrics } from '#core/styles/fabrics.ts';
import type { StyleBody } from '#core/styles/style.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { settingHelp, styleSettings } from '#flows/sizing/style-settings.ts';
import { missingStyles, type WorkshopStyle, workshopStyle, workshopStyles } from '#flows/styles/read-styles.ts';
import { firstSample, samplePair } from '#flows/styles/sample-pair.ts';
import { addOwnStyle, addShippedStyles, removeOwnStyle, saveStyle } from '#flows/styles/save-style.ts';
import { fabricNames, styleWords } from '#flows/styles/style-words.ts';
import { type TryValues, yarnChoices } from '#flows/try/try-pair.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { readSentTable } from '#server/forms/csv.ts';
import { type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { changeValues, commandIn, isSectionKind } from '#server/forms/style-commands.ts';
import { parseStyle } from '#server/forms/style-form.ts';
import { parseStyleJson, styleJson } from '#server/forms/style-json.ts';
import { styleValuesIn, styleValuesOf } from '#server/forms/style-values.ts';
import { renderFragment, renderPage } from '#server/render.tsx';
import { bodyOf, id, idOf, unlessConflict } from '#server/routes/orders-common.ts';
import { EditStylePage } from '#views/pages/styles/edit-page.tsx';
import { ImportStylePage } from '#views/pages/styles/import-page.tsx';
import { StylesPage } from '#views/pages/styles/list-page.tsx';
import { type PreviewProps, type SampleView, StylePreview } from '#views/pages/styles/sample.tsx';
import { StylePage } from '#views/pages/styles/style-page.tsx';

const sampleNames = ['person', 'size', 'yarn', 'stitches', 'rows', 'units'] as const;

/** The sample that was asked for; where nothing was, the style's first. */
function sampleValues(asked: FormValues, body: Pick<StyleBody, 'style'>, current: WorkshopPlan): TryValues {
  const typed = Object.fromEntries(sampleNames.map((name) => [name, (asked[name] ?? '').slice(0, 200)]));
  const first = asked.size === undefined ? firstSample(body, current.settings.unitSystem) : {};
  const yarn = typed.yarn || (yarnChoices(current)[0]?.value ?? '');
  return { ...(typed as Omit<TryValues, 'style' | 'knitter'>), ...first, yarn, style: '', knitter: '' };
}

function sampleOf(
  values: TryValues,
  current: WorkshopPlan,
  style: { readonly versionId: number; readonly body: StyleBody },
): Result<SampleView> {
  const pair = samplePair(values, current, style);
  if (!pair.ok) return pair;
  const { tried, grams, card, flat } = pair.value;
  return {
    ok: true,
    value: { spec: tried.working.spec, minutes: tried.minutes, grams, hexes: tried.yarn.hexes, card, flat },
  };
}

function previewOf(style: Result<StyleBody>, values: FormValues, current: WorkshopPlan): PreviewProps {
  if (!style.ok) return { sample: null, faults: style.problems };
  const sample = sampleOf(sampleValues(values, style.value, current), current, { versionId: 0, body: style.value });
  return sample.ok ? { sample: sample.value, faults: [] } : { sample: null, faults: sample.problems };
}

const yarnsOf = (current: WorkshopPlan) => yarnChoices(current).map(({ value, words }) => ({ value, words }));
const fabricOptions = fabrics.map(({ name }) => ({ value: name, words: fabricNames[name] ?? name }));

function notShipped(style: WorkshopStyle): WorkshopStyle {
  if (!style.isShipped) return style;
  throw new AppError('conflict', 'This style comes with the program and stays as it is. Copy it, and change the copy.');
}

/** The styles: list, page, copy, form, files. */
export function stylesRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showStyles(c) {
    const { rows, settings } = await readPlan(workshop, now());
    const styles = workshopStyles(rows).map((style) => ({ ...style, colours: styleWords(style.body).colours }));
    const missing = missingStyles(rows).map((body) => body.style);
    return renderPage(c, <StylesPage purpose={settings.purpose} styles={styles} missing={missing} />);
  });

  routes.post('/shipped', async function addShipped(c) {
    await addShippedStyles(workshop);
    return c.redirect('/styles', 303);
  });

  routes.get('/import', async function showImport(c) {
    const { settings } = await readPlan(workshop, now());
    return renderPage(c, <ImportStylePage purpose={settings.purpose} text="" problems={[]} />);
  });

  routes.post('/import', async function importStyle(c) {
    const { text, problem } = await readSentTable(await bodyOf(c));
    const message = 'Choose a file, or paste a style.';
    const parsed =
      text.trim() === ''
        ? refuse({ code: 'styleMissing', path: 'text', message: problem ?? message })
        : parseStyleJson(text);
    if (parsed.ok) {
      const added = await addOwnStyle(workshop, parsed.value);
      return c.redirect(`/styles/${added.id}`, 303);
    }
    const { settings } = await readPlan(workshop, now());
    return renderPage(c, <ImportStylePage purpose={settings.purpose} text={text} problems={parsed.problems} />, 422);
  });

  routes.post('/preview', async function showPreview(c) {
    const values = styleValuesIn(await bodyOf(c));
    const current = await readPlan(workshop, now());
    return renderFragment(c, <StylePreview {...previewOf(parseStyle(values), values, current)} />);
  });

  routes.get('/:file{[1-9][0-9]{0,14}\\.json}', async function sendStyle(c) {
    const { rows } = await readPlan(workshop, now());
    const style = workshopStyle(rows, Number.parseInt(c.req.param('file'), 10));
    const fileName =
      style.name
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-|-$/g, '') || 'style';
    return c.body(styleJson({ ...style.body, style: style.name }), 200, {
      'Content-Type': 'application/json; charset=utf-8',
      'Content-Disposition': `attachment; filename="${fileName}.json"`,
    });
  });

  routes.get(`/${id}`, async function showStyle(c) {
    const current = await readPlan(workshop, now());
    const style = workshopStyle(current.rows, idOf(c));
    const values = sampleValues(c.req.query(), style.body, current);
    const sample = sampleOf(values, current, style);
    const page = (
      <StylePage
        purpose={current.settings.purpose}
        style={{ ...style, make: style.body.make }}
        words={styleWords(style.body)}
        settings={styleSettings(style.body, current.settings.unitSystem)}
        values={values}
        yarns={yarnsOf(current)}
        problems={sample.ok ? [] : sample.problems}
        sample={sample.ok ? sample.value : null}
      />
    );
    return renderPage(c, page, sample.ok ? 200 : 422);
  });

  routes.post(`/${id}/copy`, async function copyStyle(c) {
    const { rows } = await readPlan(workshop, now());
    const style = workshopStyle(rows, idOf(c));
    const added = await addOwnStyle(workshop, { ...style.body, style: `${style.name}, my own` });
    return c.redirect(`/styles/${added.id}/edit`, 303);
  });

  routes.post(`/${id}/remove`, async function removeStyle(c) {
    const { rows } = await readPlan(workshop, now());
    const style = workshopStyle(rows, idOf(c));
    await removeOwnStyle(workshop, style, readFields(await bodyOf(c)).version() ?? style.version);
    return c.redirect('/styles', 303);
  });

  type Form = {
    readonly values: FormValues;
    readonly touched?: string;
    readonly problems?: readonly Problem[];
    readonly isOthersNewer?: boolean;
    readonly version?: number;
  };

  function editPage(current: WorkshopPlan, style: WorkshopStyle, form: Form) {
    const { values, touched = '', problems = [], isOthersNewer = false, version = style.version } = form;
    const { style: _, knitter: __, ...sample } = sampleValues(values, style.body, current);
    const stored = {
      ...styleValuesOf({ ...style.body, style: style.name }),
      ...sample,
      version: String(style.version),
    };
    return (
      <EditStylePage
        purpose={current.settings.purpose}
        {...{ id: style.id, name: style.name, version, touched, problems, isOthersNewer, settingHelp }}
        values={{ ...values, ...sample }}
        stored={stored}
        yarns={yarnsOf(current)}
        fabrics={fabricOptions}
        preview={previewOf(parseStyle(values), values, current)}
      />
    );
  }

  routes.get(`/${id}/edit`, async function showEdit(c) {
    const current = await readPlan(workshop, now());
    const style = notShipped(workshopStyle(current.rows, idOf(c)));
    const values = styleValuesOf({ ...style.body, style: style.name });
    return renderPage(c, editPage(current, style, { values }));
  });

  function commandOf(body: FormBody, values: FormValues): { values: FormValues; touched: string } | null {
    const command = commandIn(textOf(body, 'do'));
    if (!command) return null;
    const kind = textOf(body, command.path.replace(/sections$/, 'add'));
    return {
      values: changeValues(values, command, isSectionKind(kind) ? kind : 'work'),
      touched: command.path,
    };
  }

  routes.post(`/${id}/edit`, async function saveEdit(c) {
    const body = await bodyOf(c);
    const values = styleValuesIn(body);
    const current = await readPlan(workshop, now());
    const style = notShipped(workshopStyle(current.rows, idOf(c)));
    const version = readFields(body).version() ?? style.version;
    const changed = commandOf(body, values);
    if (changed) return renderPage(c, editPage(current, style, { ...changed, version }));
    if (textOf(body, 'do') === 'look') return renderPage(c, editPage(current, style, { values, version }));
    const parsed = parseStyle(values);
    const saved = parsed.ok ? await unlessConflict(() => saveStyle(workshop, style.id, parsed.value, version)) : parsed;
    if (saved === null) {
      const fresh = await readPlan(workshop, now());
      const theirs = workshopStyle(fresh.rows, style.id);
      return renderPage(c, editPage(fresh, theirs, { values, isOthersNewer: true }), 409);
    }
    if (saved.ok) return c.redirect(`/styles/${style.id}`, 303);
    return renderPage(c, editPage(current, style, { values, problems: saved.problems, version }), 422);
  });

  return routes;
}
