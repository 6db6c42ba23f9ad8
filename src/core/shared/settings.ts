import type { Mark, Unit } from '#core/shared/figure.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';

/** All that a workshop may choose for itself, beside its styles, outlets and knitters. */
export type Settings = {
  readonly currency: string;
  readonly unitSystem: 'metric' | 'imperial';
  readonly purpose: 'sell' | 'order' | 'give';
  /** As it stands on quotes, tags and price sheets; empty for none. */
  readonly workshopName: string;
  /** 0 while no wage was named. */
  readonly wageCentsPerHour: number;
  /** Rent, heating, stall gear and the like, in a usual month. */
  readonly runningCostsCentsPerMonth: number;
  readonly plannedHoursPerMonth: number;
  /** What the workshop wishes to remember or print about tax, in its own words. */
  readonly taxNote: string;
  readonly confidence: number;
  readonly buyAt: 'safe' | 'likely';
  readonly oneSupplierPerColour: boolean;
  readonly mixLotsInGifts: boolean;
  /** The knitter that prices are reckoned at; null for a usual hand at usual speed. */
  readonly referenceKnitterId: number | null;
  readonly usWomenOffset: number;
  readonly timeZone: string;
  readonly spareRatio: number;
  readonly knittingMinutesPerHour: number;
  readonly dailyCapMin: number;
  readonly orderByBufferDays: number;
  readonly leastPartBallG: number;
  readonly chargeOpenedBall: boolean;
  /** How long a quote is good for, unless it says otherwise. */
  readonly quoteDays: number;
  /** Box or bag, paper and tape: added to what a parcel's pairs weigh. */
  readonly packingG: number;
  /** The smallest coin: cash totals are rounded to it. */
  readonly cashStepCents: number;
  /** The smallest step the kitchen scale shows. */
  readonly scaleStepG: number;
};

export type SettingName = keyof Settings;

type Kind<T> =
  | { readonly is: 'choice'; readonly choices: readonly { readonly value: T; readonly words: string }[] }
  | { readonly is: 'number'; readonly least: number; readonly most: number; readonly whole: boolean }
  | { readonly is: 'yesOrNo' }
  | { readonly is: 'row' }
  | { readonly is: 'text'; readonly mostLetters: number; readonly problem: (text: string) => string | null };

export type SettingDefinition<T = unknown> = {
  readonly standard: T;
  readonly kind: Kind<T>;
  readonly unit: Unit | null;
  readonly mark: Mark;
  /** The question that the form asks. */
  readonly words: string;
  readonly hint: string;
};

const sayCurrency = (text: string) =>
  /^[A-Z]{3}$/.test(text) ? null : 'Enter the currency as three capital letters, like EUR or GBP.';

const sayTimeZone = (text: string) => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return null;
  } catch {
    return 'Enter a time zone as continent and city, like Europe/London, or UTC.';
  }
};

