import { currencySign, formatCents, formatCentsForInput, formatCount } from '#core/shared/format.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { OfferBreakRow, OfferRow } from '#db/stores/buying.ts';
import { sameName } from '#flows/orders/known-names.ts';
import { suggestName } from '#flows/orders/nearest-name.ts';
import { type Cells, mostCsvRows, readTable, shortened } from '#flows/orders/read-order-csv.ts';

/** Every column that is understood, in the order of the example. */
export const priceCsvColumns = ['shop', 'yarn', 'colour', 'grams a ball', 'balls a pack', 'price', 'stock'] as const;

export type PriceColumn = (typeof priceCsvColumns)[number];

/** What a table of prices may name. */
export type KnownForPrices = {
  readonly shops: readonly { readonly id: number; readonly name: string }[];
  readonly yarns: readonly { readonly id: number; readonly name: string; readonly ballMg: number }[];
  readonly colours: readonly { readonly id: number; readonly yarnId: number; readonly name: string }[];
  readonly offers: readonly OfferRow[];
  /** Lower prices from so many packs on. */
  readonly breaks: readonly OfferBreakRow[];
  readonly currency: string;
};

/** One price out of a table. A stock that the table does not speak of stays as it is. */
export type PriceEntry = Pick<OfferRow, 'supplierId' | 'yarnColourId' | 'ballMg' | 'ballsPerPack' | 'priceCents'> & {
  readonly row: number;
  readonly stockPacks: number | null | undefined;
};

const mostLetters = 2 * 1024 * 1024;
const otherNames: Readonly<Record<string, PriceColumn>> = {
  supplier: 'shop',
  grams: 'grams a ball',
  'ball grams': 'grams a ball',
  'grams per ball': 'grams a ball',
  'balls per pack': 'balls a pack',
  balls: 'balls a pack',
  'price a pack': 'price',
  'packs in stock': 'stock',
};

function columnOf(text: string): string {
  const plain = sameName(text.replace(/[_-]/g, ' ')).replace(/\bcolor\b/, 'colour');
  return otherNames[plain] ?? plain;
}

// Headings under which shops write lower prices for more: "from 5 packs", "5+", "bulk price", "price break".
const aboutBreaks = /\b(?:from|break|breaks|bulk|discount|tier|rebate)\b|^\d+ ?\+/;

type Columns = ReadonlyMap<PriceColumn, number>;

function readHeader(header: Cells, known: KnownForPrices): Result<Columns> {
  const problems: Problem[] = [];
  const columns = new Map<PriceColumn, number>();
  const path = `row ${header.number}`;
  for (const [index, text] of header.cells.entries()) {
    if (text === '') continue;
    const name = priceCsvColumns.find((column) => column === columnOf(text));
    if (!name && aboutBreaks.test(columnOf(text))) {
      const message =
        'A table holds the price of one pack. Leave this column out, and enter lower prices for more packs on the page of the price.';
      problems.push({ code: 'columnOfBreaks', path: `${path}, ${shortened(text)}`, message });
    } else if (!name) {
      const message = `“${shortened(text)}” is not a column that is known here. ${suggestName(columnOf(text), priceCsvColumns)}`;
      problems.push({ code: 'columnUnknown', path: `${path}, ${shortened(text)}`, message });
    } else if (columns.has(name)) {
      problems.push({ code: 'columnTwice', path: `${path}, ${name}`, message: `There are two columns “${name}”.` });
    } else columns.set(name, index);
  }
  const needed: readonly PriceColumn[] = ['yarn', 'colour', 'price'];
  for (const name of known.shops.length === 1 ? needed : (['shop', ...needed] as const)) {
    if (columns.has(name)) continue;
    const message = `The first row must name the columns, and “${name}” among them.`;
    problems.push({ code: 'columnMissing', path: `${path}, ${name}`, message });
  }
  return problems.length > 0 ? refuse(...problems) : succeed(columns);
}

type Say = (column: PriceColumn, message: string) => void;

/** A number with a point or a comma before its fraction; null when it is none, or could be read in two ways. */
function numberFrom(text: string): number | null {
  const plain = text.replace(/\s/g, '');
  return /^\d{1,7}(?:[.,]\d{1,3})?$/.test(plain) ? Number(plain.replace(',', '.')) : null;
}

