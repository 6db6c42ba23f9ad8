import { existsSync, readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { planJson } from '#commands/plan-json.ts';
import { planText } from '#commands/plan-text.ts';
import { AppError } from '#core/shared/app-error.ts';
import { isDay } from '#core/shared/calendar.ts';
import { readSettings } from '#core/shared/settings.ts';
import { defaultDatabaseUrl, filePathOf, openWorkshop } from '#db/open.ts';
import { readWorkshop, type WorkshopRows } from '#db/stores/read-workshop.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { knownNamesOf } from '#flows/orders/known-names.ts';
import { readOrderCsv } from '#flows/orders/read-order-csv.ts';
import { planOrders } from '#flows/plan-orders.ts';
import { planRows, type WorkshopPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';

const usage = `npm run plan -- [orders.csv] [--today YYYY-MM-DD] [--json]

  orders.csv   plan these orders with the workshop's yarn, knitters and shops;
               without a file the workshop's own orders are planned
  --today      reckon as if it were this day
  --json       the whole plan as JSON, always in millimetres, grams and metres;
               the text is in the units of the settings
Without a database file the sample season's workshop is used. Nothing is written.`;

type Wish = { readonly file: string | null; readonly today: string | null; readonly isJson: boolean };

function readArguments(args: readonly string[]): Wish | string {
  let file: string | null = null;
  let today: string | null = null;
  let isJson = false;
  for (let index = 0; index < args.length; index += 1) {
    const word = args[index]!;
    if (word === '--json') isJson = true;
    else if (word === '--today') {
      today = args[index + 1] ?? '';
      index += 1;
      if (!isDay(today)) return `--today wants a day like 2026-11-25, not “${today}”.`;
    } else if (word.startsWith('-')) return `${word} is not known here.`;
    else if (file !== null) return `One file at a time: there are “${file}” and “${word}”.`;
    else file = word;
  }
  return { file, today, isJson };
}

/** The workshop's rows; of the sample season, in a folder that is thrown away, while there is no database file. */
async function rowsOfWorkshop(now: Date): Promise<WorkshopRows> {
  const url = process.env.DATABASE_URL?.trim() || defaultDatabaseUrl;
  const path = filePathOf(url);
  if (path === null || existsSync(path)) {
    const workshop = await openWorkshop(url);
    const rows = await readWorkshop(workshop);
    await workshop.close();
    return rows;
  }
  const folder = await mkdtemp(join(tmpdir(), 'sample-season-'));
  try {
    const workshop = await openWorkshop(`file:${join(folder, 'sample.db')}`);
    await loadSample(workshop, { today: todayIn(now, 'UTC') });
    const rows = await readWorkshop(workshop);
    await workshop.close();
    return rows;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

type Outcome =
  | { readonly ok: true; readonly plan: WorkshopPlan; readonly notes: readonly string[] }
  | { readonly ok: false; readonly faults: readonly string[] };

async function planFor(wish: Wish): Promise<Outcome> {
  const now = wish.today === null ? new Date() : new Date(`${wish.today}T12:00:00Z`);
  const rows = await rowsOfWorkshop(now);
  const today = wish.today ?? todayIn(now, readSettings(rows.settings).timeZone);
  if (wish.file === null) return { ok: true, plan: planRows(rows, today), notes: [] };
  let text: string;
  try {
    text = readFileSync(wish.file, 'utf8');
  } catch {
    return { ok: false, faults: [`${wish.file} cannot be read: check its name and place.`] };
  }
  const orders = readOrderCsv(text, { ...knownNamesOf(rows), references: [] }, today);
  if (!orders.ok) return { ok: false, faults: orders.problems.map(({ path, message }) => `${path}: ${message}`) };
  const asEu = orders.value.flatMap((order) => order.readAsEu).sort((a, b) => a - b);
  const notes =
    asEu.length === 0 ? [] : [`Plain sizes were read as EU: ${asEu.length === 1 ? 'row' : 'rows'} ${asEu.join(', ')}.`];
  return { ok: true, plan: planOrders(rows, orders.value, today), notes };
}

async function main(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    console.log(usage);
    return 0;
  }
  const wish = readArguments(args);
  if (typeof wish === 'string') {
    console.error(`${wish}\n\n${usage}`);
    return 1;
  }
  const outcome = await planFor(wish);
  if (!outcome.ok) {
    const many = outcome.faults.length;
    console.error(`${many === 1 ? 'One fault' : `${many} faults`}; nothing was planned.`);
    for (const fault of outcome.faults.slice(0, 200)) console.error(fault);
    return 1;
  }
  // Beside the plan, which may be read by a program.
  for (const note of outcome.notes) console.error(note);
  const json = planJson(outcome.plan);
  process.stdout.write(
    wish.isJson ? `${JSON.stringify(json, null, 2)}\n` : planText(json, outcome.plan.settings.unitSystem),
  );
  return 0;
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof AppError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
