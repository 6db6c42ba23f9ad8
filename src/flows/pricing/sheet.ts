import { kindFor } from '#core/batch/kinds.ts';
import type { ColoursByRole, Kind } from '#core/batch/lines.ts';
import type { Yarn } from '#core/gauge/hand.ts';
import { keystone } from '#core/pricing/margin.ts';
import { shareSale } from '#core/pricing/shop-account.ts';
import { formatCentsForInput } from '#core/shared/format.ts';
import { mmInInch } from '#core/shared/measures.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { labelRange, labelsForBand } from '#core/sizing/band-labels.ts';
import { footLengthOfBand } from '#core/sizing/bands.ts';
import { type Person, persons } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { labelsForLength, type SizeLabel, type SizeSystem } from '#core/sizing/labels.ts';
import { euRun } from '#core/sizing/size-run.ts';
import { sizeWords } from '#core/sizing/size-words.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import { yarnFrom } from '#flows/plan-input.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { usualSystems } from '#flows/pricing/tags.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';
import { type WorkshopStyle, workshopStyles } from '#flows/styles/read-styles.ts';
import { type YarnChoice, yarnChoices } from '#flows/try/try-pair.ts';

/** Sizes of a sheet: a person's shoe sizes, or the workshop's own bands. */
export type SheetRun = Person | 'bands';
export const sheetRuns: readonly SheetRun[] = [...persons, 'bands'];

export type SheetWish = {
  readonly outletId: number;
  readonly runs: readonly SheetRun[];
  readonly styleIds: readonly number[];
  /** Yarns by the value of their choice. */
  readonly yarns: readonly string[];
  readonly systems: readonly SizeSystem[];
};

/** A size of a sheet. */
export type SheetSize = {
  /** A band's name; empty for a shoe size, which its labels name. */
  readonly name: string;
  readonly labels: readonly SizeLabel[];
  readonly fromMm: number;
  readonly toMm: number;
};

/** What a pair is sold for, whole minor units; null where no price can be made. */
export type SheetPrice = {
  readonly priceCents: number | null;
  readonly secondCents: number | null;
  /** What a shop that buys may ask for it. */
  readonly suggestedCents: number | null;
  /** What a shop that sells for us keeps, and what is ours. */
  readonly shopCents: number | null;
  readonly oursCents: number | null;
};

export type SheetRow = SheetSize & { readonly prices: readonly SheetPrice[] };

/** A style in a yarn, in the colours that were ordered most. */
export type SheetColumn = {
  readonly style: string;
  readonly yarn: string;
  readonly colours: readonly RoleColours[];
  readonly isYarnPriceUnknown: boolean;
};

export type Sheet = {
  readonly outlet: OutletRow;
  readonly columns: readonly SheetColumn[];
  readonly groups: readonly { readonly run: SheetRun; readonly rows: readonly SheetRow[] }[];
};

export type SheetChoices = {
  readonly workshopName: string;
  readonly outlets: readonly OutletRow[];
  readonly styles: readonly { readonly id: number; readonly name: string }[];
  readonly yarns: readonly { readonly value: string; readonly words: string }[];
  readonly hasBands: boolean;
  /** What the orders are for, or the first of each. */
  readonly usual: SheetWish | null;
};

type Entry = SheetSize & { readonly person: Person; readonly lengthMm: number };

function entriesOf(run: SheetRun, { rows, settings }: WorkshopPlan): Entry[] {
  const { usWomenOffset } = settings;
  if (run !== 'bands') {
    return euRun(run).map(({ lengthMm }) => {
      const labels = labelsForLength(run, lengthMm, usWomenOffset);
      return { name: '', labels, fromMm: lengthMm, toMm: lengthMm, person: run, lengthMm };
    });
  }
  return [...rows.bands]
    .sort((a, b) => a.rank - b.rank || a.id - b.id)
    .map(({ name, person: stored, fromMm, toMm }) => {
      const person = stored ?? 'unknown';
      const labels = labelsForBand(person, fromMm, toMm, usWomenOffset);
      const words = sizeWords({ by: 'band', person, name });
      return { name: words, labels, fromMm, toMm, person, lengthMm: footLengthOfBand(fromMm, toMm) };
    });
}

