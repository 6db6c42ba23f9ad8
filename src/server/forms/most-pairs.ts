import { z } from 'zod';
import type { CuffWish } from '#core/batch/kinds.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { KnownNames, KnownStyle } from '#flows/orders/known-names.ts';
import type { LastUsed } from '#flows/orders/last-used.ts';
import type { SeenPairs } from '#flows/shelf-plan/plan-from-shelf.ts';
import type { ShelfWish, SizeRow, Together } from '#flows/shelf-plan/shelf-question.ts';
import {
  type FieldReader,
  type FormBody,
  type FormValues,
  readFields,
  textOf,
  valuesOf,
} from '#server/forms/fields.ts';
import { finish, readStyleChoice } from '#server/forms/orders.ts';
import { type GridFrame, readGridFrame } from '#server/forms/orders-grid.ts';

const cuffs: readonly CuffWish[] = ['short', 'turned down', 'none'];
export const mostOfOneSize = 99;

/** The field of the colours that a role may have. */
export function ticksField(role: string): string {
  return `use-${role}`;
}

export function leastField(row: string): string {
  return `least-${row}`;
}

export function mostField(row: string): string {
  return `most-${row}`;
}

export type MostPairsForm = {
  readonly values: FormValues;
  readonly style: KnownStyle | null;
  readonly rows: GridFrame['rows'];
  /** Colours that are ticked for each role. */
  readonly ticked: ReadonlyMap<string, readonly number[]>;
  readonly wish: Result<ShelfWish>;
};

const textsOf = (body: FormBody, name: string) =>
  [body[name]].flat().filter((each): each is string => typeof each === 'string');

/** The ticks of a role; all of them where the form had no such boxes, as for a style chosen just now. */
function ticksOf(body: FormBody, role: string, colourIds: readonly number[]): readonly number[] {
  if (!textsOf(body, 'asked').includes(role)) return colourIds;
  const sent = new Set(textsOf(body, ticksField(role)));
  return colourIds.filter((id) => sent.has(String(id)));
}

function readSizes(reader: FieldReader, rows: GridFrame['rows']): readonly SizeRow[] {
  const count = (name: string, words: string) => {
    const sentence = `Enter how many pairs of ${words}, a whole number up to ${mostOfOneSize}, or nothing`;
    return reader.optionalNumber(name, { sentence, least: 0, most: mostOfOneSize, isWhole: true });
  };
  return rows.map((row) => {
    const before = reader.problems.length;
    const least = count(leastField(row.value), row.words) ?? 0;
    const most = count(mostField(row.value), row.words) ?? mostOfOneSize;
    if (most < least && reader.problems.length === before) {
      reader.say(
        mostField(row.value),
        `At most ${most} pairs of ${row.words} are less than the ${least} that you want at least. Make the most larger, or the least smaller.`,
      );
    }
    return { ...row, least, most };
  });
}

/**
 * Reads what is asked of the shelf; fields that were not sent have what is usual.
 *
 * @param colourIds colours there is yarn of, all ticked at first
 * @param knitterIds whose hand may be chosen
 */