function readShop(text: string, { shops }: KnownForPrices, say: Say): number | null {
  if (text === '' && shops.length === 1) return shops[0]!.id;
  const names = shops.map(({ name }) => name);
  const shop = shops.find(({ name }) => sameName(name) === sameName(text));
  if (shop) return shop.id;
  say(
    'shop',
    text === ''
      ? `Say which shop. ${suggestName('', names)}`
      : `“${shortened(text)}” is not one of your shops. ${suggestName(text, names)} A new shop is added on the page of the shops first.`,
  );
  return null;
}

function readColours(cells: { yarn: string; colour: string }, known: KnownForPrices, say: Say): readonly number[] {
  const yarn = known.yarns.find(({ name }) => sameName(name) === sameName(cells.yarn));
  if (!yarn) {
    const suggestion = suggestName(
      cells.yarn,
      known.yarns.map(({ name }) => name),
    );
    say(
      'yarn',
      cells.yarn === ''
        ? `Fill in the yarn. ${suggestion}`
        : `“${shortened(cells.yarn)}” is not one of your yarns. ${suggestion}`,
    );
    return [];
  }
  const own = known.colours.filter(({ yarnId }) => yarnId === yarn.id);
  if (sameName(cells.colour) === 'all') {
    if (own.length === 0) say('colour', `${yarn.name} has no colours yet.`);
    return own.map(({ id }) => id);
  }
  const colour = own.find(({ name }) => sameName(name) === sameName(cells.colour));
  if (colour) return [colour.id];
  const suggestion = suggestName(
    cells.colour,
    own.map(({ name }) => name),
  );
  say(
    'colour',
    cells.colour === ''
      ? `Fill in the colour, or write “all” for every colour of ${yarn.name}.`
      : `“${shortened(cells.colour)}” is not a colour of ${yarn.name}. ${suggestion}`,
  );
  return [];
}

function readBallMg(text: string, usualMg: number | undefined, say: Say): number | null {
  if (text === '') return usualMg ?? null;
  const grams = numberFrom(text.replace(/\s*g(?:rams?)?$/i, ''));
  if (grams !== null && grams >= 0.5 && grams <= 100_000) return Math.round(grams * 1000);
  say('grams a ball', `“${shortened(text)}” is not a weight. Write it like 100 or 37.5, or leave it empty.`);
  return null;
}

function readWhole(text: string, column: PriceColumn, most: number, least: number, say: Say): number | null {
  const isWhole = /^\d+$/.test(text);
  const count = Number(text);
  if (isWhole && count >= least && count <= most) return count;
  const fault = isWhole
    ? `${shortened(text)} is too ${count < least ? 'few' : 'many'}: it may be from ${formatCount(least)} to ${formatCount(most)}.`
    : `“${shortened(text)}” is not a whole number.`;
  say(column, `${fault} Write it like 6, or leave it empty.`);
  return null;
}

function readPrice(text: string, { currency }: KnownForPrices, say: Say): number | null {
  const digits = (formatCentsForInput(0, currency).split('.')[1] ?? '').length;
  const plain = text
    .replace(currencySign(currency), '')
    .replace(new RegExp(`\\s*${currency}$`, 'i'), '')
    .trim();
  const match = /^(\d{1,7})(?:[.,](\d{1,3}))?$/.exec(plain);
  if (match && (match[2] ?? '').length <= digits) {
    return Number(match[1]) * 10 ** digits + Number((match[2] ?? '').padEnd(digits, '0') || '0');
  }
  const example = formatCentsForInput(digits === 0 ? 900 : 890, currency);
  say(
    'price',
    text === ''
      ? `Fill in what a pack costs, like ${example}.`
      : `“${shortened(text)}” is not a price. Write it like ${example}, without a sign between thousands.`,
  );
  return null;
}

const keyOf = (entry: Pick<PriceEntry, 'supplierId' | 'yarnColourId' | 'ballMg' | 'ballsPerPack'>) =>
  `${entry.supplierId}/${entry.yarnColourId}/${entry.ballMg}/${entry.ballsPerPack}`;

/** A table changes the price of one pack alone: it must stay above what the pack costs where more are bought. */
function refuseBelowBreak(pack: Parameters<typeof keyOf>[0], priceCents: number, known: KnownForPrices, say: Say) {
  const offer = known.offers.find((each) => keyOf(each) === keyOf(pack));
  const lower = known.breaks.filter(({ offerId }) => offerId === offer?.id);
  const dearest = [...lower].sort((a, b) => b.priceCents - a.priceCents)[0];
  if (!dearest || priceCents > dearest.priceCents) return;
  const breakWords = `From ${dearest.fromPacks} packs on it costs ${formatCents(dearest.priceCents, known.currency)}`;
  say('price', `${breakWords}, and one pack must cost more. Change that on the page of the price first.`);
}

