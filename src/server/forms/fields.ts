import { type Day, isDay } from '#core/shared/calendar.ts';
import { readDayText } from '#core/shared/day-text.ts';
import { formatCents, formatMinutes, formatNumber, formatPercent } from '#core/shared/format.ts';
import { type MeasureName, measureForInput, type UnitSystem, unitOf } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { minutesFromText } from '#core/shared/time-text.ts';
import { measureFrom } from '#server/forms/measures.ts';
import {
  centsFrom,
  numberFrom,
  ratioFrom,
  tooManyDigitsWords,
  twoReadings,
  twoReadingsWords,
} from '#server/forms/numbers.ts';

/** A form as `c.req.parseBody({ all: true })` gives it. */
export type FormBody = Readonly<Record<string, string | File | (string | File)[]>>;

/** What was typed, to be shown again: one text a field, the last where a name came twice. */
export type FormValues = Readonly<Record<string, string>>;

/** The text of one field; empty when it did not come or is a file. */
export function textOf(body: FormBody, name: string): string {
  const value = body[name];
  const one = Array.isArray(value) ? value.at(-1) : value;
  return typeof one === 'string' ? one : '';
}

export function valuesOf(body: FormBody): FormValues {
  return Object.fromEntries(Object.keys(body).map((name) => [name, textOf(body, name)]));
}

/** The field of the answer to a question about another field. */
export function answerField(path: string): string {
  return `sure-${path}`;
}

type Range = { readonly least: number; readonly most: number };
/** `sentence` says what to enter, with an example: "Enter the stitches in 10 cm, like 13.5". */
type Wish = { readonly sentence: string };
/** With the present day a day may be written as people do, and what cannot be read in one way is offered in writing. */
type DayWish = Wish & { readonly today?: Day };
/** The sentence in each unit system, "Enter the ounces of a ball, like 3.5"; the range is of the stored unit. */
type MeasureWish = Range & {
  readonly sentence: Readonly<Record<UnitSystem, string>>;
  /** What is stored now: a box left as it was shown keeps it to the last digit. */
  readonly was?: number | undefined;
};

/** Something odd, asked about at its field. */
type Odd = Pick<Problem, 'code' | 'path' | 'message'> & {
  readonly yes: string;
  /** What it depends on; the text of the field when left out. */
  readonly about?: string;
};

/** Reads the fields of a form into values and gathers every problem on the way. */
export type FieldReader = {
  readonly problems: readonly Problem[];
  /** What the form's measures were shown in: the form says so itself, in case the setting changed since. */
  readonly units: UnitSystem;
  readonly say: (path: string, message: string) => void;
  /** Questions that the form answers: shown again, ticked, when something else is wrong. */
  readonly answered: readonly Problem[];
  /** A problem, unless the form says that it is right so. */
  readonly ask: (odd: Odd) => void;
  readonly text: (name: string, wish: Wish & { readonly most?: number }) => string;
  readonly optionalText: (name: string, most?: number) => string | null;
  readonly number: (name: string, wish: Wish & Range & { readonly isWhole?: boolean }) => number;
  readonly optionalNumber: (name: string, wish: Wish & Range & { readonly isWhole?: boolean }) => number | null;
  /** A time in whole minutes, typed as hours, hours and minutes, or minutes. */
  readonly minutes: (name: string, wish: Wish & Range) => number;
  readonly optionalMinutes: (name: string, wish: Wish & Range) => number | null;
  /** A length, a mass and the like, in the stored unit. */
  readonly measure: (name: string, measure: MeasureName, wish: MeasureWish) => number;
  readonly optionalMeasure: (name: string, measure: MeasureName, wish: MeasureWish) => number | null;
  readonly money: (name: string, wish: Wish & Partial<Range>) => number;
  readonly optionalMoney: (name: string, wish: Wish & Partial<Range>) => number | null;
  /** A percentage as a ratio; the range is of the ratio. */
  readonly percent: (name: string, wish: Wish & Range) => number;
  readonly choice: <T extends string>(name: string, choices: readonly T[], wish: Wish) => T;
  readonly check: (name: string) => boolean;
  readonly day: (name: string, wish: DayWish) => Day;
  readonly optionalDay: (name: string, wish: DayWish) => Day | null;
  /** A row number out of a list; null when empty. */
  readonly optionalId: (name: string, known: readonly number[], wish: Wish) => number | null;
  /** The version in a hidden field; undefined when there is none. */
  readonly version: () => number | undefined;
  /** The value, or the problems if there are any; what is built from faulty fields is never used. */
  readonly result: <T>(value: () => T) => Result<T>;
};

const mostMoney = 100_000_000_00;
// Control characters but tab and line ends are no text, nor are those that turn what follows round; blanks at the ends say
// nothing.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const controls = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/;
// Signs without a width join letters, and alone are no text.
const unseen = /[\u00ad\u200b-\u200f\u2060-\u2064\ufeff]/g;

/** A number as a box holds it, as it stands in a sentence: "100,000". */
const inThousands = (text: string) => text.replace(/^\d{4,}/, (digits) => formatNumber(Number(digits), 0));

