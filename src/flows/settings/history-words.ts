import { isDay } from '#core/shared/calendar.ts';
import { formatCents, formatDay, formatNumber, formatPercent } from '#core/shared/format.ts';
import { formatLength, formatMass } from '#core/shared/measures.ts';
import { type SettingName, type Settings, settingDefinitions } from '#core/shared/settings.ts';
import { sampleSetting } from '#db/sample.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { ChangeRow } from '#db/stores/workshop.ts';

type Words = readonly [one: string, many: string];

const tableWords: Readonly<Record<string, Words>> = {
  customers: ['customer', 'customers'],
  orders: ['order', 'orders'],
  order_lines: ['line of an order', 'lines of orders'],
  line_colours: ['colour of a line', 'colours of lines'],
  extras: ['usual extra', 'usual extras'],
  order_extras: ['extra of an order', 'extras of orders'],
  payments: ['payment', 'payments'],
  imports: ['imported file', 'imported files'],
  size_bands: ['size band', 'size bands'],
  feet: ['measured feet', 'measured feet'],
  styles: ['style', 'styles'],
  style_versions: ['version of a style', 'versions of styles'],
  materials: ['material', 'materials'],
  style_materials: ['material of a style', 'materials of styles'],
  swatches: ['swatch', 'swatches'],
  yarns: ['yarn', 'yarns'],
  yarn_colours: ['colour', 'colours'],
  lots: ['lot of yarn', 'lots of yarn'],
  balls: ['ball', 'balls'],
  reservations: ['part put aside', 'parts put aside'],
  suppliers: ['yarn shop', 'yarn shops'],
  supplier_breaks: ['share off a basket', 'shares off baskets'],
  offers: ['price of a pack', 'prices of packs'],
  offer_breaks: ['price from so many packs', 'prices from so many packs'],
  purchases: ['purchase', 'purchases'],
  purchase_lines: ['line of a purchase', 'lines of purchases'],
  knitters: ['knitter', 'knitters'],
  knitter_rates: ['speed of a knitter', 'speeds of knitters'],
  knitter_hours: ['day of a knitter’s week', 'days of knitters’ weeks'],
  days_off: ['time off', 'times off'],
  batches: ['batch', 'batches'],
  batch_lines: ['line of a batch', 'lines of batches'],
  pairs: ['pair', 'pairs'],
  pair_pieces: ['piece of a pair', 'pieces of pairs'],
  pair_rows: ['count of rows', 'counts of rows'],
  pair_colours: ['yarn of a pair', 'yarns of pairs'],
  outlets: ['outlet', 'outlets'],
  expenses: ['running cost', 'running costs'],
  postage_bands: ['price of the post', 'prices of the post'],
  price_groups: ['price for several sizes', 'prices for several sizes'],
  prices_seen: ['price seen elsewhere', 'prices seen elsewhere'],
  placements: ['pair in a shop', 'pairs in shops'],
  shop_payments: ['payment of a shop', 'payments of shops'],
  fairs: ['fair', 'fairs'],
  fair_days: ['day at a table', 'days at a table'],
  fair_pairs: ['pair on a table', 'pairs on a table'],
  asked: ['thing asked for in vain', 'things asked for in vain'],
  sales: ['sale', 'sales'],
  sale_lines: ['pair sold', 'pairs sold'],
  settings: ['setting', 'settings'],
};

const unsaid = new Set(['id', 'version', 'bodyJson', 'specJson', 'ticksJson', 'kind', 'address', 'contact']);
const mostLetters = 40;

/** What names and amounts are said with. */
export type Shown = Pick<Settings, 'currency' | 'unitSystem'> & {
  readonly rows: Pick<
    WorkshopRows,
    'customers' | 'knitters' | 'lots' | 'orders' | 'outlets' | 'styles' | 'suppliers' | 'yarnColours' | 'yarns'
  >;
};
type Row = Readonly<Record<string, unknown>>;

function readRow(json: string | null): Row | null {
  return json === null ? null : (JSON.parse(json) as Row);
}

type Named = { readonly id: number; readonly name: string };

/** The name behind an id of another table; null where there is none, or it is gone. */
function nameBehind(field: string, id: unknown, { rows }: Shown): string | null {
  const tables: Readonly<Record<string, readonly Named[]>> = {
    customerId: rows.customers,
    knitterId: rows.knitters,
    outletId: rows.outlets,
    styleId: rows.styles,
    supplierId: rows.suppliers,
    yarnColourId: rows.yarnColours,
    yarnId: rows.yarns,
  };
  return tables[field]?.find((each) => each.id === id)?.name ?? null;
}

function colourOfLot(lotId: unknown, { rows }: Shown): string {
  const lot = rows.lots.find((each) => each.id === lotId);
  return rows.yarnColours.find((each) => each.id === lot?.yarnColourId)?.name ?? 'yarn';
}

