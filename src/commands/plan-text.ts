import type { HandJson, LineJson, ListJson, PlanJson } from '#commands/plan-json.ts';
import { countOf, formatCents, formatDay, formatMinutes } from '#core/shared/format.ts';
import { formatMass, formatYarnLength, type UnitSystem } from '#core/shared/measures.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';

type Cell = string;
type Column = { readonly name: string; readonly isNumber?: boolean };

/** Lines up a table: words at the left, numbers at the right, two blanks between columns. */
function alignTable(columns: readonly Column[], rows: readonly (readonly Cell[])[]): string[] {
  const widths = columns.map((column, index) =>
    Math.max(column.name.length, ...rows.map((row) => (row[index] ?? '').length)),
  );
  const lineOf = (cells: readonly Cell[]) =>
    cells
      .map((cell, index) => (columns[index]?.isNumber ? cell.padStart(widths[index]!) : cell.padEnd(widths[index]!)))
      .join('  ')
      .trimEnd();
  return [
    lineOf(columns.map((column) => column.name)),
    widths.map((width) => '-'.repeat(width)).join('  '),
    ...rows.map(lineOf),
  ];
}

/** A heading and what stands under it. */
function part(title: string, lines: readonly string[]): string[] {
  return ['', title.toUpperCase(), ...lines];
}

/** Colours of one part: two strands of one colour are named once. */
function strandWords(names: readonly string[]): string {
  const different = [...new Set(names)];
  return different.length === 1 && names.length > 1 ? `${names.length} x ${names[0]}` : different.join(' and ');
}

/** "Heather/Oat", foot and cuff; one colour all over is named once. */
function colourWords(colours: LineJson['colours']): string {
  return [...new Set(Object.values(colours).map(strandWords))].join('/');
}

function countCells({ counts, gramsAPair, minutesAPair }: HandJson, system: UnitSystem): Cell[] {
  return [
    `${counts.castOn}`,
    `${counts.rows}`,
    `${counts.toeStitches}`,
    `${counts.markRow}`,
    counts.cuffStitches === null ? '-' : `${counts.cuffStitches} x ${counts.cuffRows}`,
    formatMass(gramsAPair, system),
    formatMinutes(minutesAPair),
  ];
}

/** A row for each knitter of a line, in her counts; a line that the finished stock has all of is one row without any. */
function knitRows(plan: PlanJson, system: UnitSystem): Cell[][] {
  return plan.lines.flatMap((line) => {
    const head = [`${line.order}`, line.outlet, sizeWordsIn(line.size, system), colourWords(line.colours)];
    const due = line.dueDay ?? '-';
    if (line.byKnitter.length === 0) return [[...head, '0', 'from stock', ...Array<Cell>(7).fill('-'), due, '-']];
    return line.byKnitter.map((part, index) => [
      ...(index === 0 ? head : head.map(() => '')),
      `${part.pairs}`,
      part.knitter ?? 'nobody',
      ...countCells(part, system),
      index === 0 ? due : '',
      part.finishDay ?? '-',
    ]);
  });
}

const knitColumns: readonly Column[] = [
  { name: 'order', isNumber: true },
  { name: 'outlet' },
  { name: 'size' },
  { name: 'foot/cuff' },
  { name: 'pairs', isNumber: true },
  { name: 'knitter' },
  { name: 'cast on', isNumber: true },
  { name: 'rows', isNumber: true },
  { name: 'toe', isNumber: true },
  { name: 'mark', isNumber: true },
  { name: 'cuff', isNumber: true },
  { name: 'yarn', isNumber: true },
  { name: 'time', isNumber: true },
  { name: 'due' },
  { name: 'done' },
];