export function readMostPairs(
  body: FormBody,
  known: KnownNames,
  last: LastUsed,
  colourIds: readonly number[],
  knitterIds: readonly number[],
): MostPairsForm {
  const typed = valuesOf(body);
  const frame = readGridFrame(typed, known, last);
  const usual = { cuff: 'short', together: 'two', amounts: known.settings.buyAt, leave: 'orders', knitter: '' };
  const values = { ...usual, ...typed, ...frame.values, sizes: typed.sizes || (frame.values.sizes ?? '') };
  if (frame.problems.length === 0) values.sizes = frame.values.sizes ?? '';
  const reader = readFields(values, known.settings.currency, known.settings.unitSystem);
  const style = readStyleChoice(reader, known);
  for (const { path, message } of frame.problems) reader.say(path, message);
  const sizes = readSizes(reader, frame.rows);
  const cuff: CuffWish =
    style?.hasCuff === false ? 'none' : reader.choice('cuff', cuffs, { sentence: 'Choose a cuff' });
  const ticked = new Map((style?.roles ?? []).map(({ name }) => [name, ticksOf(body, name, colourIds)]));
  const ways: readonly Together[] = ['one', 'two', 'any'];
  const together = reader.choice('together', ways, { sentence: 'Choose which colours may go together' });
  for (const { name, words } of style?.roles ?? []) {
    const isNeeded = together !== 'one' && !(cuff === 'none' && name === 'cuff');
    if (isNeeded && ticked.get(name)!.length === 0 && colourIds.length > 0)
      reader.say(ticksField(name), `Tick at least one colour for the ${words.toLowerCase()}.`);
  }
  const main = style?.roles[0]?.name ?? '';
  if (together === 'one' && ticked.get(main)?.length === 0 && colourIds.length > 0)
    reader.say(ticksField(main), 'Tick at least one colour.');
  const knitterId = reader.optionalId('knitter', knitterIds, { sentence: 'Choose one of your knitters' });
  const amounts = reader.choice('amounts', ['safe', 'likely'], { sentence: 'Choose how much yarn a pair gets' });
  const leave = reader.choice('leave', ['orders', 'begun'], { sentence: 'Choose which yarn may be used' });
  // All over in one colour: what is ticked for the main part holds for the others.
  const one = ticked.get(main) ?? [];
  const coloursOfRole = together === 'one' ? new Map([...ticked.keys()].map((role) => [role, one])) : ticked;
  const mixesYarns = reader.check('mixYarns');
  const wish = finish(
    reader,
    () => ({ style: style!, cuff, sizes, together, mixesYarns, coloursOfRole, knitterId, amounts, leave }),
    true,
  );
  return { values, style, rows: frame.rows, ticked, wish };
}

export type PressedForm = { readonly outletId: number; readonly dueDay: string | null; readonly revision: number };

/** Where the pairs go, when, and what was seen when it was pressed. */
export function parsePressed(body: FormBody, outletIds: readonly number[]): Result<PressedForm> {
  const reader = readFields(body);
  const outletId = reader.optionalId('outlet', outletIds, { sentence: 'Choose one of your outlets' });
  if (outletId === null && reader.problems.length === 0) reader.say('outlet', 'Choose where the pairs go.');
  const dueDay = reader.optionalDay('due', {
    sentence: 'Enter the day they are due, like 2026-12-04, or leave it empty',
  });
  if (dueDay !== null && dueDay < '2000' && !reader.problems.some(({ path }) => path === 'due'))
    reader.say('due', 'Enter a day after the year 2000, or leave it empty.');
  const revision =
    reader.optionalNumber('revision', { sentence: 'Find the most pairs again', least: 0, most: 1e12 }) ?? -1;
  const { problems } = reader;
  return problems.length > 0 ? refuse(...problems) : succeed({ outletId: outletId!, dueDay, revision });
}

/** Pairs as the form that makes them a batch carries them; what they mean is checked against the question. */
export function writeSeen({ made }: SeenPairs): string {
  return JSON.stringify(made.map(({ kind, lotIds, count }) => [kind, lotIds, count]));
}

const seenRows = z.array(z.tuple([z.number(), z.array(z.number()), z.number()]));

/** The pairs that were shown when it was pressed; null when the form says nothing that can be read. */
export function parseSeen(body: FormBody): SeenPairs | null {
  let json: unknown;
  try {
    json = JSON.parse(textOf(body, 'made'));
  } catch {
    return null;
  }
  const rows = seenRows.safeParse(json);
  if (!rows.success) return null;
  return {
    question: textOf(body, 'question'),
    made: rows.data.map(([kind, lotIds, count]) => ({ kind, lotIds, count })),
  };
}