/** The units that a form was shown in, by its hidden field; a form without one is in the workshop's. */
export function unitsOfForm(body: FormBody, workshops: UnitSystem): UnitSystem {
  const typed = textOf(body, 'units');
  return typed === 'metric' || typed === 'imperial' ? typed : workshops;
}

/** @param unitSystem the workshop's, for measures in a form that does not say its own */
export function readFields(body: FormBody, currency = 'EUR', unitSystem: UnitSystem = 'metric'): FieldReader {
  const units = unitsOfForm(body, unitSystem);
  const problems: Problem[] = [];
  const say = (path: string, message: string) => {
    problems.push({ code: 'badField', path, message });
  };
  const answered: Problem[] = [];
  const raw = (name: string) => {
    const text = textOf(body, name).trim();
    return text.replace(unseen, '').trim() === '' ? '' : text;
  };
  const ask = ({ code, path, message, yes, about: on }: Odd) => {
    const about = `${code} ${on ?? raw(path)}`;
    const isAnswered = [body[answerField(path)]].flat().includes(about);
    (isAnswered ? answered : problems).push({ code, path, message, question: { yes, about, isAnswered } });
  };

  function checkText(name: string, text: string, most: number): string {
    if (controls.test(text)) say(name, 'There are signs in this text that cannot be shown. Type it again.');
    if (text.length > most) say(name, `Use at most ${most} letters; there are ${text.length}.`);
    return text;
  }
  function inRange(
    name: string,
    value: number | null,
    { sentence, least, most, isWhole }: Wish & Range & { isWhole?: boolean | undefined },
    show: (value: number) => string,
    unit = '',
  ): number {
    if (value === null || (isWhole && !Number.isInteger(value))) {
      say(name, `${sentence}.`);
      return least;
    }
    if (value < least || value > most) {
      say(name, `${sentence}. It may be from ${inThousands(show(least))} to ${inThousands(show(most))}${unit}.`);
      return least;
    }
    return value;
  }
  const plain = (value: number) => formatNumber(value, 3);
  const asMoney = (value: number) => formatCents(value, currency);

  const reader: FieldReader = {
    problems,
    units,
    say,
    answered,
    ask,
    text: (name, { sentence, most = 200 }) => {
      const text = raw(name);
      if (text === '') say(name, `${sentence}.`);
      return checkText(name, text, most);
    },
    optionalText: (name, most = 200) => {
      const text = raw(name);
      return text === '' ? null : checkText(name, text, most);
    },
    number: (name, wish) => inRange(name, numberFrom(raw(name)), wish, plain),
    optionalNumber: (name, wish) => (raw(name) === '' ? null : reader.number(name, wish)),
    minutes: (name, wish) => inRange(name, minutesFromText(raw(name)), wish, formatMinutes),
    optionalMinutes: (name, wish) => (raw(name) === '' ? null : reader.minutes(name, wish)),
    measure: (name, measure, { sentence, was, ...range }) => {
      const show = (value: number) => measureForInput(value, measure, units);
      const typed = was !== undefined && raw(name) === show(was) ? was : measureFrom(raw(name), measure, units);
      return inRange(name, typed, { ...range, sentence: sentence[units] }, show, ` ${unitOf(measure, units)}`);
    },
    optionalMeasure: (name, measure, wish) => (raw(name) === '' ? null : reader.measure(name, measure, wish)),
    money: (name, { sentence, least = 0, most = mostMoney }) => {
      const readings = twoReadings(raw(name), currency);
      const digits = tooManyDigitsWords(raw(name), currency);
      if (digits !== null) {
        say(name, digits);
        return least;
      }
      if (!readings) return inRange(name, centsFrom(raw(name), currency), { sentence, least, most }, asMoney);
      say(name, twoReadingsWords(raw(name), readings));
      return least;
    },
    optionalMoney: (name, wish) => (raw(name) === '' ? null : reader.money(name, wish)),
    percent: (name, wish) => inRange(name, ratioFrom(raw(name)), wish, formatPercent),
    choice: (name, choices, { sentence }) => {
      const chosen = choices.find((choice) => choice === raw(name));
      if (chosen === undefined) say(name, `${sentence}.`);
      return chosen ?? choices[0]!;
    },
    check: (name) => ['yes', 'on', 'true'].includes(raw(name)),
    day: (name, { sentence, today }) => {
      const text = raw(name);
      if (isDay(text)) return text;
      const read = text === '' || today === undefined ? null : readDayText(text, today);
      if (read?.ok) return read.value;
      say(name, read === null ? `${sentence}.` : read.problems[0]!.message);
      return text;
    },
    optionalDay: (name, wish) => (raw(name) === '' ? null : reader.day(name, wish)),
    optionalId: (name, known, { sentence }) => {
      const text = raw(name);
      if (text === '') return null;
      const id = /^\d{1,15}$/.test(text) ? Number(text) : null;
      if (id === null || !known.includes(id)) say(name, `${sentence}.`);
      return id;
    },
    version: () => {
      const text = raw('version');
      return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
    },
    result: (value) => (problems.length > 0 ? refuse(...problems, ...answered) : succeed(value())),
  };
  return reader;
}
