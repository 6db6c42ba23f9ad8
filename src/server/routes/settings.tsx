import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { formatDay } from '#core/shared/format.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { restoreCopy, saveCopy } from '#db/copy.ts';
import { clearAll, clearingWord, ownWorkWords } from '#flows/begin/clear-all.ts';
import { isEmpty, isSample } from '#flows/begin/is-empty.ts';
import { ownWorkIn } from '#flows/begin/own-work.ts';
import { readPlan } from '#flows/read-plan.ts';
import { readHistory } from '#flows/settings/history.ts';
import { saveSettings } from '#flows/settings/save-settings.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, textOf, valuesOf } from '#server/forms/fields.ts';
import { readSeen, readSettingsForm, seenText, settingValues } from '#server/forms/settings.ts';
import { renderPage } from '#server/render.tsx';
import { HistoryPage } from '#views/pages/settings/history.tsx';
import { SettingsPage, settingNamesHere } from '#views/pages/settings/settings.tsx';

function timeWords(atMs: number, timeZone: string): string {
  const date = new Date(atMs);
  const time = date.toLocaleTimeString('en-GB', { timeZone, hour: '2-digit', minute: '2-digit' });
  return `${formatDay(todayIn(date, timeZone))}, ${time}`;
}

type Shown = {
  readonly values?: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
  readonly typed?: string;
  readonly seen?: string;
  readonly units?: UnitSystem;
};

/** Settings, copies, clearing, history. */
export function settingsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showPage(c: Context<AppEnv>, shown: Shown = {}) {
    const { rows, settings } = await readPlan(workshop, now());
    const { problems = [], typed = '' } = shown;
    const ownWork = isSample(rows) ? await ownWorkIn(workshop) : null;
    return renderPage(
      c,
      <SettingsPage
        values={shown.values ?? settingValues(settingNamesHere, settings)}
        seen={shown.seen ?? seenText(settingNamesHere, settings)}
        currency={settings.currency}
        units={shown.units ?? settings.unitSystem}
        problems={problems}
        knitters={rows.knitters
          .filter((knitter) => knitter.isActive)
          .map((knitter) => ({ value: String(knitter.id), words: knitter.name }))}
        isSample={isSample(rows)}
        ownWork={ownWork && ownWorkWords(ownWork)}
        isEmpty={isEmpty(rows)}
        clearingWord={clearingWord}
        typed={typed}
        notice={noticeOf(c)}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/', function showSettings(c) {
    return showPage(c);
  });

  routes.post('/', async function saveAll(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const { seen, currency, units } = readSeen(body, settingNamesHere);
    const wished = readSettingsForm(body, settingNamesHere, currency, units);
    if (!wished.ok) {
      return showPage(c, { values: valuesOf(body), problems: wished.problems, seen: textOf(body, 'seen'), units });
    }
    await saveSettings(workshop, wished.value, seen);
    return c.redirect('/settings?saved=yes', 303);
  });

  routes.get('/history', async function showHistory(c) {
    const { rows: all, settings } = await readPlan(workshop, now());
    const entries = await readHistory(workshop, all);
    const rows = entries.map(({ atMs, ...entry }) => ({ ...entry, when: timeWords(atMs, settings.timeZone) }));
    return renderPage(c, <HistoryPage rows={rows} />);
  });

  routes.get('/copy', async function sendCopy(c) {
    const folder = await mkdtemp(join(tmpdir(), 'workshop-copy-'));
    try {
      const copy = await saveCopy(workshop, join(folder, 'copy.db'));
      if (!copy.ok) throw new AppError('readOnly', copy.problems[0]!.message);
      const { settings } = await readPlan(workshop, now());
      const day = todayIn(now(), settings.timeZone);
      return c.body(new Uint8Array(await readFile(copy.value.file)), 200, {
        'Content-Type': 'application/octet-stream',
        'Content-Disposition': `attachment; filename="toe-to-till-${day}.db"`,
        'Cache-Control': 'no-store',
      });
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });

  routes.post('/copy', async function openCopy(c) {
    const { file } = await c.req.parseBody();
    if (!(file instanceof File) || file.size === 0) {
      const message = 'Choose a file first: one that “Save a copy” made.';
      return showPage(c, { problems: [{ code: 'noFile', path: 'file', message }] });
    }
    const folder = await mkdtemp(join(tmpdir(), 'workshop-open-'));
    try {
      const path = join(folder, 'copy.db');
      await writeFile(path, new Uint8Array(await file.arrayBuffer()));
      const opened = await restoreCopy(workshop, path);
      if (!opened.ok) return showPage(c, { problems: opened.problems });
      return c.redirect(`/settings?opened=${encodeURIComponent(basename(opened.value.keptAs))}`, 303);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });

  routes.post('/clear', async function clear(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const typed = textOf(body, 'typed');
    const cleared = await clearAll(workshop, { typed, now: now() });
    if (!cleared.ok) return showPage(c, { problems: cleared.problems, typed });
    const { keptAs } = cleared.value;
    return c.redirect(keptAs === null ? '/' : `/?kept=${encodeURIComponent(basename(keptAs))}`, 303);
  });

  return routes;
}

const fileName = /^[\w.-]{1,120}$/;

function noticeOf(c: Context<AppEnv>): string | null {
  const opened = c.req.query('opened');
  if (opened && fileName.test(opened)) return `The copy is open now. What was here before is kept as ${opened}.`;
  return c.req.query('saved') === 'yes' ? 'The settings are saved.' : null;
}
