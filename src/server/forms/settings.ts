import type { Problem, Result } from '#core/shared/problem.ts';
import { parseSetting, type SettingName, type Settings, settingDefinitions } from '#core/shared/settings.ts';
import { type FormBody, type FormValues, textOf } from '#server/forms/fields.ts';
import { centsFrom, moneyForInput, numberForInput, percentForInput, ratioFrom } from '#server/forms/numbers.ts';

type Way = 'money' | 'percent' | 'plain';

function wayOf(name: SettingName): Way {
  const { kind, unit } = settingDefinitions[name];
  if (kind.is !== 'number') return 'plain';
  if (unit === 'cents' || unit === 'cents per h') return 'money';
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
  return way === 'percent' ? percentForInput(value) : numberForInput(value);
}

/** The text that `parseSetting` reads, out of the box's own: cents for an amount, a ratio for a percentage. */
function plainText(name: SettingName, text: string, currency: string): string {
  const way = wayOf(name);
  if (way === 'plain' || text.trim() === '') return text;
  const value = way === 'money' ? centsFrom(text, currency) : ratioFrom(text);
  return value === null ? text : value.toFixed(way === 'money' ? 0 : 9);
}

function sayIn(name: SettingName, currency: string, problem: Problem): Problem {
  const { kind } = settingDefinitions[name];
  const way = wayOf(name);
  if (kind.is !== 'number' || way === 'plain') return problem;
  const message =
    way === 'money'
      ? `Enter an amount from ${moneyForInput(kind.least, currency)} to ${moneyForInput(kind.most, currency)}, like 12.50.`
      : `Enter a percentage from ${percentForInput(kind.least)} to ${percentForInput(kind.most)}, like 5.`;
  return { ...problem, message };
}

/**
 * The settings of a form, and all that is wrong with it. Amounts are in the currency given: the one the form was shown
 * with.
 */
export function readSettingsForm(
  body: FormBody,
  names: readonly SettingName[],
  currency: string,
): Result<Partial<Settings>> {
  const problems: Problem[] = [];
  const entries: [SettingName, unknown][] = [];
  for (const name of names) {
    const parsed = parseSetting(name, plainText(name, textOf(body, name), currency));
    if (parsed.ok) entries.push([name, parsed.value]);
    else problems.push(...parsed.problems.map((problem) => sayIn(name, currency, problem)));
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: Object.fromEntries(entries) };
}

/** What the form showed, to go along with it in a hidden field. */
export function seenText(names: readonly SettingName[], settings: Settings): string {
  return JSON.stringify(settingValues([...names, 'currency'], settings));
}

/** Reads it back; a faulty one counts as nothing seen, so that the form is simply saved. */
export function readSeen(body: FormBody, names: readonly SettingName[]): { seen: Partial<Settings>; currency: string } {
  try {
    const texts = JSON.parse(textOf(body, 'seen')) as FormBody;
    const currency = readSettingsForm(texts, ['currency'], 'EUR');
    if (!currency.ok) return { seen: {}, currency: 'EUR' };
    const code = currency.value.currency!;
    const seen = readSettingsForm(texts, names, code);
    return { seen: seen.ok ? seen.value : {}, currency: code };
  } catch {
    return { seen: {}, currency: 'EUR' };
  }
}