/** Every setting: default, range, unit, where the default comes from, and the words of its form field. */
export const settingDefinitions: { readonly [N in SettingName]: SettingDefinition<Settings[N]> } = {
  purpose: {
    standard: 'sell',
    kind: {
      is: 'choice',
      choices: [
        { value: 'sell', words: 'to sell' },
        { value: 'order', words: 'to order' },
        { value: 'give', words: 'to give' },
      ],
    },
    unit: null,
    mark: 'yours',
    words: 'I knit',
    hint: 'Decides what is shown first. With "to give", money stays out of the way.',
  },
  workshopName: {
    standard: '',
    kind: { is: 'text', mostLetters: 60, problem: () => null },
    unit: null,
    mark: 'yours',
    words: 'Name of the workshop',
    hint: 'Stands on quotes, tags and price sheets. Leave it empty for none.',
  },
  currency: {
    standard: 'EUR',
    kind: { is: 'text', mostLetters: 3, problem: sayCurrency },
    unit: null,
    mark: 'yours',
    words: 'Currency',
    hint: 'Three letters, like EUR or GBP. Amounts already entered are not converted.',
  },
  unitSystem: {
    standard: 'metric',
    kind: {
      is: 'choice',
      choices: [
        { value: 'metric', words: 'centimetres and grams' },
        { value: 'imperial', words: 'inches and ounces' },
      ],
    },
    unit: null,
    mark: 'yours',
    words: 'Units',
    hint: '',
  },
  wageCentsPerHour: {
    standard: 0,
    kind: { is: 'number', least: 0, most: 100_000, whole: true },
    unit: 'cents per h',
    mark: 'yours',
    words: 'Wage for an hour of knitting',
    hint: '0 while you have not decided: costs are then shown without your time.',
  },
  runningCostsCentsPerMonth: {
    standard: 0,
    kind: { is: 'number', least: 0, most: 100_000_000, whole: true },
    unit: 'cents',
    mark: 'yours',
    words: 'Running costs in a usual month',
    hint: 'What there is to pay whether you knit or not: phone, light, stall gear. Spread over the hours below.',
  },
  plannedHoursPerMonth: {
    standard: 40,
    kind: { is: 'number', least: 1, most: 2000, whole: false },
    unit: 'h',
    mark: 'ours',
    words: 'Hours knitted in a usual month, by everybody',
    hint: 'Running costs are spread over these hours.',
  },
  taxNote: {
    standard: '',
    kind: { is: 'text', mostLetters: 500, problem: () => null },
    unit: null,
    mark: 'yours',
    words: 'Note on tax',
    hint: 'Your own reminder, or a line that your prices should carry. Tax rules are local: check them.',
  },
  confidence: {
    standard: 0.9,
    kind: {
      is: 'choice',
      choices: [
        { value: 0.5, words: 'as likely as not' },
        { value: 0.8, words: '8 times in 10' },
        { value: 0.9, words: '9 times in 10' },
        { value: 0.95, words: '19 times in 20' },
        { value: 0.99, words: '99 times in 100' },
      ],
    },
    unit: 'ratio',
    mark: 'ours',
    words: 'The safe yarn list is enough',
    hint: 'Surer means more yarn left over.',
  },
  buyAt: {
    standard: 'safe',
    kind: {
      is: 'choice',
      choices: [
        { value: 'safe', words: 'the safe list' },
        { value: 'likely', words: 'the most likely list' },
      ],
    },
    unit: null,
    mark: 'ours',
    words: 'Plan and prices use',
    hint: 'Both lists are always shown. Pairs are given their yarn by the same amounts.',
  },
  oneSupplierPerColour: {
    standard: true,
    kind: { is: 'yesOrNo' },
    unit: null,
    mark: 'ours',
    words: 'Buy each colour in one shop',
    hint: 'So that all of it can come from one dye lot. From several shops a little more is bought, since each lot must hold whole pairs.',
  },
  mixLotsInGifts: {
    standard: false,
    kind: { is: 'yesOrNo' },
    unit: null,
    mark: 'ours',
    words: 'A pair to give may mix dye lots',
    hint: 'Then gifts use up the rests of several lots of a colour; pairs that are sold never mix.',
  },
  referenceKnitterId: {
    standard: null,
    kind: { is: 'row' },
    unit: null,
    mark: 'ours',
    words: 'Prices are reckoned as knitted by',
    hint: 'A price never depends on who happens to knit the pair.',
  },
  usWomenOffset: {
    standard: 2,
    kind: {
      is: 'choice',
      choices: [
        { value: 2, words: 'UK size + 2' },
        { value: 2.5, words: 'UK size + 2.5' },
      ],
    },
    unit: 'size',
    mark: 'published',
    words: 'American women sizes are',
    hint: 'Shoemakers differ; a measured foot is surer than any label.',
  },
  timeZone: {
    standard: 'UTC',
    kind: { is: 'text', mostLetters: 60, problem: sayTimeZone },
    unit: null,
    mark: 'yours',
    words: 'Time zone',
    hint: 'Decides when today begins, like Europe/London.',
  },
  spareRatio: {
    standard: 0,
    kind: { is: 'number', least: 0, most: 0.5, whole: false },
    unit: 'ratio',
    mark: 'ours',
    words: 'Pairs that go wrong, of all pairs',
    hint: 'Above 0, spare pairs are planned for each kind, and shown apart.',
  },
  knittingMinutesPerHour: {
    standard: 50,
    kind: { is: 'number', least: 10, most: 60, whole: true },
    unit: 'min',
    mark: 'ours',
    words: 'Minutes of knitting in an hour',
    hint: 'The rest are pauses for the hands.',
  },
  dailyCapMin: {
    standard: 240,
    kind: { is: 'number', least: 10, most: 1440, whole: true },
    unit: 'min',
    mark: 'ours',
    words: 'Most minutes of knitting in a day',
    hint: 'For new knitters; each has her own. Above four hours a day hands may suffer.',
  },
  orderByBufferDays: {
    standard: 2,
    kind: { is: 'number', least: 0, most: 60, whole: true },
    unit: 'days',
    mark: 'ours',
    words: 'Days to spare when yarn is ordered',
    hint: 'Added to the delivery days of the shop.',
  },
  leastPartBallG: {
    standard: 5,
    kind: { is: 'number', least: 0, most: 100, whole: false },
    unit: 'g',
    mark: 'ours',
    words: 'Smallest part ball that is planned with',
    hint: 'Less than this stays on the shelf uncounted.',
  },
  chargeOpenedBall: {
    standard: false,
    kind: { is: 'yesOrNo' },
    unit: null,
    mark: 'ours',
    words: 'Charge what no plan can use of an opened ball',
    hint: 'Shared out over the pairs that open it. Otherwise it stays on the shelf at what it cost.',
  },
  quoteDays: {
    standard: 14,
    kind: { is: 'number', least: 1, most: 365, whole: true },
    unit: 'days',
    mark: 'ours',
    words: 'A quote is good for',
    hint: 'Counted from the day it is given.',
  },
  packingG: {
    standard: 60,
    kind: { is: 'number', least: 0, most: 5000, whole: false },
    unit: 'g',
    mark: 'ours',
    words: 'Packing of a parcel',
    hint: 'Box or bag, paper and tape: added to the weight of the pairs for the postage.',
  },
  cashStepCents: {
    standard: 1,
    kind: {
      is: 'choice',
      choices: [
        { value: 1, words: '0.01: paid to the last coin' },
        { value: 5, words: '0.05' },
        { value: 10, words: '0.10' },
      ],
    },
    unit: 'cents',
    mark: 'yours',
    words: 'The smallest coin in use',
    hint: 'Cash totals are rounded to it, halves up; a card pays the exact amount.',
  },
  scaleStepG: {
    standard: 1,
    kind: { is: 'number', least: 0.01, most: 10, whole: false },
    unit: 'g',
    mark: 'ours',
    words: 'Smallest step of your scale',
    hint: '1 for most kitchen scales, 0.1 for a letter scale.',
  },
};

