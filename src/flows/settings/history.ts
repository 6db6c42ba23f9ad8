import { isDay } from '#core/shared/calendar.ts';
import { formatCents, formatDay, formatNumber, formatPercent } from '#core/shared/format.ts';
import { formatLength, formatMass } from '#core/shared/measures.ts';
import { readSettings, type SettingName, type Settings, settingDefinitions } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import { type ChangeRow, listLastChanges, listSettings } from '#db/stores/workshop.ts';

/** One thing that was done, with what it changed. */
export type HistoryEntry = {
  readonly atMs: number;
  readonly who: string | null;
  /** "Add an order". */
  readonly action: string;
  readonly changes: readonly string[];
};

const tableWords: Readonly<Record<string, string>> = {
  customers: 'customer',
  orders: 'order',
  order_lines: 'line of an order',
  line_colours: 'colour of a line',
  imports: 'imported file',
  size_bands: 'size band',
  feet: 'measured feet',
  styles: 'style',
  style_versions: 'version of a style',
  materials: 'material',
  style_materials: 'material of a style',
  swatches: 'swatch',
  yarns: 'yarn',
  yarn_colours: 'colour',
  lots: 'lot',
  balls: 'ball',
  ball_moves: 'what happened to a ball',
  reservations: 'yarn kept for a batch',
  suppliers: 'yarn shop',
  offers: 'pack',
  purchases: 'purchase',
  purchase_lines: 'line of a purchase',
  knitters: 'knitter',
  knitter_rates: 'speed of a knitter',
  knitter_hours: 'hours of a knitter',
  days_off: 'days off',
  batches: 'batch',
  batch_lines: 'line of a batch',
  pairs: 'pair',
  pair_pieces: 'piece of a pair',
  pair_colours: 'yarn of a pair',
  pair_events: 'what happened to a pair',
  outlets: 'outlet',
  expenses: 'running cost',
  settings: 'setting',
};

const unsaid = new Set(['id', 'version', 'bodyJson', 'specJson', 'kind', 'styleId', 'address', 'contact']);
const mostLetters = 40;

type Shown = Pick<Settings, 'currency' | 'unitSystem'>;
type Row = Readonly<Record<string, unknown>>;

function readRow(json: string | null): Row | null {
  return json === null ? null : (JSON.parse(json) as Row);
}

function nameOf(row: Row): string {
  if (typeof row.name === 'string') return ` “${row.name}”`;
  if (typeof row.number === 'number') return ` ${row.number}`;
  return '';
}

/** `dueDay` as "due day", `massMg` as "mass". */
function fieldWords(field: string): string {
  return field
    .replace(/(Json|Mg|Mm|Cents|Ratio|Ms|Id)$/, '')
    .replace(/^is(?=[A-Z])/, '')
    .replace(/([A-Z])/g, ' $1')
    .trim()
    .toLowerCase();
}

function numberWords(field: string, value: number, shown: Shown): string {
  if (/[a-z]G$/.test(field)) return formatMass(value, shown.unitSystem);
  if (field.endsWith('Mg')) return formatMass(value / 1000, shown.unitSystem);
  // A needle has its number in millimetres everywhere.
  if (field === 'needleMm') return `${formatNumber(value, 2)}\u00a0mm`;
  if (field.endsWith('Mm')) return formatLength(value, shown.unitSystem);
  if (field.endsWith('Cents')) return formatCents(value, shown.currency);
  if (field.endsWith('Ratio')) return formatPercent(value);
  return String(value);
}

function valueWords(field: string, value: unknown, shown: Shown): string {
  if (value === null || value === undefined || value === '') return 'nothing';
  if (value === true || value === 'true') return 'yes';
  if (value === false || value === 'false') return 'no';
  if (typeof value === 'number') return numberWords(field, value, shown);
  const text = String(value).replace(/^"(.*)"$/, '$1');
  const day = isDay(text) ? formatDay(text) : null;
  if (day !== null) return day;
  return text.length > mostLetters ? `${text.slice(0, mostLetters)}…` : text;
}

/** A setting by the words of its form, its value as it is stored. */
function settingWords(before: Row | null, after: Row | null, shown: Shown): string {
  const name = String((after ?? before)?.name);
  const words = settingDefinitions[name as SettingName]?.words ?? name;
  const value = (row: Row | null) => {
    if (row === null) return 'as usual';
    const stored: unknown = JSON.parse(String(row.valueJson));
    const field = /Cents/.test(name) ? 'Cents' : name;
    return valueWords(field, stored, shown);
  };
  return `“${words}” from ${value(before)} to ${value(after)}`;
}

/** One change in words: "order 7: due day from Fri 4 Dec 2026 to Sat 5 Dec 2026". */
export function changeWords(change: Pick<ChangeRow, 'table' | 'beforeJson' | 'afterJson'>, shown: Shown): string {
  const before = readRow(change.beforeJson);
  const after = readRow(change.afterJson);
  if (change.table === 'settings') return settingWords(before, after, shown);
  const what = tableWords[change.table] ?? change.table.replaceAll('_', ' ');
  const row = after ?? before ?? {};
  if (!before) return `${what}${nameOf(row)} added`;
  if (!after) return `${what}${nameOf(row)} removed`;
  const fields = Object.keys(after).filter((field) => !unsaid.has(field) && before[field] !== after[field]);
  const named = `${what}${nameOf(before)}`;
  if (fields.length === 0) return `${named} changed`;
  const parts = fields.map((field) => {
    const [from, to] = [valueWords(field, before[field], shown), valueWords(field, after[field], shown)];
    return `${fieldWords(field)} from ${from} to ${to}`;
  });
  return `${named}: ${parts.join(', ')}`;
}

function actionOf(flow: string): string {
  const words = flow.replace(/^[^:]*: ?/, '');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** A movement is told by what it did to its ball, and a colour by its line. */
const silent = new Set(['ball_moves', 'pair_events', 'answers']);

/** The last changes, newest first; what was saved together stands together. */
export async function readHistory(workshop: Workshop, most = 200): Promise<readonly HistoryEntry[]> {
  const [rows, settings] = await workshop.store.read(async (db) => [
    await listLastChanges(db, most),
    await listSettings(db),
  ]);
  const shown = readSettings(settings);
  const entries: { atMs: number; who: string | null; flow: string; changes: string[] }[] = [];
  for (const row of rows) {
    const words = silent.has(row.table) ? [] : [changeWords(row, shown)];
    const last = entries.at(-1);
    if (last && last.atMs === row.atMs && last.flow === row.flow) last.changes.unshift(...words);
    else entries.push({ atMs: row.atMs, who: row.who, flow: row.flow, changes: words });
  }
  return entries.map(({ flow, ...entry }) => ({ ...entry, action: actionOf(flow) }));
}