/**
 * Prices out of a table of comma-, semicolon- or tab-separated values. The first row names the columns, in any order; a
 * colour may be "all". Every fault is named by row and column; with any fault there is no price at all.
 *
 * @param text the file's content
 */
export function readPriceCsv(text: string, known: KnownForPrices): Result<readonly PriceEntry[]> {
  const fault = (message: string) => refuse({ code: 'csv', path: 'row 1', message });
  if (text.length > mostLetters) return fault('This is more than 2 MB. Import it in smaller parts.');
  if (known.shops.length === 0) return fault('There is no shop yet. Add it first, with its postage and delivery days.');
  const table = readTable(text);
  if (!table.ok) return table;
  const [header, ...body] = table.value;
  if (!header) return fault('There is nothing here yet. Paste a table, or choose a file.');
  const columns = readHeader(header, known);
  if (!columns.ok) return columns;
  if (body.length === 0) return fault('There is a heading but no row below it.');
  if (body.length > mostCsvRows) {
    return fault(`There are ${body.length} rows; up to ${mostCsvRows} can be imported at once. Split the table.`);
  }
  const problems: Problem[] = [];
  const entries: PriceEntry[] = [];
  const rowOf = new Map<string, number>();
  for (const { number, cells } of body) {
    const before = problems.length;
    const say: Say = (column, message) => problems.push({ code: 'csvCell', path: `row ${number}, ${column}`, message });
    const cell = (column: PriceColumn) => cells[columns.value.get(column) ?? -1] ?? '';
    if (cells.length > header.cells.length) {
      const message = 'This row has more cells than there are columns. Put quotation marks around a cell with a comma.';
      problems.push({ code: 'csvCells', path: `row ${number}`, message });
      continue;
    }
    const supplierId = readShop(cell('shop'), known, say);
    const colourIds = readColours({ yarn: cell('yarn'), colour: cell('colour') }, known, say);
    const yarnId = known.colours.find(({ id }) => id === colourIds[0])?.yarnId;
    const ballMg = readBallMg(cell('grams a ball'), known.yarns.find(({ id }) => id === yarnId)?.ballMg, say);
    const packText = cell('balls a pack');
    const ballsPerPack = packText === '' ? 1 : readWhole(packText, 'balls a pack', 1000, 1, say);
    const priceCents = readPrice(cell('price'), known, say);
    const stockText = cell('stock');
    const hasStock = columns.value.has('stock');
    const read = stockText === '' ? null : readWhole(stockText, 'stock', 1_000_000, 0, say);
    if (problems.length > before) continue;
    for (const yarnColourId of colourIds) {
      const pack = { supplierId: supplierId!, yarnColourId, ballMg: ballMg!, ballsPerPack: ballsPerPack! };
      const first = rowOf.get(keyOf(pack));
      if (first !== undefined) {
        say('price', `Row ${first} has a price for this pack of this colour already. Leave one of them out.`);
        break;
      }
      rowOf.set(keyOf(pack), number);
      refuseBelowBreak(pack, priceCents!, known, say);
      entries.push({ row: number, ...pack, priceCents: priceCents!, stockPacks: hasStock ? read : undefined });
    }
  }
  return problems.length > 0 ? refuse(...problems) : succeed(entries);
}

/** What saving prices would do. */
export type PriceChanges = {
  readonly added: readonly PriceEntry[];
  readonly changed: readonly { readonly entry: PriceEntry; readonly offer: OfferRow }[];
  readonly unchanged: number;
};

/** Prices that are new, others than before, and the same as before. */
export function comparePrices(entries: readonly PriceEntry[], offers: readonly OfferRow[]): PriceChanges {
  const known = new Map(offers.map((offer) => [keyOf(offer), offer]));
  const added: PriceEntry[] = [];
  const changed: { entry: PriceEntry; offer: OfferRow }[] = [];
  for (const entry of entries) {
    const offer = known.get(keyOf(entry));
    if (!offer) added.push(entry);
    else if (
      offer.priceCents !== entry.priceCents ||
      (entry.stockPacks !== undefined && offer.stockPacks !== entry.stockPacks)
    ) {
      changed.push({ entry, offer });
    }
  }
  return { added, changed, unchanged: entries.length - added.length - changed.length };
}