/** What a row is to a knitter: "a ball of Heather", "pair 12", "knitter “Ada”". */
function rowWords(table: string, row: Row, shown: Shown): string {
  const behind = (field: string) => nameBehind(field, row[field], shown);
  const [one] = tableWords[table] ?? [table.replaceAll('_', ' ')];
  switch (table) {
    case 'balls':
      return `a ball of ${colourOfLot(row.lotId, shown)}`;
    case 'lots':
      return `a lot of ${behind('yarnColourId') ?? 'yarn'}`;
    case 'offers':
      return `the price of ${behind('yarnColourId') ?? 'a yarn'} at ${behind('supplierId') ?? 'a shop'}`;
    case 'swatches':
      return `a swatch of ${behind('yarnId') ?? 'a yarn'}`;
    case 'order_lines':
    case 'order_extras':
    case 'payments': {
      const order = shown.rows.orders.find((each) => each.id === row.orderId);
      const what = { order_lines: 'a line', order_extras: `“${row.name}”`, payments: 'a payment' }[table];
      return order ? `${what} of order ${order.number}` : one;
    }
    case 'pairs':
      return `pair ${row.id}`;
    case 'fair_days':
      return `${formatDay(String(row.day))} at a table`;
    case 'sale_lines':
      return `the sale of ${row.what}`;
    case 'pair_pieces':
    case 'pair_rows':
      return `${row.piece} of pair ${row.pairId}`;
    case 'knitter_hours':
    case 'knitter_rates':
    case 'days_off': {
      const whose = behind('knitterId');
      return whose
        ? `${table === 'days_off' ? 'days off' : table === 'knitter_hours' ? 'hours' : 'speed'} of ${whose}`
        : one;
    }
    default:
      if (typeof row.name === 'string') return `${one} “${row.name}”`;
      return typeof row.number === 'number' ? `${one} ${row.number}` : one;
  }
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
  if (field.endsWith('Cents') || field === 'cents') return formatCents(value, shown.currency);
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
  if (name === sampleSetting) return after ? 'this is the sample season' : 'this is no longer the sample season';
  const words = settingDefinitions[name as SettingName]?.words ?? name;
  const value = (row: Row | null) => {
    if (row === null) return 'as usual';
    const stored: unknown = JSON.parse(String(row.valueJson));
    const whose = name.endsWith('KnitterId') ? nameBehind('knitterId', stored, shown) : null;
    if (whose !== null) return whose;
    const field = /Cents/.test(name) ? 'Cents' : name;
    return valueWords(field, stored, shown);
  };
  return `“${words}” from ${value(before)} to ${value(after)}`;
}

/** What is known by one number alone is said with it: "a ball of Heather weighed: 48 g". */
function amountWords(
  change: Pick<ChangeRow, 'table' | 'flow'>,
  before: Row | null,
  row: Row,
  shown: Shown,
): string | null {
  if (change.table === 'balls' && before && before.knitterId !== row.knitterId) {
    const whose = nameBehind('knitterId', row.knitterId, shown);
    const day = typeof row.handedDay === 'string' ? ` on ${formatDay(row.handedDay)}` : '';
    return row.knitterId === null ? ` came home${day}` : ` handed to ${whose ?? 'a knitter'}${day}`;
  }
  if (change.table === 'balls' && typeof row.massMg === 'number') {
    const verb = change.flow === 'shelf: weigh a ball' ? ' weighed' : '';
    return `${verb}: ${formatMass(row.massMg / 1000, shown.unitSystem)}`;
  }
  if (change.table === 'payments' && typeof row.cents === 'number') {
    const what = row.reversesId === null ? String(row.kind) : `${row.kind} undone`;
    return `: ${what}, ${formatCents(row.cents, shown.currency)}`;
  }
  if (change.table === 'pair_rows') return `: ${row.rowsDone} rows done`;
  if (change.table === 'pair_pieces') return `: ${row.stage === 'waiting' ? 'to do' : row.stage}`;
  return null;
}

/** One change in words: "order 7: due day from Fri 4 Dec 2026 to Sat 5 Dec 2026". */
export function changeWords(
  change: Pick<ChangeRow, 'flow' | 'table' | 'beforeJson' | 'afterJson'>,
  shown: Shown,
): string {
  const before = readRow(change.beforeJson);
  const after = readRow(change.afterJson);
  if (change.table === 'settings') return settingWords(before, after, shown);
  const what = rowWords(change.table, before ?? after ?? {}, shown);
  if (!after) return `${what} removed`;
  const amount = amountWords(change, before, after, shown);
  if (amount !== null) return `${what}${amount}`;
  if (!before) return `${what} added`;
  const parts = Object.keys(after)
    .filter((field) => !unsaid.has(field) && before[field] !== after[field])
    .flatMap((field) => {
      const isLink = field.endsWith('Id');
      const words = (row: Row) =>
        isLink && row[field] !== null ? nameBehind(field, row[field], shown) : valueWords(field, row[field], shown);
      const [from, to] = [words(before), words(after)];
      return from === null || to === null ? [] : [`${fieldWords(field)} from ${from} to ${to}`];
    });
  return parts.length === 0 ? `${what} changed` : `${what}: ${parts.join(', ')}`;
}

/** What a knitter looks for first. */
const firstCounted = ['orders', 'batches', 'pairs', 'balls', 'knitters', 'styles'];
const mostCounted = 3;

/** "1 batch, 2 pairs and 3 balls": how many rows of each kind were touched, of many kinds the first few. */
export function countWords(changes: readonly Pick<ChangeRow, 'table' | 'row'>[]): string {
  const rows = new Map<string, Set<number>>();
  for (const { table, row } of changes) rows.set(table, (rows.get(table) ?? new Set<number>()).add(row));
  const rank = (table: string) => (firstCounted.includes(table) ? firstCounted.indexOf(table) : firstCounted.length);
  const parts = [...rows]
    .sort(([a], [b]) => rank(a) - rank(b))
    .map(([table, { size }]) => {
      const [one, many] = tableWords[table] ?? [table.replaceAll('_', ' '), table.replaceAll('_', ' ')];
      return `${size} ${size === 1 ? one : many}`;
    });
  if (parts.length > mostCounted) parts.splice(mostCounted, parts.length, 'more');
  const last = parts.pop() ?? '';
  return parts.length === 0 ? last : `${parts.join(', ')} and ${last}`;
}