type InColours = { readonly yarns: Readonly<Record<string, readonly Yarn[]>>; readonly colours: ColoursByRole };

/** Roles of a line with their colours, strand by strand. */
function coloursOfLine(lineId: number, { lineColours }: WorkshopPlan['rows']): Record<string, number[]> {
  const byRole: Record<string, number[]> = {};
  const own = lineColours.filter((each) => each.lineId === lineId).sort((a, b) => a.strand - b.strand);
  for (const { role, yarnColourId } of own) byRole[role] = [...(byRole[role] ?? []), yarnColourId];
  return byRole;
}

/** The colours that a style was ordered in most, where its main yarn is the one asked for; else the yarn's first colour. */
function usualColours(style: WorkshopStyle, choice: YarnChoice, { rows }: WorkshopPlan): InColours {
  const yarnOfColour = new Map(rows.yarnColours.map(({ id, yarnId }) => [id, yarnId]));
  const yarns = new Map(rows.yarns.map((row) => [row.id, yarnFrom(row)]));
  const roles = style.body.roles.map((role) => role.name);
  const main = style.body.pieces[0]?.gaugeOf ?? roles[0] ?? '';
  const pairsIn = new Map<string, { readonly colours: Record<string, number[]>; pairs: number }>();
  for (const line of rows.lines) {
    if (line.styleId !== style.id) continue;
    const colours = coloursOfLine(line.id, rows);
    const mains = colours[main] ?? [];
    const isAsked =
      mains.length === choice.strands.length &&
      mains.every((id, strand) => yarnOfColour.get(id) === choice.strands[strand]!.id);
    if (!isAsked || roles.some((role) => colours[role] === undefined)) continue;
    const key = roles.map((role) => colours[role]!.join('+')).join('/');
    const known = pairsIn.get(key) ?? { colours, pairs: 0 };
    known.pairs += line.quantity;
    pairsIn.set(key, known);
  }
  let most: { readonly colours: Record<string, number[]>; pairs: number } | undefined;
  for (const each of pairsIn.values()) if (most === undefined || each.pairs > most.pairs) most = each;
  if (most) {
    const { colours } = most;
    const yarnsOf = (role: string) => colours[role]!.map((id) => yarns.get(yarnOfColour.get(id) ?? 0)!);
    return { colours, yarns: Object.fromEntries(roles.map((role) => [role, yarnsOf(role)])) };
  }
  const plain = choice.strands.map(() => choice.yarnColourId ?? 0);
  return {
    yarns: Object.fromEntries(roles.map((role) => [role, choice.strands])),
    colours: Object.fromEntries(roles.map((role) => [role, plain])),
  };
}

type Column = { readonly style: WorkshopStyle; readonly yarn: YarnChoice; readonly inColours: InColours };

function kindOf({ style, inColours }: Column, { person, lengthMm }: Pick<Entry, 'person' | 'lengthMm'>): Kind {
  return kindFor({
    style: { versionId: style.versionId, name: style.name, body: style.body },
    foot: footFrom({ person, lengthMm }),
    fit: 'usual',
    ...inColours,
    cuff: 'short',
  });
}

const none: SheetPrice = {
  priceCents: null,
  secondCents: null,
  suggestedCents: null,
  shopCents: null,
  oursCents: null,
};

function priceOf(workshopPlan: WorkshopPlan, outlet: OutletRow, styleId: number, kind: Kind): SheetPrice {
  const { priceCents } = priceOfPair(workshopPlan, kind, outlet.id, { styleId });
  if (priceCents === null) return none;
  const second = priceOfPair(workshopPlan, kind, outlet.id, { styleId, quality: 'second' }).priceCents;
  const isBuying = outlet.kind === 'shop' && outlet.terms === 'wholesale';
  const isSellingForUs = outlet.kind === 'shop' && outlet.terms === 'sale or return';
  const shares = isSellingForUs ? shareSale(priceCents, outlet.shopShareRatio) : null;
  return {
    priceCents,
    secondCents: second,
    suggestedCents: isBuying ? keystone(priceCents) : null,
    shopCents: shares?.shopCents ?? null,
    oursCents: shares?.oursCents ?? null,
  };
}

