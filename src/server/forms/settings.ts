import { measureForInput, type UnitSystem, unitOf } from '#core/shared/measures.ts';
import type { Problem, Result } from '#core/shared/problem.ts';
import { parseSetting, type SettingName, type Settings, settingDefinitions } from '#core/shared/settings.ts';
import { type FormBody, type FormValues, textOf } from '#server/forms/fields.ts';
import { measureFrom } from '#server/forms/measures.ts';
import {
  centsFrom,
  moneyForInput,
  numberForInput,
  percentForInput,
  ratioFrom,
  tooManyDigitsWords,
  twoReadings,
  twoReadingsWords,
} from '#server/forms/numbers.ts';

type Way = 'money' | 'percent' | 'mass' | 'plain';

function wayOf(name: SettingName): Way {
  const { kind, unit } = settingDefinitions[name];
  if (kind.is !== 'number') return 'plain';
  if (unit === 'cents' || unit === 'cents per h') return 'money';
  if (unit === 'g') return 'mass';
  return unit === 'ratio' ? 'percent' : 'plain';
}

/** Settings as their boxes show them. */
export function settingValues(names: readonly SettingName[], settings: Settings): FormValues {
  return Object.fromEntries(names.map((name) => [name, settingText(name, settings)]));
}

function settingText(name: SettingName, settings: Settings): string {
  const value = settings[name];
  if (value === null) return '';
  if (typeof value === 'boolean') return value ? 'yes' : '';
  if (typeof value === 'string') return value;
  const way = wayOf(name);
  if (way === 'money') return moneyForInput(value, settings.currency);
  if (way === 'mass') return measureForInput(value, 'fineMassG', settings.unitSystem);
  return way === 'percent' ? percentForInput(value) : numberForInput(value);
}

/** The text that `parseSetting` reads, out of the box's own: cents for an amount, a ratio for a percentage. */
function plainText(name: SettingName, text: string, currency: string, units: UnitSystem): string {
  const way = wayOf(name);
  if (way === 'plain' || text.trim() === '') return text;
  const value =
    way === 'money'
      ? centsFrom(text, currency)
      : way === 'mass'
        ? measureFrom(text, 'fineMassG', units)
        : ratioFrom(text);
  // What is no amount is no number either: 1.234567 would else be that many cents.
  return value === null ? '' : value.toFixed(way === 'money' ? 0 : 9);
}

function sayIn(name: SettingName, text: string, currency: string, units: UnitSystem, problem: Problem): Problem {
  const { kind } = settingDefinitions[name];
  const way = wayOf(name);
  const readings = way === 'money' ? twoReadings(text, currency) : null;
  if (readings) return { ...problem, message: twoReadingsWords(text, readings) };
  const digits = way === 'money' ? tooManyDigitsWords(text, currency) : null;
  if (digits !== null) return { ...problem, message: digits };
  if (kind.is !== 'number' || way === 'plain') return problem;
  if (way === 'mass') {
    const [least, most] = [
      measureForInput(kind.least, 'fineMassG', units),
      measureForInput(kind.most, 'fineMassG', units),
    ];
    return {
      ...problem,
      message: `Enter a weight from ${least} to ${most} ${unitOf('massG', units)}, like ${units === 'metric' ? 1 : 0.05}.`,
    };
  }
  const message =
    way === 'money'
      ? `Enter an amount from ${moneyForInput(kind.least, currency)} to ${moneyForInput(kind.most, currency)}, like 12.50.`
      : `Enter a percentage from ${percentForInput(kind.least)} to ${percentForInput(kind.most)}, like 5.`;
  return { ...problem, message };
}

/**
 * The settings of a form, and all that is wrong with it. Amounts are in the currency given: the one the form was shown
 * with, and weights in its units.
 */
export function readSettingsForm(
  body: FormBody,
  names: readonly SettingName[],
  currency: string,
  units: UnitSystem,
): Result<Partial<Settings>> {
  const problems: Problem[] = [];
  const entries: [SettingName, unknown][] = [];
  for (const name of names) {
    const text = textOf(body, name);
    const parsed = parseSetting(name, plainText(name, text, currency, units));
    if (parsed.ok) entries.push([name, parsed.value]);
    else problems.push(...parsed.problems.map((problem) => sayIn(name, text, currency, units, problem)));
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: Object.fromEntries(entries) };
}

/** What the form showed, to go along with it in a hidden field. */
export function seenText(names: readonly SettingName[], settings: Settings): string {
  return JSON.stringify(settingValues([...names, 'currency', 'unitSystem'], settings));
}

export type Seen = { readonly seen: Partial<Settings>; readonly currency: string; readonly units: UnitSystem };

/** Reads it back; a faulty one counts as nothing seen, so that the form is simply saved. */
export function readSeen(body: FormBody, names: readonly SettingName[]): Seen {
  try {
    const texts = JSON.parse(textOf(body, 'seen')) as FormBody;
    const shown = readSettingsForm(texts, ['currency', 'unitSystem'], 'EUR', 'metric');
    if (!shown.ok) return nothingSeen;
    const { currency, unitSystem: units } = shown.value as Settings;
    const seen = readSettingsForm(texts, names, currency, units);
    return { seen: seen.ok ? seen.value : {}, currency, units };
  } catch {
    return nothingSeen;
  }
}

const nothingSeen: Seen = { seen: {}, currency: 'EUR', units: 'metric' };
