import type { YarnCategory } from '#core/gauge/hand.ts';
import type { Day } from '#core/shared/calendar.ts';
import { metresInYard } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { JoinBy } from '#core/shelf/unlabelled.ts';
import type { UnlabelledRow } from '#flows/shelf/save-unlabelled.ts';
import { type FieldReader, type FormBody, readFields, textOf } from '#server/forms/fields.ts';
import { readDay } from '#server/forms/shelf.ts';

export const firstRows = 5;
const moreRows = 5;
const mostRows = 100;

const joins = ['thickness', 'weight', 'all'] as const;

/** How many rows the form has. */
export function rowCountOf(body: FormBody): number {
  const count = Number(textOf(body, 'rows'));
  return Number.isSafeInteger(count) && count >= 1 ? Math.min(count, mostRows) : firstRows;
}

/** How many it has after *more rows*; a form takes a hundred. */
export const rowCountAfter = (body: FormBody): number => Math.min(mostRows, rowCountOf(body) + moreRows);

const cells = ['mass', 'ten', 'wraps', 'colour', 'donor'] as const;

/** The name of a box. @param row from 1 */
export const cellName = (row: number, cell: (typeof cells)[number] | 'hex' | 'weight') => `${cell}${row}`;

/** The rows in which something was typed: a chip alone says nothing, a colour picker always holds one. */
const filledRows = (body: FormBody) =>
  Array.from({ length: rowCountOf(body) }, (_, index) => index + 1).filter((row) =>
    cells.some((cell) => cell !== 'donor' && textOf(body, cellName(row, cell)).trim() !== ''),
  );

/** The yarn weight that was chosen among those that fit; one that fits no longer is passed over later. */
const readWeight = (text: string) => (/^[0-7]$/.test(text) ? (Number(text) as YarnCategory) : null);

function readRow(fields: FieldReader, body: FormBody, row: number, donor: string | null): UnlabelledRow {
  const massG = fields.measure(cellName(row, 'mass'), 'massG', {
    sentence: {
      metric: 'Enter what the ball weighs in grams, like 84',
      imperial: 'Enter what the ball weighs in ounces, like 3',
    },
    least: 0.1,
    most: 100_000,
  });
  const tenG = fields.measure(cellName(row, 'ten'), 'fineMassG', {
    sentence: {
      metric: 'Enter what ten metres of it weigh in grams, like 8',
      imperial: 'Enter what ten yards of it weigh in ounces, like 0.26',
    },
    least: 0.05,
    most: 180,
  });
  const wrapsPerInch = fields.optionalNumber(cellName(row, 'wraps'), {
    sentence: 'Enter how many wraps lie side by side in an inch (2.54 cm), like 9, or leave it empty',
    least: 0.5,
    most: 100,
  });
  const colour = fields.text(cellName(row, 'colour'), {
    sentence: 'Enter what you call its colour, like moss green',
    most: 100,
  });
  const hexField = cellName(row, 'hex');
  const swatchHex = textOf(body, hexField).trim().toLowerCase();
  if (!/^#[0-9a-f]{6}$/.test(swatchHex)) {
    fields.say(hexField, 'Choose a colour, or enter it as # and six signs, like #7a5f8f.');
  }
  return {
    massG,
    tenMetresG: fields.units === 'metric' ? tenG : tenG / metresInYard,
    wrapsPerInch,
    weight: readWeight(textOf(body, cellName(row, 'weight'))),
    colour,
    swatchHex,
    donor: fields.optionalText(cellName(row, 'donor')) ?? donor,
  };
}

export type TypedRow = { readonly row: number; readonly ball: UnlabelledRow };

export type UnlabelledForm = {
  /** Rows without a fault, by their number: what can be worked out already. */
  readonly good: readonly TypedRow[];
  readonly joinBy: JoinBy;
  readonly day: Day;
  readonly place: string | null;
  readonly problems: readonly Problem[];
};

// Rows share their sentences, so each says whose it is.
const ofBall = (row: number, message: string) => `Ball ${row}: ${message.charAt(0).toLowerCase()}${message.slice(1)}`;

/** Reads every row on its own, so that a fault in one keeps none of the others from being worked out. */
export function parseUnlabelled(body: FormBody, today: Day, settings: Pick<Settings, 'unitSystem'>): UnlabelledForm {
  const shared = readFields(body, undefined, settings.unitSystem);
  const donor = shared.optionalText('donor');
  const place = shared.optionalText('place');
  const day = readDay(shared, 'day', 'Enter the day it came', today);
  const joinBy = shared.choice('join', joins, { sentence: 'Choose what becomes one yarn' });
  const problems: Problem[] = [];
  const good: TypedRow[] = [];
  for (const row of filledRows(body)) {
    const fields = readFields(body, undefined, settings.unitSystem);
    const ball = readRow(fields, body, row, donor);
    problems.push(...fields.problems.map((problem) => ({ ...problem, message: ofBall(row, problem.message) })));
    if (fields.problems.length === 0) good.push({ row, ball });
  }
  if (filledRows(body).length === 0) {
    problems.push({
      code: 'nothing',
      path: cellName(1, 'mass'),
      message: 'Enter at least one ball: what it weighs, what ten metres of it weigh, and its colour.',
    });
  }
  return { good, joinBy, day, place, problems: [...problems, ...shared.problems] };
}