function listLines(title: string, list: ListJson, currency: string, system: UnitSystem): string[] {
  const proof = list.isProvenCheapest
    ? 'cannot be cheaper'
    : `at most ${formatCents(list.totalCents - list.boundCents, currency)} could be saved`;
  const isNothingSold = list.baskets.length === 0 && list.notSold.length > 0;
  const lines = [
    isNothingSold ? `${title}: not known yet` : `${title}: ${formatCents(list.totalCents, currency)}, ${proof}`,
  ];
  for (const basket of list.baskets) {
    const off = basket.offCents === 0 ? '' : `, off ${formatCents(basket.offCents, currency)}`;
    const postage = `goods ${formatCents(basket.goodsCents, currency)}${off}, postage ${formatCents(basket.postageCents, currency)}`;
    lines.push(`  ${basket.shop}: ${postage}`);
    for (const pack of basket.packs) {
      const amount = `${countOf(pack.packs, 'pack', 'packs')}, ${formatMass(pack.grams, system)}`;
      lines.push(`    ${pack.colour.padEnd(14)} ${amount.padEnd(20)} ${formatCents(pack.cents, currency)}`);
    }
  }
  for (const { colour, grams } of list.notSold)
    lines.push(`  ${colour}: ${formatMass(grams, system)}, no shop sells it yet`);
  return lines;
}

/** Nothing is asked for a gift, and so nothing pays for it. */
const isGift = ({ priceCents, getsMoneyBackCents }: LineJson['prices'][number]) =>
  priceCents === 0 && getsMoneyBackCents === null;

/** Stands where an amount of nothing would be wrong. */
const notKnown = 'not known';

function priceRows(plan: PlanJson, system: UnitSystem, money: (cents: number | null) => string): Cell[][] {
  const seen = new Set<string>();
  return plan.lines.flatMap((line) => {
    const cost = line.costAPair;
    const isUnknown = line.isYarnPriceUnknown && cost.labourCents === 0;
    const yarn = line.isYarnPriceUnknown
      ? cost.yarnCents === 0
        ? notKnown
        : `${money(cost.yarnCents)}+`
      : money(cost.yarnCents);
    const key = `${line.size}/${cost.totalCents}/${line.inReferenceHand.minutesAPair}`;
    if (seen.has(key)) return [];
    seen.add(key);
    return line.prices.map((price, index) => [
      index === 0 ? sizeWordsIn(line.size, system) : '',
      index === 0 ? yarn : '',
      index === 0 ? money(cost.materialsCents) : '',
      index === 0 ? money(cost.labourCents) : '',
      index === 0 ? money(cost.overheadCents) : '',
      index === 0 ? (isUnknown ? notKnown : money(cost.totalCents)) : '',
      price.outlet,
      isGift(price) ? 'a gift' : price.priceCents === null && isUnknown ? notKnown : money(price.priceCents),
      money(price.getsMoneyBackCents),
      money(price.paysWageCents),
      money(price.hourWorthCents),
    ]);
  });
}

const priceColumns: readonly Column[] = [
  { name: 'a pair of' },
  { name: 'yarn', isNumber: true },
  { name: 'materials', isNumber: true },
  { name: 'work', isNumber: true },
  { name: 'running', isNumber: true },
  { name: 'costs', isNumber: true },
  { name: 'outlet' },
  { name: 'price', isNumber: true },
  { name: 'money back', isNumber: true },
  { name: 'pays wage', isNumber: true },
  { name: 'an hour', isNumber: true },
];

/** What all pairs to knit cost; what is missing where some yarn has no price. */
function costsInAll({ lines, totals: { cost } }: PlanJson, money: (cents: number | null) => string): string {
  const missing = lines.some((line) => line.isYarnPriceUnknown)
    ? ' Some yarn has no price yet: enter a shop’s, or what you paid.'
    : '';
  if (missing !== '' && cost.yarnCents + cost.labourCents === 0)
    return `What the pairs cost is not known yet.${missing}`;
  const opened = cost.openedBallCents ? `, left of opened balls ${money(cost.openedBallCents)}` : '';
  return `In their knitters’ hands all pairs to knit cost ${money(cost.totalCents)}: yarn ${money(cost.yarnCents)}, other materials ${money(cost.materialsCents)}, work ${money(cost.labourCents)}, running costs ${money(cost.overheadCents)}${opened}.${missing}`;
}

