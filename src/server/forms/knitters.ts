import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import { fabrics } from '#core/styles/fabrics.ts';
import { type Rates, weekdays } from '#core/timing/knitter.ts';
import { usualRates } from '#core/timing/minutes.ts';
import type { SwatchRow } from '#db/stores/gauge.ts';
import type { KnitterRow } from '#db/stores/knitters.ts';
import type { KnitterEntry } from '#flows/knitters/save-knitter.ts';
import type { SwatchEntry } from '#flows/knitters/save-swatch.ts';
import { lengthMmFrom } from '#flows/orders/lengths.ts';
import { type FieldReader, type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { numberForInput } from '#server/forms/numbers.ts';

const hands = ['loose', 'usual', 'tight'] as const;
const wordings = ['british', 'american'] as const;

/** The boxes of a knitter's speed: the rate, its words and what is usual. */
export const rateFields: readonly { readonly name: keyof Rates; readonly words: string }[] = [
  { name: 'stitchesPerMin', words: 'Stitches a minute in stocking stitch' },
  { name: 'castOnPerMin', words: 'Stitches cast on in a minute' },
  { name: 'twoTogetherPerMin', words: 'Stitches a minute two together' },
  { name: 'bindOffPerMin', words: 'Stitches bound off in a minute' },
  { name: 'turnMin', words: 'Minutes to turn a row' },
  { name: 'seamMinPer10Cm', words: 'Minutes for 10 cm of seam' },
  { name: 'endMin', words: 'Minutes to weave in an end' },
  { name: 'colourChangeMin', words: 'Minutes to change colour' },
  { name: 'drawUpMin', words: 'Minutes to draw up a toe' },
  { name: 'setUpMin', words: 'Minutes to begin a piece' },
];

function readRates(form: FieldReader): Partial<Rates> {
  const entries = rateFields.map(({ name, words }) => {
    const usual = numberForInput(usualRates[name]);
    const sentence = `${words}: enter a number like ${usual}, or leave it empty`;
    return [name, form.optionalNumber(name, { sentence, least: 0.01, most: 500 })] as const;
  });
  return Object.fromEntries(entries.filter(([, value]) => value !== null));
}

/** A knitter's form. */
export function readKnitterForm(body: FormBody): Result<KnitterEntry> {
  const form = readFields(body);
  const entry: KnitterEntry = {
    name: form.text('name', { sentence: 'Enter a name, like Ada', most: 80 }),
    hand: form.choice('hand', hands, { sentence: 'Choose loosely, as most do, or tightly' }),
    minutesByWeekday: weekdays.map(
      ({ weekday, name }) =>
        form.optionalNumber(`minutes-${weekday}`, {
          sentence: `Enter the minutes on ${name}s, like 60, or leave it empty`,
          least: 0,
          most: 1440,
          isWhole: true,
        }) ?? 0,
    ),
    pairsAMonth: form.optionalNumber('pairsAMonth', {
      sentence: 'Enter the pairs in a month, like 2, or leave it empty',
      least: 0.1,
      most: 500,
    }),
    dailyCapMin: form.number('dailyCapMin', {
      sentence: 'Enter the most minutes in a day, like 240',
      least: 10,
      most: 1440,
      isWhole: true,
    }),
    lastDay: form.optionalDay('lastDay', { sentence: 'Choose a day of the calendar, or leave it empty' }),
    words: form.choice('words', wordings, { sentence: 'Choose British or American words' }),
    isActive: form.check('isActive'),
    rates: readRates(form),
  };
  return form.result(() => entry);
}

/** A knitter as the form shows one. */
export function knitterValues(
  row: Omit<KnitterRow, 'id'>,
  minutes: readonly number[],
  rates: Partial<Rates>,
): FormValues {
  return {
    name: row.name,
    hand: row.hand,
    pairsAMonth: numberForInput(row.pairsAMonth, 2),
    dailyCapMin: String(row.dailyCapMin),
    lastDay: row.lastDay ?? '',
    words: row.words,
    isActive: row.isActive ? 'yes' : '',
    version: String(row.version),
    ...Object.fromEntries(minutes.map((each, index) => [`minutes-${index + 1}`, each === 0 ? '' : String(each)])),
    ...Object.fromEntries(rateFields.map(({ name }) => [name, numberForInput(rates[name])])),
  };
}

export type SwatchChoices = { readonly knitterIds: readonly number[]; readonly yarnIds: readonly number[] };

function readLength(form: FieldReader, body: FormBody, name: string, sentence: string): number {
  const value = lengthMmFrom(textOf(body, name), 'cm');
  if (value === null || value < 20 || value > 2000) {
    form.say(name, `${sentence}. It may be from 2 to 200 cm.`);
    return 100;
  }
  return value;
}

/** A knitted square's form. Lengths are in cm unless another unit is written. */
export function readSwatchForm(body: FormBody, { knitterIds, yarnIds }: SwatchChoices): Result<SwatchEntry> {
  const form = readFields(body);
  const yarnId = form.optionalId('yarnId', yarnIds, { sentence: 'Choose a yarn of the list' });
  if (textOf(body, 'yarnId') === '') form.say('yarnId', 'Choose the yarn it is knitted with.');
  const secondYarnId = form.optionalId('secondYarnId', yarnIds, { sentence: 'Choose a yarn of the list, or none' });
  const strands = form.number('strands', {
    sentence: 'Choose one, two or three strands',
    least: 1,
    most: 3,
    isWhole: true,
  });
  if (secondYarnId !== null && strands !== 2) {
    form.say('strands', 'With another yarn held together there are two strands: choose two.');
  }
  const massG = form.optionalNumber('massG', {
    sentence: 'Enter the grams of the whole square, like 28, or leave it empty',
    least: 0.1,
    most: 5000,
  });
  const entry: SwatchEntry = {
    knitterId: form.optionalId('knitterId', knitterIds, { sentence: 'Choose one of the knitters, or the workshop' }),
    yarnId: yarnId ?? 0,
    secondYarnId: secondYarnId === yarnId ? null : secondYarnId,
    strands,
    needleMm: form.optionalNumber('needleMm', {
      sentence: 'Enter the needle in mm, like 7, or leave it empty',
      least: 1,
      most: 40,
    }),
    fabric: form.choice(
      'fabric',
      fabrics.map((fabric) => fabric.name),
      { sentence: 'Choose what it is knitted in' },
    ),
    stitches: form.number('stitches', { sentence: 'Enter the stitches you counted, like 24.5', least: 2, most: 900 }),
    rows: form.number('rows', { sentence: 'Enter the rows you counted, like 30', least: 2, most: 900 }),
    widthMm: readLength(form, body, 'width', 'Enter over how many cm you counted the stitches, like 18'),
    heightMm: readLength(form, body, 'height', 'Enter over how many cm you counted the rows, like 15'),
    massMg: massG === null ? null : Math.round(massG * 1000),
    isWashed: form.check('isWashed'),
    madeDay: form.optionalDay('madeDay', { sentence: 'Choose a day of the calendar, or leave it empty' }),
    leftOutReason: form.optionalText('leftOutReason', 200),
  };
  checkGauge(form, entry);
  return form.result(() => entry);
}

/** Far from any slipper: a slip of the pen rather than a gauge. Our own bounds, twice beyond lace and jumbo. */
function checkGauge(form: FieldReader, { stitches, rows, widthMm, heightMm }: SwatchEntry): void {
  if (form.problems.length > 0) return;
  const per10 = (count: number, mm: number) => (count * 100) / mm;
  const say = (name: string, count: number, what: string) =>
    form.say(name, `That makes ${numberForInput(count, 1)} ${what} in 10 cm. Count again, or check the length.`);
  if (per10(stitches, widthMm) < 3 || per10(stitches, widthMm) > 80)
    say('stitches', per10(stitches, widthMm), 'stitches');
  if (per10(rows, heightMm) < 3 || per10(rows, heightMm) > 120) say('rows', per10(rows, heightMm), 'rows');
}

/** A square as its form shows it. */
export function swatchValues(row: SwatchRow): FormValues {
  return {
    knitterId: row.knitterId === null ? '' : String(row.knitterId),
    yarnId: String(row.yarnId),
    secondYarnId: row.secondYarnId === null ? '' : String(row.secondYarnId),
    strands: String(row.strands),
    needleMm: numberForInput(row.needleMm, 2),
    fabric: row.fabric,
    stitches: numberForInput(row.stitches, 2),
    rows: numberForInput(row.rows, 2),
    width: numberForInput(row.widthMm / 10, 2),
    height: numberForInput(row.heightMm / 10, 2),
    massG: row.massMg === null ? '' : numberForInput(row.massMg / 1000),
    isWashed: row.isWashed ? 'yes' : '',
    madeDay: row.madeDay ?? '',
    leftOutReason: row.leftOutReason ?? '',
    version: String(row.version),
  };
}

export type DaysOffEntry = { readonly knitterId: number | null; readonly fromDay: Day; readonly toDay: Day };

/** Days off, both ends included; one day when the end is left empty. */
export function readDaysOffForm(body: FormBody, knitterIds: readonly number[]): Result<DaysOffEntry> {
  const form = readFields(body);
  const fromDay = form.day('fromDay', { sentence: 'Choose the first day off' });
  const toDay = form.optionalDay('toDay', { sentence: 'Choose the last day off' }) ?? fromDay;
  if (form.problems.length === 0 && toDay < fromDay) {
    form.say('toDay', 'The last day off comes before the first: choose a later one.');
  }
  const knitterId = form.optionalId('offKnitterId', knitterIds, {
    sentence: 'Choose one of the knitters, or everybody',
  });
  return form.result(() => ({ knitterId, fromDay, toDay }));
}
