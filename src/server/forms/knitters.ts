import type { Day } from '#core/shared/calendar.ts';
import { measureForInput, measureFromInput, type UnitSystem } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import { minutesForInput } from '#core/shared/time-text.ts';
import { type Rates, weekdays } from '#core/timing/knitter.ts';
import { usualRates } from '#core/timing/minutes.ts';
import type { KnitterRow } from '#db/stores/knitters.ts';
import type { KnitterEntry } from '#flows/knitters/save-knitter.ts';
import { type FieldReader, type FormBody, type FormValues, readFields } from '#server/forms/fields.ts';
import { numberForInput } from '#server/forms/numbers.ts';

const hands = ['loose', 'usual', 'tight'] as const;
const wordings = ['british', 'american'] as const;

/** The boxes of a knitter's speed: the rate and its words. */
const rateFields: readonly {
  readonly name: keyof Rates;
  readonly words: string;
  readonly imperialWords?: string;
}[] = [
  { name: 'stitchesPerMin', words: 'Stitches a minute in stocking stitch' },
  { name: 'castOnPerMin', words: 'Stitches cast on in a minute' },
  { name: 'twoTogetherPerMin', words: 'Stitches a minute two together' },
  { name: 'bindOffPerMin', words: 'Stitches bound off in a minute' },
  { name: 'turnMin', words: 'Minutes to turn a row' },
  { name: 'seamMinPer10Cm', words: 'Minutes for 10 cm of seam', imperialWords: 'Minutes for 4 in of seam' },
  { name: 'endMin', words: 'Minutes to weave in an end' },
  { name: 'colourChangeMin', words: 'Minutes to change colour' },
  { name: 'drawUpMin', words: 'Minutes to draw up a toe' },
  { name: 'setUpMin', words: 'Minutes to begin a piece' },
];

function rateText(name: keyof Rates, value: number | undefined, system: UnitSystem): string {
  if (value === undefined) return '';
  return name === 'seamMinPer10Cm' ? measureForInput(value, 'per10Cm', system) : numberForInput(value);
}

/** Each box with its words and what is usual. */
export function rateBoxes(system: UnitSystem) {
  return rateFields.map(({ name, words, imperialWords = words }) => ({
    name,
    words: system === 'metric' ? words : imperialWords,
    usual: rateText(name, usualRates[name], system),
  }));
}

function readRates(form: FieldReader): Partial<Rates> {
  const entries = rateBoxes(form.units).map(({ name, words, usual }) => {
    const sentence = `${words}: enter a number like ${usual}, or leave it empty`;
    const typed = form.optionalNumber(name, { sentence, least: 0.01, most: 500 });
    const isOfSeam = typed !== null && name === 'seamMinPer10Cm';
    return [name, isOfSeam ? measureFromInput(typed, 'per10Cm', form.units) : typed] as const;
  });
  return Object.fromEntries(entries.filter(([, value]) => value !== null));
}

/** A knitter's form. */
export function readKnitterForm(body: FormBody, unitSystem: UnitSystem): Result<KnitterEntry> {
  const form = readFields(body, undefined, unitSystem);
  const entry: KnitterEntry = {
    name: form.text('name', { sentence: 'Enter a name, like Ada', most: 80 }),
    hand: form.choice('hand', hands, { sentence: 'Choose loosely, as most do, or tightly' }),
    minutesByWeekday: weekdays.map(
      ({ weekday, name }) =>
        form.optionalMinutes(`minutes-${weekday}`, {
          sentence: `Enter the time on ${name}s, like 1 h 30 or 90 min, or leave it empty`,
          least: 0,
          most: 1440,
        }) ?? 0,
    ),
    pairsAMonth: form.optionalNumber('pairsAMonth', {
      sentence: 'Enter the pairs in a month, like 2, or leave it empty',
      least: 0.1,
      most: 500,
    }),
    dailyCapMin: form.minutes('dailyCapMin', {
      sentence: 'Enter the most knitting in a day, like 4 h',
      least: 10,
      most: 1440,
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
  system: UnitSystem,
): FormValues {
  return {
    units: system,
    name: row.name,
    hand: row.hand,
    pairsAMonth: numberForInput(row.pairsAMonth, 2),
    dailyCapMin: minutesForInput(row.dailyCapMin),
    lastDay: row.lastDay ?? '',
    words: row.words,
    isActive: row.isActive ? 'yes' : '',
    version: String(row.version),
    ...Object.fromEntries(
      minutes.map((each, index) => [`minutes-${index + 1}`, each === 0 ? '' : minutesForInput(each)]),
    ),
    ...Object.fromEntries(rateFields.map(({ name }) => [name, rateText(name, rates[name], system)])),
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