function columnsOf(wish: SheetWish, workshopPlan: WorkshopPlan): Column[] {
  const styles = workshopStyles(workshopPlan.rows).filter(({ id }) => wish.styleIds.includes(id));
  const yarns = yarnChoices(workshopPlan).filter(({ value }) => wish.yarns.includes(value));
  return styles.flatMap((style) =>
    yarns.map((yarn) => ({ style, yarn, inColours: usualColours(style, yarn, workshopPlan) })),
  );
}

/** Prices of styles over runs of sizes at an outlet. @param wish of what is there: an outlet that sells, styles, yarns */
export function readSheet(workshopPlan: WorkshopPlan, wish: SheetWish): Sheet {
  const { rows } = workshopPlan;
  const outlet = rows.outlets.find(({ id }) => id === wish.outletId)!;
  const named = coloursOf(rows);
  const columns = columnsOf(wish, workshopPlan);
  const groups = wish.runs.map((run) => ({
    run,
    rows: entriesOf(run, workshopPlan).map((entry): SheetRow => {
      const { name, labels, fromMm, toMm } = entry;
      return {
        ...{ name, fromMm, toMm },
        labels: labels.filter(({ system }) => wish.systems.includes(system)),
        prices: columns.map((column) => priceOf(workshopPlan, outlet, column.style.id, kindOf(column, entry))),
      };
    }),
  }));
  return {
    outlet,
    groups: groups.filter((group) => group.rows.length > 0),
    columns: columns.map((column) => {
      const kind = kindOf(column, { person: 'woman', lengthMm: 240 });
      return {
        style: column.style.name,
        yarn: [...new Set(column.yarn.strands.map(({ name }) => name))].join(' with '),
        colours: roleColours(kind, named),
        isYarnPriceUnknown: priceOfKind(workshopPlan, kind).isYarnPriceUnknown,
      };
    }),
  };
}

function isSamePrice(a: SheetPrice, b: SheetPrice): boolean {
  return a.priceCents === b.priceCents && a.secondCents === b.secondCents;
}

/** The labels that the first and the last size both have. */
function joinLabels(first: readonly SizeLabel[], last: readonly SizeLabel[]): SizeLabel[] {
  return first.flatMap(({ system, label }) => {
    const to = last.find((each) => each.system === system)?.label;
    return to === undefined ? [] : [{ system, label: labelRange(label, to) }];
  });
}

/** Neighbouring shoe sizes that cost the same in every column, as one row; bands stay rows of their own. */
export function togetherByPrice(rows: readonly SheetRow[]): SheetRow[] {
  const runs: SheetRow[][] = [];
  for (const row of rows) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const isSame =
      last !== undefined &&
      last.name === '' &&
      row.name === '' &&
      row.prices.every((price, column) => isSamePrice(price, last.prices[column]!));
    if (run && isSame) run.push(row);
    else runs.push([row]);
  }
  return runs.map((run) => {
    const [first, last] = [run[0]!, run.at(-1)!];
    return run.length === 1 ? first : { ...first, labels: joinLabels(first.labels, last.labels), toMm: last.toMm };
  });
}

