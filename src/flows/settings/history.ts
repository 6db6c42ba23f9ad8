import type { Workshop } from '#db/open.ts';
import { type ChangeRow, listLastChanges } from '#db/stores/workshop.ts';

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

type Row = Readonly<Record<string, unknown>>;

function readRow(json: string | null): Row | null {
  return json === null ? null : (JSON.parse(json) as Row);
}

function nameOf(row: Row): string {
  if (typeof row.name === 'string') return ` “${row.name}”`;
  if (typeof row.number === 'number') return ` ${row.number}`;
  return '';
}

/** `dueDay` as "due day", `massMg` as "mass mg". */
function fieldWords(field: string): string {
  return field
    .replace(/Json$/, '')
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase();
}

function valueWords(value: unknown): string {
  if (value === null || value === undefined || value === '') return 'nothing';
  if (value === true) return 'yes';
  if (value === false) return 'no';
  const text = String(value).replace(/^"(.*)"$/, '$1');
  return text.length > mostLetters ? `${text.slice(0, mostLetters)}…` : text;
}

/** One change in words: "order 7: due day from 2026-12-04 to 2026-12-05". */
export function changeWords(change: Pick<ChangeRow, 'table' | 'beforeJson' | 'afterJson'>): string {
  const before = readRow(change.beforeJson);
  const after = readRow(change.afterJson);
  const what = tableWords[change.table] ?? change.table.replaceAll('_', ' ');
  const row = after ?? before ?? {};
  if (!before) return `${what}${nameOf(row)} added`;
  if (!after) return `${what}${nameOf(row)} removed`;
  const fields = Object.keys(after).filter((field) => !unsaid.has(field) && before[field] !== after[field]);
  const named = `${what}${nameOf(before)}`;
  if (fields.length === 0) return `${named} changed`;
  return `${named}: ${fields
    .map((field) => `${fieldWords(field)} from ${valueWords(before[field])} to ${valueWords(after[field])}`)
    .join(', ')}`;
}

function actionOf(flow: string): string {
  const words = flow.replace(/^[^:]*: ?/, '');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** The last changes, newest first; what was saved together stands together. */
export async function readHistory(workshop: Workshop, most = 200): Promise<readonly HistoryEntry[]> {
  const rows = await workshop.store.read((db) => listLastChanges(db, most));
  const entries: { atMs: number; who: string | null; flow: string; changes: string[] }[] = [];
  for (const row of rows) {
    const last = entries.at(-1);
    if (last && last.atMs === row.atMs && last.flow === row.flow) last.changes.unshift(changeWords(row));
    else entries.push({ atMs: row.atMs, who: row.who, flow: row.flow, changes: [changeWords(row)] });
  }
  return entries.map(({ flow, ...entry }) => ({ ...entry, action: actionOf(flow) }));
}
