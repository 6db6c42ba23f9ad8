import { type CsvErrorCode, parse } from 'csv-parse/sync';
import type { CuffWish } from '#core/batch/kinds.ts';
import type { Day } from '#core/shared/calendar.ts';
import { readDayText } from '#core/shared/day-text.ts';
import { currencySign, formatCentsForInput, formatDay } from '#core/shared/format.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Fit, Person } from '#core/sizing/foot.ts';
import { brokenLetters } from '#flows/orders/broken-letters.ts';
import { csvLikes } from '#flows/orders/csv-likes.ts';
import type { LineEntry, OrderEntry } from '#flows/orders/entries.ts';
import { type KnownColour, type KnownNames, type KnownStyle, sameName } from '#flows/orders/known-names.ts';
import { lengthMmFrom, usualUnit } from '#flows/orders/lengths.ts';
import { coloursOf, cuffRangeMm, lineEntryOf, type ReadSize } from '#flows/orders/line-entry.ts';
import { suggestName } from '#flows/orders/nearest-name.ts';
import { oddDay, orderYears } from '#flows/orders/odd-day.ts';
import { type CsvGirths, leftAndRight, personOf, readCsvSize } from '#flows/orders/read-csv-size.ts';
import { usualOutletOf } from '#flows/orders/usual-outlet.ts';

/** An order read from a table, with the rows it came from. */
export type ParsedOrder = OrderEntry & {
  readonly rows: readonly number[];
  /** What is odd in them, and stands once somebody said that it is right. */
  readonly odd: readonly Problem[];
  /** Rows whose size was a plain number, read as EU. */
  readonly readAsEu: readonly number[];
};

export const mostCsvRows = 10_000;
const mostLetters = 2 * 1024 * 1024;

/** Every column that is understood, in the order of the example. */
export const orderCsvColumns = [
  'customer',
  'reference',
  'outlet',
  'due',
  'style',
  'person',
  'size',
  'ball girth',
  'heel girth',
  'yarn',
  'foot colour',
  'cuff colour',
  'cuff',
  'fit',
  'quantity',
  'price',
] as const;

type ColumnName = (typeof orderCsvColumns)[number];
type Row = {
  readonly number: number;
  readonly cell: (column: ColumnName) => string;
  readonly has: (column: ColumnName) => boolean;
};

function columnOf(text: string): string {
  return sameName(text.replace(/[_-]/g, ' ')).replace(/\bcolor\b/, 'colour');
}

/** The separator that the first line holds most of; a comma when it holds none. */
export function separatorOf(text: string): ',' | ';' | '\t' {
  const line = /[^\r\n]+/.exec(text.replace(/^\ufeff/, ''))?.[0].replace(/"[^"]*"/g, '') ?? '';
  const counts = ([',', ';', '\t'] as const).map((sign) => ({ sign, count: line.split(sign).length }));
  return counts.reduce((best, each) => (each.count > best.count ? each : best)).sign;
}

// Signs that turn what follows round are no part of a name.
const turning = /[\u202a-\u202e\u2066-\u2069]/g;

