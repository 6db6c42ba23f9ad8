import type { KnittingWords } from '#core/cards/card.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Place, RowCount } from '#flows/cards/count-rows.ts';
import type { SheetWish } from '#flows/cards/read-runs.ts';
import { type FormBody, readFields, textOf } from '#server/forms/fields.ts';

export type PrintWish = SheetWish & {
  readonly paper: 'a4' | 'letter';
  readonly layout: 'one' | 'four';
  readonly print: 'normal' | 'large';
};

function chosen<T extends string>(text: string | undefined, choices: readonly T[]): T {
  return choices.find((choice) => choice === text) ?? choices[0]!;
}

/** What to print, out of an address: anything that makes no sense is the usual. */
export function readPrintWish(query: Readonly<Record<string, readonly string[]>>): PrintWish {
  const last = (name: string) => query[name]?.at(-1);
  return {
    runs: query.run ?? [],
    pairIds: (query.pair ?? []).filter((text) => /^\d{1,15}$/.test(text)).map(Number),
    words: chosen<KnittingWords | 'knitter'>(last('words'), ['knitter', 'british', 'american']),
    paper: chosen(last('paper'), ['a4', 'letter']),
    layout: chosen(last('layout'), ['one', 'four']),
    print: chosen(last('print'), ['normal', 'large']),
  };
}

/** Which piece of which slipper a form stands for. */
export function parsePlace(body: FormBody): Place {
  return { piece: textOf(body, 'piece').slice(0, 200), slipper: textOf(body, 'slipper') === '2' ? 2 : 1 };
}

/** A press of the row counter: one more, one back, or a number typed in. */
export function parseCount(body: FormBody, most: number): Result<RowCount> {
  const by = textOf(body, 'by');
  if (by === '1' || by === '-1') return succeed({ by: Number(by) });
  const fields = readFields(body);
  const setTo = fields.number('setTo', {
    sentence: 'Enter the last row you have done, like 12',
    least: 0,
    most,
    isWhole: true,
  });
  const seen = Number(/^\d{1,4}$/.exec(textOf(body, 'seen'))?.[0] ?? '-1');
  return fields.result(() => ({ setTo, seen }));
}

export type TickWish = { readonly step: string; readonly isDone: boolean };

export function parseTick(body: FormBody, steps: readonly string[]): Result<TickWish> {
  const step = textOf(body, 'step');
  if (!steps.includes(step)) {
    return refuse({ code: 'noStep', path: '', message: 'This step is not on the card. Look at the page again.' });
  }
  return succeed({ step, isDone: textOf(body, 'done') === 'yes' });
}

export type BallWish = { readonly gramsLeft: number; readonly yarnColourId: number };

/** What the scale shows, less the bag or cone that lies on it. */
export function parseBall(body: FormBody, yarnColourIds: readonly number[], unitSystem: UnitSystem): Result<BallWish> {
  const fields = readFields(body, undefined, unitSystem);
  const grams = fields.measure('grams', 'massG', {
    sentence: {
      metric: 'Enter the grams the scale shows, like 34',
      imperial: 'Enter the ounces the scale shows, like 1.2',
    },
    least: 0,
    most: 100_000,
  });
  const bag =
    fields.optionalMeasure('bag', 'massG', {
      sentence: {
        metric: 'Enter the grams of the bag or cone, like 12',
        imperial: 'Enter the ounces of the bag or cone, like 0.4',
      },
      least: 0,
      most: 100_000,
    }) ?? 0;
  const isBagTooHeavy = fields.problems.length === 0 && bag > grams;
  if (isBagTooHeavy) fields.say('bag', 'The bag or cone cannot weigh more than the scale shows.');
  const yarnColourId =
    fields.optionalId('colour', yarnColourIds, { sentence: 'Choose one of the yarns of this pair' }) ??
    yarnColourIds[0] ??
    0;
  return fields.result(() => ({ gramsLeft: grams - bag, yarnColourId }));
}