export const settingNames = Object.keys(settingDefinitions) as readonly SettingName[];

function sayProblem(kind: Kind<unknown>, value: unknown): string | null {
  switch (kind.is) {
    case 'choice':
      return kind.choices.some((choice) => choice.value === value)
        ? null
        : `Choose one of: ${kind.choices.map((choice) => choice.words).join('; ')}.`;
    case 'number': {
      const isFine =
        typeof value === 'number' &&
        value >= kind.least &&
        value <= kind.most &&
        (!kind.whole || Number.isInteger(value));
      return isFine
        ? null
        : `Enter a ${kind.whole ? 'whole ' : ''}number from ${kind.least} to ${kind.most}, like ${kind.most < 1 ? kind.most / 10 : Math.max(1, kind.least)}.`;
    }
    case 'yesOrNo':
      return typeof value === 'boolean' ? null : 'Choose yes or no.';
    case 'row':
      return value === null || (Number.isSafeInteger(value) && (value as number) > 0)
        ? null
        : 'Choose one of the list.';
    case 'text':
      if (typeof value !== 'string') return 'Enter a text.';
      if (value.length > kind.mostLetters) return `Use at most ${kind.mostLetters} letters.`;
      return kind.problem(value);
  }
}

/**
 * Whether a value may be kept as a setting: the value itself, or what is wrong with it.
 *
 * @param name a setting
 * @param value of any type, as it came from a form parser or a stored row
 * @returns the value, or one problem at the setting's name
 * @example checkSetting('spareRatio', 0.05) // => { ok: true, value: 0.05 }
 * @example checkSetting('buyAt', 'never').ok // => false
 */
