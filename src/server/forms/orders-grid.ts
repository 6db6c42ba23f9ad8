import type { Day } from '#core/shared/calendar.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { type Person, persons } from '#core/sizing/foot.ts';
import { type SizeSystem, sizeSystems } from '#core/sizing/labels.ts';
import { sizeWords } from '#core/sizing/size-words.ts';
import type { LineEntry, OrderDetails } from '#flows/orders/entries.ts';
import type { KnownColour, KnownNames } from '#flows/orders/known-names.ts';
import type { LastUsed } from '#flows/orders/last-used.ts';
import { coloursOf, lineEntryOf, type ReadSize, sizeByBand, sizeByLabel } from '#flows/orders/line-entry.ts';
import { usualOutletOf } from '#flows/orders/usual-outlet.ts';
import { type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import {
  colourField,
  finish,
  readCuff,
  readFit,
  readOrderFields,
  readStyleChoice,
  valuesForNewOrder,
} from '#server/forms/orders.ts';

/** A row of the grid: what the form sends for it, its words, and its size. */
export type GridRow = { readonly value: string; readonly words: string; readonly foot: ReadSize };

const mostRows = 40;
const usualSizes: Readonly<Record<SizeSystem, Readonly<Record<Person, string>>>> = {
  EU: { woman: '36-42', man: '40-46', child: '22-34', unknown: '36-46' },
  UK: { woman: '3-8', man: '6-11', child: '6-13', unknown: '3-11' },
  US: { woman: '5-10', man: '7-12', child: '6-13', unknown: '' },
  Japan: { woman: '22-26', man: '25-29', child: '13-20', unknown: '22-29' },
  Mondopoint: { woman: '225-265', man: '250-290', child: '130-200', unknown: '225-290' },
};

/** The sizes that a grid begins with. */
export function usualSizesFor(person: Person, system: string): string {
  const known = sizeSystems.find((each) => each === system);
  return known ? usualSizes[known][person] : '';
}

function numberOf(text: string): number {
  return Number(text.replace(',', '.'));
}

/** `36-42` and `36, 38.5` as single labels; null for a run that goes nowhere. */
function labelsIn(text: string, system: SizeSystem): readonly string[] | null {
  const step = system === 'Mondopoint' ? 5 : 1;
  const labels: string[] = [];
  for (const part of text.split(/;|\n|,(?!5\b)/).map((each) => each.trim())) {
    if (part === '') continue;
    const run = /^(\d{1,3}(?:[.,]5)?)\s*[-–]\s*(\d{1,3}(?:[.,]5)?)$/.exec(part);
    if (!run) {
      labels.push(part);
      continue;
    }
    const [first, last] = [numberOf(run[1]!), numberOf(run[2]!)];
    if (first > last || (last - first) / step > mostRows) return null;
    for (let size = first; size <= last; size += step) labels.push(String(size));
  }
  return labels;
}

function labelRows(person: Person, system: SizeSystem, text: string, known: KnownNames): Result<GridRow[]> {
  const refused = (message: string) => refuse({ code: 'gridSizes', path: 'sizes', message });
  const labels = labelsIn(text, system);
  if (labels === null) return refused(`Write the sizes from small to large, like 36-42. You typed “${text}”.`);
  const rows: GridRow[] = [];
  for (const label of new Set(labels)) {
    const foot = sizeByLabel({ person, system, label }, known, 'sizes');
    if (!foot.ok) return foot;
    rows.push({ value: label, words: sizeWords({ by: 'label', person, system, label }), foot: foot.value });
  }
  if (rows.length === 0) return refused('Write which sizes the grid has, like 36-42 or 36, 38, 40.');
  if (rows.length > mostRows) return refused(`Up to ${mostRows} sizes fit in a grid; there are ${rows.length}.`);
  return succeed(rows);
}

function bandRows(person: Person, text: string, known: KnownNames): Result<GridRow[]> {
  const wanted = text
    .split(/[,;\n]/)
    .map((part) => part.trim().toLowerCase())
    .filter(Boolean);
  const bands = known.bands
    .filter((band) => band.person === person && (wanted.length === 0 || wanted.includes(band.name.toLowerCase())))
    .slice(0, mostRows);
  if (bands.length === 0) {
    const message =
      wanted.length > 0
        ? `None of your bands is called “${text.trim()}”. Leave it empty to show all of them.`
        : 'There are no bands for these feet. Choose others, or a size system.';
    return refuse({ code: 'gridSizes', path: 'sizes', message });
  }
  return succeed(
    bands.map((band) => ({
      value: `band:${band.id}`,
      words: sizeWords({ by: 'band', person: band.person, name: band.name }),
      foot: { size: { by: 'band', bandId: band.id }, person: band.person, lengthMm: band.lengthMm },
    })),
  );
}

export type GridFrame = {
  readonly rows: readonly GridRow[];
  readonly colours: readonly KnownColour[];
  readonly values: FormValues;
  readonly problems: readonly Problem[];
};

/** What stands down and across, from what was chosen; with problems, the sizes that a grid begins with. */
export function readGridFrame(values: FormValues, known: KnownNames, last: LastUsed): GridFrame {
  const person = persons.find((each) => each === values.person) ?? last.person;
  const usesBands =
    known.bands.length > 0 && (values.system === 'own' || (values.system === undefined && last.by === 'band'));
  const system = sizeSystems.find((each) => each === values.system) ?? last.system;
  const yarnIds = [...new Set(known.colours.map((colour) => colour.yarnId))];
  const yarnId = yarnIds.find((id) => String(id) === values.yarn) ?? yarnIds[0];
  const wasShown =
    values.shownPerson === undefined || (values.shownPerson === person && values.shownSystem === values.system);
  const typed = wasShown ? (values.sizes ?? '').slice(0, 200) : '';
  const usual = usesBands ? '' : usualSizesFor(person, system);
  const sizes = typed.trim() === '' ? usual : typed;
  const read = usesBands ? bandRows(person, sizes, known) : labelRows(person, system, sizes, known);
  const again = read.ok ? read : usesBands ? succeed([]) : labelRows(person, system, usual, known);
  return {
    rows: again.ok ? again.value : [],
    // By name, so that the columns stand in the same places each time.
    colours: known.colours.filter((colour) => colour.yarnId === yarnId).sort((a, b) => (a.name < b.name ? -1 : 1)),
    values: { person, system: usesBands ? 'own' : system, sizes, yarn: String(yarnId ?? '') },
    problems: read.ok ? [] : read.problems,
  };
}

/** The fields that a grid begins with: short cuffs and the usual fit, where such pairs mostly go. */
export function valuesForNewGrid(known: KnownNames): FormValues {
  const outlet = String(usualOutletOf(known, 'grid')?.id ?? '');
  const style = String(known.styles[0]?.id ?? '');
  return { ...valuesForNewOrder(known), outlet, style, cuff: 'short', fit: 'usual' };
}

const cellMost = 999;

function readCell(text: string): number | null {
  const typed = text.trim();
  if (typed === '') return 0;
  const count = /^\d{1,3}$/.test(typed) ? Number(typed) : null;
  return count !== null && count <= cellMost ? count : null;
}

/** The rows that were sent, whatever sizes the fields above them say now. */
function rowsSent(body: FormBody, frame: GridFrame, known: KnownNames): Result<readonly GridRow[]> {
  const sent = [body.row].flat().flatMap((each) => (typeof each === 'string' ? [each] : []));
  const problems: Problem[] = [];
  const rows: GridRow[] = [];
  const person = persons.find((each) => each === frame.values.person) ?? 'unknown';
  const system = sizeSystems.find((each) => each === frame.values.system) ?? 'EU';
  for (const value of new Set(sent.slice(0, mostRows + 1))) {
    const shown = frame.rows.find((row) => row.value === value);
    if (shown) {
      rows.push(shown);
      continue;
    }
    const bandId = /^band:(\d{1,15})$/.exec(value);
    const foot = bandId
      ? sizeByBand(Number(bandId[1]), known, 'sizes')
      : sizeByLabel({ person, system, label: value }, known, 'sizes');
    if (!foot.ok) problems.push(...foot.problems);
    else {
      const band = known.bands.find((each) => each.id === Number(bandId?.[1]));
      const words = band
        ? sizeWords({ by: 'band', person: band.person, name: band.name })
        : sizeWords({ by: 'label', person, system, label: value });
      rows.push({ value, words, foot: foot.value });
    }
  }
  return problems.length > 0 ? refuse(...problems) : succeed(rows);
}

/** Reads a grid: one line for each filled cell. Every cell that cannot be read is named by its size and colour. */
export function parseGrid(
  body: FormBody,
  frame: GridFrame,
  known: KnownNames,
  today: Day,
): Result<OrderDetails & { lines: readonly LineEntry[] }> {
  const reader = readFields(body, known.settings.currency, known.settings.unitSystem);
  const style = readStyleChoice(reader, known);
  for (const { path, message } of frame.problems) reader.say(path, message);
  const sent = rowsSent(body, frame, known);
  const rows = sent.ok ? sent.value : [];
  if (!sent.ok) for (const { path, message } of sent.problems) reader.say(path, message);

  const filled: { readonly row: GridRow; readonly colour: KnownColour; readonly count: number }[] = [];
  for (const row of rows) {
    for (const colour of frame.colours) {
      const name = `pairs-${row.value}-${colour.id}`;
      const typed = textOf(body, name);
      const count = readCell(typed);
      if (count === null) {
        const message = `Enter how many pairs of ${row.words} in ${colour.name}, a whole number up to ${cellMost}, or nothing. You typed “${typed.trim().slice(0, 20)}”.`;
        reader.say(name, message);
      } else if (count > 0) {
        filled.push({ row, colour, count });
      }
    }
  }
  const colourIds = known.colours.map((colour) => colour.id);
  const others = new Map<string, KnownColour>();
  for (const role of style?.roles.slice(1) ?? []) {
    const sentence = `Choose a colour for the ${role.words.toLowerCase()}`;
    const id = reader.optionalId(colourField(role.name), colourIds, { sentence });
    const colour = known.colours.find((each) => each.id === id);
    if (colour) others.set(role.name, colour);
  }
  const cuff = style?.hasCuff === false ? 'none' : readCuff(reader);
  const fit = readFit(reader);
  const details = readOrderFields(reader, known, null, today);
  if (filled.length === 0 && reader.problems.length === 0) {
    const [row, colour] = [rows[0], frame.colours[0]];
    const path = row && colour ? `pairs-${row.value}-${colour.id}` : 'sizes';
    reader.say(path, 'Fill in at least one cell: how many pairs of a size in a colour.');
  }
  return finish(
    reader,
    () => ({
      ...details(),
      lines: filled.map(({ row, colour, count }) =>
        lineEntryOf({
          style: style!,
          foot: row.foot,
          fit,
          cuff,
          quantity: count,
          agreedCents: null,
          knitterId: null,
          colours: coloursOf(style!, new Map([[style!.roles[0]!.name, colour], ...others])).colours,
        }),
      ),
    }),
    true,
  );
}