/** The plan as aligned text for a terminal: what to knit, yarn to buy, time, costs and prices. The JSON itself is always metric. */
export function planText(plan: PlanJson, system: UnitSystem): string {
  const { currency, totals } = plan;
  const money = (cents: number | null) => (cents === null ? '-' : formatCents(cents, currency));
  const lines = [
    `Plan for ${formatDay(plan.today)}: ${countOf(totals.pairs, 'pair', 'pairs')} to knit, ${formatMinutes(totals.minutes)}, ${formatMass(totals.grams, system)} of yarn`,
    ...part('What to knit', [
      ...alignTable(knitColumns, knitRows(plan, system)),
      '',
      'Counts, yarn and time are of a pair in its knitter’s hand. Rows, mark and cuff (stitches x rows) count the cast-on as a row.',
    ]),
  ];
  if (plan.fromStock.length > 0)
    lines.push('', `${countOf(plan.fromStock.length, 'pair comes', 'pairs come')} from finished stock.`);
  for (const { line, why } of plan.notPlanned) lines.push(`Not planned, line ${line}: ${why}`);
  const isAnyOnWay = plan.yarn.some(({ onWayG }) => onWayG > 0);
  const yarnRows = plan.yarn.map((yarn) => [
    yarn.colour,
    yarn.yarn,
    formatMass(yarn.likelyG, system),
    formatMass(yarn.safeG, system),
    formatYarnLength(yarn.likelyM, system),
    formatMass(yarn.shelfG, system),
    ...(isAnyOnWay ? [formatMass(yarn.onWayG, system)] : []),
    formatMass(yarn.toBuyLikelyG, system),
    formatMass(yarn.toBuySafeG, system),
  ]);
  lines.push(
    ...part('Yarn', [
      ...alignTable(
        [
          { name: 'colour' },
          { name: 'yarn' },
          { name: 'likely', isNumber: true },
          { name: 'safe', isNumber: true },
          { name: 'length', isNumber: true },
          { name: 'on the shelf', isNumber: true },
          ...(isAnyOnWay ? [{ name: 'on the way', isNumber: true }] : []),
          { name: 'to buy', isNumber: true },
          { name: 'to buy, safe', isNumber: true },
        ],
        yarnRows,
      ),
      '',
      ...listLines('Most likely list', plan.lists.likely, currency, system),
      ...listLines('Safe list', plan.lists.safe, currency, system),
    ]),
    ...part('Time', [
      ...alignTable(
        [
          { name: 'knitter' },
          { name: 'pairs', isNumber: true },
          { name: 'time', isNumber: true },
          { name: 'finishes' },
        ],
        plan.time.knitters.map((knitter) => [
          knitter.name,
          `${knitter.pairs}`,
          formatMinutes(knitter.minutes),
          knitter.finishDay === null ? '-' : formatDay(knitter.finishDay),
        ]),
      ),
      ...plan.time.lateOrders.map(({ order, daysLate }) =>
        daysLate === null
          ? `Order ${order} cannot be finished.`
          : `Order ${order} is ${countOf(daysLate, 'day', 'days')} late.`,
      ),
    ]),
    ...part(
      plan.referenceKnitter === null ? 'Costs and prices' : `Costs and prices in ${plan.referenceKnitter}’s hand`,
      [...alignTable(priceColumns, priceRows(plan, system, money)), '', costsInAll(plan, money)],
    ),
  );
  // Numbers carry no-break spaces for the page; a terminal and its tools want plain ones.
  return `${lines.join('\n').replace(/[\u00a0\u202f]/g, ' ')}\n`;
}