export function checkSetting<N extends SettingName>(name: N, value: unknown): Result<Settings[N]> {
  const message = sayProblem(settingDefinitions[name].kind as Kind<unknown>, value);
  return message === null ? succeed(value as Settings[N]) : refuse({ code: 'badSetting', path: name, message });
}

/**
 * A setting out of the text of its form field. Numbers may have a decimal comma; yes is `yes`, `on` or `true`, and
 * anything else, an empty field too, is no; an empty choice of a row is null.
 *
 * @param name a setting
 * @param text what was typed or chosen, in the setting's own unit
 * @returns the value, or one problem at the setting's name
 * @example parseSetting('spareRatio', '0,05') // => { ok: true, value: 0.05 }
 * @example parseSetting('currency', ' gbp ') // => { ok: true, value: 'GBP' }
 * @example parseSetting('dailyCapMin', 'ten').ok // => false
 * @example parseSetting('referenceKnitterId', '') // => { ok: true, value: null }
 * @example parseSetting('referenceKnitterId', 'Ruth').ok // => false
 */
export function parseSetting<N extends SettingName>(name: N, text: string): Result<Settings[N]> {
  const { kind, standard } = settingDefinitions[name];
  const trimmed = text.trim();
  if (kind.is === 'yesOrNo') return checkSetting(name, ['yes', 'on', 'true'].includes(trimmed));
  if (kind.is === 'text') return checkSetting(name, name === 'currency' ? trimmed.toUpperCase() : trimmed);
  if (kind.is === 'row' && trimmed === '') return checkSetting(name, null);
  if (kind.is === 'choice' && typeof standard === 'string') return checkSetting(name, trimmed);
  return checkSetting(name, readNumber(trimmed));
}

// Plain decimals alone: Number() would take '', '0x10' and '1e9' for numbers too. Not null, which means "no row".
function readNumber(text: string): number | undefined {
  return /^-?\d+([.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : undefined;
}

/**
 * The workshop's settings out of its stored rows. What is missing, unknown or no longer in range has its default, so
 * that an old or damaged row never stops the plan.
 *
 * @param rows stored settings: a name and the value as JSON; an empty list gives the defaults
 * @example readSettings([]).confidence // => 0.9
 * @example readSettings([{ name: 'confidence', valueJson: '0.95' }]).confidence // => 0.95
 * @example readSettings([{ name: 'confidence', valueJson: '7' }]).confidence // => 0.9
 */
export function readSettings(rows: readonly { readonly name: string; readonly valueJson: string }[]): Settings {
  const stored = new Map(rows.map((row) => [row.name, row.valueJson]));
  const entries = settingNames.map((name) => {
    const checked = checkSetting(name, readJson(stored.get(name)));
    return [name, checked.ok ? checked.value : settingDefinitions[name].standard] as const;
  });
  return Object.fromEntries(entries) as Settings;
}

function readJson(text: string | undefined): unknown {
  if (text === undefined) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