// Marks that a spreadsheet must not take for a formula were put before it; they are no part of the text.
function plainCell(text: string): string {
  return text
    .replace(/^'(?=[=+\-@])/, '')
    .replace(/[\p{Cc}\s]+/gu, ' ')
    .replace(turning, '')
    .normalize('NFC')
    .trim();
}

const csvMessages: Partial<Record<CsvErrorCode, string>> = {
  CSV_QUOTE_NOT_CLOSED: 'A quotation mark is opened and never closed. Close it, or take it out.',
  CSV_INVALID_CLOSING_QUOTE: 'A quotation mark stands in the middle of a cell. Write it twice, or take it out.',
  INVALID_OPENING_QUOTE: 'A quotation mark stands in the middle of a cell. Write it twice, or take it out.',
};

export type Cells = { readonly number: number; readonly cells: readonly string[] };

/** A zero byte is no sign that somebody typed: the file is no text, or its letters are of two bytes. */
function noTextProblem(text: string): Problem | null {
  const at = text.indexOf('\0');
  if (at < 0) return null;
  const row = text.slice(0, at).split(/\r\n|\r|\n/).length;
  const message = 'This row is not plain text: it has zero bytes. Save the table again, as CSV in UTF-8.';
  return { code: 'noText', path: `row ${row}`, message };
}

export function readTable(text: string): Result<readonly Cells[]> {
  const unreadable = noTextProblem(text);
  if (unreadable) return refuse(unreadable);
  try {
    const records = parse(text, {
      bom: true,
      delimiter: separatorOf(text),
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
    }) as unknown as readonly { readonly info: { readonly lines: number }; readonly record: readonly string[] }[];
    return succeed(records.map(({ info, record }) => ({ number: info.lines, cells: record.map(plainCell) })));
  } catch (error) {
    const { code, lines } = error as { readonly code?: CsvErrorCode; readonly lines?: number };
    const message = (code && csvMessages[code]) ?? 'This is not a table with commas, semicolons or tabs between cells.';
    return refuse({ code: 'notATable', path: `row ${lines ?? 1}`, message });
  }
}

function readHeader(header: Cells): Result<ReadonlyMap<ColumnName, number>> {
  const problems: Problem[] = [];
  const columns = new Map<ColumnName, number>();
  const path = `row ${header.number}`;
  for (const [index, text] of header.cells.entries()) {
    if (text === '') continue;
    const name = orderCsvColumns.find((column) => column === columnOf(text));
    if (!name) {
      const message = `“${text}” is not a column that is known here. ${suggestName(columnOf(text), orderCsvColumns)}`;
      problems.push({ code: 'columnUnknown', path: `${path}, ${text}`, message });
    } else if (columns.has(name)) {
      problems.push({ code: 'columnTwice', path: `${path}, ${name}`, message: `There are two columns “${name}”.` });
    } else {
      columns.set(name, index);
    }
  }
  for (const needed of ['size', 'foot colour'] as const) {
    if (columns.has(needed)) continue;
    const message = `The first row must name the columns, and “${needed}” among them.`;
    problems.push({ code: 'columnMissing', path: `${path}, ${needed}`, message });
  }
  return problems.length > 0 ? refuse(...problems) : succeed(columns);
}

/**
 * Orders out of a table of comma-, semicolon- or tab-separated values. The first row names the columns, in any order.
 * Rows of one customer, reference, outlet and due day make one order. Every fault is named by row and column; with any
 * fault there is no order at all.
 *
 * @param text the file's content
 * @param known the names of the workshop
 * @param today the present day, by which a due day has passed or is far off
 */
export function readOrderCsv(text: string, known: KnownNames, today: Day): Result<readonly ParsedOrder[]> {
  const fault = (message: string) => refuse({ code: 'csv', path: 'row 1', message });
  if (text.length > mostLetters) return fault('This is more than 2 MB. Import it in smaller parts.');
  const table = readTable(text);
  if (!table.ok) return table;
  const [header, ...body] = table.value;
  if (!header) return fault('There is nothing here yet. Paste a table, or choose a file.');
  const columns = readHeader(header);
  if (!columns.ok) return columns;
  if (body.length === 0) return fault('There is a heading but no row below it.');
  if (body.length > mostCsvRows) {
    return fault(`There are ${body.length} rows; up to ${mostCsvRows} can be imported at once. Split the table.`);
  }
  const problems: Problem[] = [];
  const stored = new Map(known.references.map((each) => [referenceKey(each.customerName, each.reference), each]));
  const seen = new Map<string, { readonly key: string; readonly row: number }>();
  const orders = new Map<
    string,
    { details: Omit<OrderEntry, 'lines'>; lines: LineEntry[]; rows: number[]; odd: Problem[]; readAsEu: number[] }
  >();
  for (const { number, cells } of body) {
    const row: Row = {
      number,
      cell: (column) => cells[columns.value.get(column) ?? -1] ?? '',
      has: (column) => columns.value.has(column),
    };
    const read = readRow(row, cells.length > header.cells.length, known, stored, today);
    if (!read.ok) {
      for (const problem of read.problems) problems.push(problem);
      continue;
    }
    const { line, odd, isReadAsEu, ...details } = read.value;
    const key = JSON.stringify([
      sameName(details.customerName ?? ''),
      sameName(details.reference ?? ''),
      details.outletId,
      details.dueDay,
    ]);
    if (details.customerName !== null && details.reference !== null) {
      const reference = referenceKey(details.customerName, details.reference);
      const first = seen.get(reference);
      if (first && first.key !== key) {
        const message = `Row ${first.row} has this reference too, with another outlet or due day. Make them alike.`;
        problems.push({ code: 'referenceTwice', path: `row ${number}, reference`, message });
        continue;
      }
      if (!first) seen.set(reference, { key, row: number });
    }
    const order = orders.get(key) ?? { details, lines: [], rows: [], odd: [], readAsEu: [] };
    order.lines.push(line);
    order.rows.push(number);
    order.odd.push(...odd);
    if (isReadAsEu) order.readAsEu.push(number);
    orders.set(key, order);
  }
  if (problems.length > 0) return refuse(...problems);
  return succeed([...orders.values()].map(({ details, ...read }) => ({ ...details, ...read })));
}

type ReadRow = Omit<OrderEntry, 'lines'> & {
  readonly line: LineEntry;
  readonly odd: readonly Problem[];
  readonly isReadAsEu: boolean;
};

type StoredReferences = ReadonlyMap<string, KnownNames['references'][number]>;

function referenceKey(customerName: string, reference: string): string {
  return JSON.stringify([sameName(customerName), sameName(reference)]);
}

function readRow(
  row: Row,
  hasMore: boolean,
  known: KnownNames,
  references: StoredReferences,
  today: Day,
): Result<ReadRow> {
  const problems: Problem[] = [];
  const pathOf = (column: string) => `row ${row.number}, ${column}`;
  const say = (column: string, message: string) => {
    problems.push({ code: 'csvCell', path: pathOf(column), message });
  };
  const take = <T>(result: Result<T>): T | null => {
    if (result.ok) return result.value;
    problems.push(...result.problems);
    return null;
  };
  if (hasMore) {
    const message = 'This row has more cells than there are columns. Put quotation marks around a cell with a comma.';
    problems.push({ code: 'csvCells', path: `row ${row.number}`, message });
  }
  for (const column of orderCsvColumns) {
    const broken = brokenLetters(row.cell(column));
    if (broken !== null) say(column, broken);
  }
  if (problems.length > 0) return refuse(...problems);
  const customerName = readText(row, 'customer', say);
  const reference = readText(row, 'reference', say);
  if (customerName !== null && reference !== null) {
    const stored = references.get(referenceKey(customerName, reference));
    if (stored) say('reference', `Order ${stored.number} of ${stored.customerName} has this reference already.`);
  }
  const outletId = readOutlet(row, known, say);
  const dueDay = readDue(row, today, say);
  const style = readStyle(row, known, say);
  const person = readPerson(row, say);
  const girths = readGirths(row, known.settings.unitSystem, say);
  const foot =
    person === undefined || girths === null
      ? null
      : take(readCsvSize(row.cell('size'), person, known, pathOf('size'), girths));
  const main = readColours(row, 'foot colour', known, null, say);
  const cuff = readColours(row, 'cuff colour', known, main, say);
  const cuffWish = readCuff(row, known, say);
  const fit = readFit(row, say);
  const quantity = readQuantity(row, say);
  const agreedCents = readPrice(row, known, say);
  if (problems.length > 0) return refuse(...problems);
  const line = lineOf({ style, foot, main, cuff, cuffWish, fit, quantity, agreedCents });
  const oddDue = dueDay === null ? null : oddDay(dueDay, today);
  const odd = [
    ...(oddDue ? [{ code: oddDue.code, path: pathOf('due'), message: oddDue.message }] : []),
    ...(foot?.odd ?? []).map(({ code, path, message }) => ({ code, path, message })),
  ];
  const isReadAsEu = foot?.isReadAsEu ?? false;
  return succeed({ customerName, reference, outletId: outletId!, dueDay, state: 'agreed', line, odd, isReadAsEu });
}

function lineOf(read: {
  readonly style: KnownStyle | null;
  readonly foot: ReadSize | null;
  readonly main: CsvColour | null;
  readonly cuff: CsvColour | null;
  readonly cuffWish: CuffWish | number;
  readonly fit: Fit;
  readonly quantity: number;
  readonly agreedCents: number | null;
}): LineEntry {
  const style = read.style!;
  const roles = style.roles.map((role) => role.name);
  const chosen = new Map(roles.map((role, index) => [role, index === 0 ? read.main! : read.cuff!]));
  return lineEntryOf({
    style,
    foot: read.foot!,
    fit: read.fit,
    cuff: read.cuffWish,
    quantity: read.quantity,
    agreedCents: read.agreedCents,
    knitterId: null,
    colours: coloursOf(style, chosen).colours,
  });
}

type Say = (column: string, message: string) => void;

const mostTextLetters = 200;

function readText(row: Row, column: 'customer' | 'reference', say: Say): string | null {
  const text = row.cell(column);
  if (text.length > mostTextLetters) say(column, `Use at most ${mostTextLetters} letters; there are ${text.length}.`);
  return text === '' ? null : text;
}

export const shortened = (text: string) => (text.length > 40 ? `${text.slice(0, 40)}…` : text);

function readOutlet(row: Row, known: KnownNames, say: Say): number | null {
  const text = row.cell('outlet');
  const names = known.outlets.map((outlet) => outlet.name);
  if (text === '') {
    const usual = usualOutletOf(known, 'order');
    if (usual) return usual.id;
    say('outlet', `Say where it goes. ${suggestName('', names)}`);
    return null;
  }
  const outlet = known.outlets.find((each) => sameName(each.name) === sameName(text));
  if (!outlet) say('outlet', `“${shortened(text)}” is not one of your outlets. ${suggestName(text, names)}`);
  return outlet?.id ?? null;
}

function readDue(row: Row, today: Day, say: Say): Day | null {
  const text = row.cell('due');
  if (text === '') return null;
  const read = readDayText(text, today);
  const { from, before } = orderYears;
  if (!read.ok) say('due', read.problems[0]!.message);
  else if (read.value >= from && read.value < before) return read.value;
  else
    say(
      'due',
      `${formatDay(read.value)} is no day to knit for. Write one after the year ${from} and before ${before}.`,
    );
  return null;
}

function readStyle(row: Row, known: KnownNames, say: Say): KnownStyle | null {
  const text = row.cell('style');
  const style = text === '' ? known.styles[0] : known.styles.find((each) => sameName(each.name) === sameName(text));
  if (!style) {
    const names = known.styles.map((each) => each.name);
    const message = text === '' ? 'There is no style yet.' : `“${shortened(text)}” is not one of your styles.`;
    say('style', `${message} ${suggestName(text, names)}`);
  }
  return style ?? null;
}

/** Undefined when the cell is not understood. */
function readPerson(row: Row, say: Say): Person | null | undefined {
  const text = row.cell('person');
  if (text === '') return null;
  const person = personOf(text);
  if (person !== null) return person;
  say('person', `“${shortened(text)}” is not understood. Write woman, man or child, or leave it empty.`);
  return undefined;
}

/** One girth or two, left before right; null when a cell is not understood. */
function readGirths(row: Row, system: UnitSystem, say: Say): CsvGirths | null {
  const columns = ['ball girth', 'heel girth'] as const;
  const [ball, heel] = columns.map((column) => {
    const text = row.cell(column);
    if (text === '') return [null, null];
    const [left, right] = (leftAndRight(text) ?? []).map((part) =>
      part === null ? null : lengthMmFrom(part, usualUnit(system)),
    );
    const isUnread = left === undefined || left === null || (right === null && /\s(?:and|&|\/)\s|;/i.test(text));
    if (isUnread) {
      say(
        column,
        `“${shortened(text)}” is not a girth. Write it like ${csvLikes[system].girth}, or ${csvLikes[system].girths}, left before right.`,
      );
      return null;
    }
    return [left, right ?? null];
  });
  if (!ball || !heel) return null;
  return {
    left: { ballGirthMm: ball[0] ?? null, heelAnkleGirthMm: heel[0] ?? null },
    right: { ballGirthMm: ball[1] ?? null, heelAnkleGirthMm: heel[1] ?? null },
  };
}

type ColumnOfColour = 'foot colour' | 'cuff colour';
type CsvColour = KnownColour & { readonly heldWith?: KnownColour | null };

/** One colour, or two held together: "Marigold + Cream" is a strand of each. */
function readColours(
  row: Row,
  column: ColumnOfColour,
  known: KnownNames,
  main: CsvColour | null,
  say: Say,
): CsvColour | null {
  const text = row.cell(column);
  if (column === 'cuff colour' && (text === '' || sameName(text) === 'same')) return main;
  if (text === '') {
    say(column, 'Fill in the colour of the foot.');
    return null;
  }
  const [first = '', second, ...more] = text.split(/\s*\+\s*/);
  if (more.length > 0 || first === '' || second === '') {
    say(column, `“${shortened(text)}” is not understood. Write one colour, or two held together, like “Oat + Cream”.`);
    return null;
  }
  const colour = readColour(row, column, first, known, main, say);
  if (second === undefined || colour === null) return colour;
  // A second yarn seldom has the name in the column of the yarn: its own full name, or a name that only it has, will do.
  const named = known.colours.filter((each) => sameName(each.name) === sameName(second));
  const heldWith = named.length === 1 ? named[0]! : readColour(row, column, second, known, colour, say);
  return heldWith && { ...colour, heldWith };
}

function readColour(
  row: Row,
  column: ColumnOfColour,
  text: string,
  known: KnownNames,
  main: KnownColour | null,
  say: Say,
): KnownColour | null {
  const yarnText = sameName(row.cell('yarn'));
  const ofYarn = known.colours.filter((each) => yarnText === '' || sameName(each.yarnName) === yarnText);
  if (ofYarn.length === 0) {
    const yarns = [...new Set(known.colours.map((each) => each.yarnName))];
    const message = `“${shortened(row.cell('yarn'))}” is not one of your yarns. ${suggestName(row.cell('yarn'), yarns)}`;
    // Once a row, though both colours miss their yarn.
    if (column === 'foot colour') say('yarn', message);
    return null;
  }
  const named = ofYarn.filter((each) => sameName(each.name) === sameName(text));
  if (named.length === 1) return named[0]!;
  // The cuff may be of another yarn than the foot: its own full name says which.
  const full = known.colours.find((each) => sameName(`${each.yarnName} ${each.name}`) === sameName(text));
  if (full) return full;
  const ofMain = named.find((each) => each.yarnId === main?.yarnId);
  if (ofMain) return ofMain;
  if (named.length > 1) {
    const yarns = named.map((each) => each.yarnName).join(' and ');
    say(
      column,
      `There is ${named[0]!.name} in ${yarns}. Fill in the yarn, or write “${named[0]!.yarnName} ${named[0]!.name}”.`,
    );
    return null;
  }
  const names = [...new Set(ofYarn.map((each) => each.name))];
  say(column, `“${shortened(text)}” is not one of your colours. ${suggestName(text, names)}`);
  return null;
}

function readCuff(row: Row, known: KnownNames, say: Say): CuffWish | number {
  const text = sameName(row.cell('cuff')).replace('-', ' ');
  if (text === '' || text === 'short') return 'short';
  if (text === 'turned down' || text === 'none') return text;
  if (text === 'no') return 'none';
  const heightMm = lengthMmFrom(text, usualUnit(known.settings.unitSystem));
  if (heightMm !== null && heightMm >= cuffRangeMm.least && heightMm <= cuffRangeMm.most) return heightMm;
  say(
    'cuff',
    `“${shortened(row.cell('cuff'))}” is not understood. Write short, turned down, none, or a height like ${csvLikes[known.settings.unitSystem].cuff}.`,
  );
  return 'short';
}

const fits: readonly Fit[] = ['snug', 'usual', 'roomy'];

function readFit(row: Row, say: Say): Fit {
  const text = sameName(row.cell('fit'));
  if (text === '') return 'usual';
  const fit = fits.find((each) => each === text);
  if (!fit) say('fit', `“${shortened(row.cell('fit'))}” is not understood. Write snug, usual or roomy.`);
  return fit ?? 'usual';
}

function readQuantity(row: Row, say: Say): number {
  const text = row.cell('quantity');
  if (text === '' && !row.has('quantity')) return 1;
  const quantity = /^\d{1,3}$/.test(text) ? Number(text) : 0;
  if (quantity === 0) {
    say(
      'quantity',
      `Write how many pairs, a whole number from 1 to 999.${text === '' ? '' : ` It says “${shortened(text)}”.`}`,
    );
  }
  return quantity;
}

function readPrice(row: Row, known: KnownNames, say: Say): number | null {
  const text = row.cell('price');
  if (text === '') return null;
  const { currency } = known.settings;
  const digits = (formatCentsForInput(0, currency).split('.')[1] ?? '').length;
  const plain = text
    .replace(currencySign(currency), '')
    .replace(new RegExp(`\\s*${currency}$`, 'i'), '')
    .trim();
  const match = /^(\d{1,7})(?:[.,](\d{1,2}))?$/.exec(plain);
  if (match && (match[2] ?? '').length <= digits) {
    return Number(match[1]) * 10 ** digits + Number((match[2] ?? '').padEnd(digits, '0') || '0');
  }
  const example = formatCentsForInput(digits === 0 ? 3000 : 3250, currency);
  say('price', `“${shortened(text)}” is not a price of one pair. Write it like ${example}.`);
  return null;
}