/** The sheet as a table for a spreadsheet: every size a row, amounts as plain numbers, lengths in the workshop's units. */
export function sheetTable(
  sheet: Sheet,
  wish: Pick<SheetWish, 'systems'>,
  { settings }: Pick<WorkshopPlan, 'settings'>,
): string[][] {
  const isMetric = settings.unitSystem === 'metric';
  const length = (mm: number) => (isMetric ? String(roundHalfUp(mm) / 10) : (mm / mmInInch).toFixed(2));
  const tape = isMetric ? 'cm' : 'in';
  const money = (cents: number | null) => (cents === null ? '' : formatCentsForInput(cents, settings.currency));
  const { terms } = sheet.outlet;
  const isBuying = sheet.outlet.kind === 'shop' && terms === 'wholesale';
  const isSellingForUs = sheet.outlet.kind === 'shop' && terms === 'sale or return';
  const parts: readonly (readonly [words: string, of: keyof SheetPrice])[] = [
    [isBuying ? 'wholesale' : 'price', 'priceCents'],
    ['second', 'secondCents'],
    ...(isBuying ? ([['suggested shop price', 'suggestedCents']] as const) : []),
    ...(isSellingForUs
      ? ([
          ['shop keeps', 'shopCents'],
          ['to us', 'oursCents'],
        ] as const)
      : []),
  ];
  const columns = sheet.columns.flatMap(({ style, yarn }) =>
    parts.map(([words]) => `${style}, ${yarn}: ${words} ${settings.currency}`),
  );
  return [
    ['for', 'size', ...wish.systems, `foot from ${tape}`, `foot to ${tape}`, ...columns],
    ...sheet.groups.flatMap(({ run, rows }) =>
      rows.map((row) => [
        run,
        row.name,
        ...wish.systems.map((system) => row.labels.find((each) => each.system === system)?.label ?? ''),
        length(row.fromMm),
        length(row.toMm),
        ...row.prices.flatMap((price) => parts.map(([, of]) => money(price[of]))),
      ]),
    ),
  ];
}

/** The entries of a list by how many pairs were ordered of each, most first; those without any left out. */
function mostOrdered<T>(pairs: readonly (readonly [T, number])[]): T[] {
  const sums = new Map<T, number>();
  for (const [key, count] of pairs) sums.set(key, (sums.get(key) ?? 0) + count);
  return [...sums].sort((a, b) => b[1] - a[1]).map(([key]) => key);
}

function usualRuns({ rows }: WorkshopPlan): SheetRun[] {
  const people = new Set(rows.lines.flatMap(({ person }) => person ?? []));
  const runs: SheetRun[] = persons.filter((person) => people.has(person));
  if (runs.length > 0) return runs;
  return rows.lines.some(({ bandId }) => bandId !== null) ? ['bands'] : ['woman'];
}

/** What a sheet can be made of, and what most orders are. */
export function readSheetChoices(workshopPlan: WorkshopPlan): SheetChoices {
  const { rows } = workshopPlan;
  const outlets = rows.outlets.filter((outlet) => outlet.kind !== 'gift' && !outlet.isClosed);
  const styles = workshopStyles(rows);
  const yarns = yarnChoices(workshopPlan);
  const yarnOfColour = new Map(rows.yarnColours.map(({ id, yarnId }) => [id, String(yarnId)]));
  const ordered = styles.filter(({ id }) => rows.lines.some((line) => line.styleId === id));
  const firstColour = new Map<number, number>();
  for (const { lineId, yarnColourId } of rows.lineColours) {
    if (!firstColour.has(lineId)) firstColour.set(lineId, yarnColourId);
  }
  const usualYarn = mostOrdered(
    rows.lines.map((line) => [yarnOfColour.get(firstColour.get(line.id) ?? 0) ?? '', line.quantity] as const),
  ).find((value) => yarns.some((yarn) => yarn.value === value));
  const outlet = outlets.find(({ kind }) => kind === 'fair') ?? outlets[0];
  const first = ordered.length > 0 ? ordered : styles;
  const yarn = usualYarn ?? yarns[0]?.value;
  return {
    workshopName: workshopPlan.settings.workshopName,
    outlets,
    styles: styles.map(({ id, name }) => ({ id, name })),
    yarns: yarns.map(({ value, words }) => ({ value, words })),
    hasBands: rows.bands.length > 0,
    usual:
      outlet && first[0] && yarn !== undefined
        ? {
            outletId: outlet.id,
            runs: usualRuns(workshopPlan),
            styleIds: first.slice(0, 3).map(({ id }) => id),
            yarns: [yarn],
            systems: usualSystems(rows),
          }
        : null,
  };
}
