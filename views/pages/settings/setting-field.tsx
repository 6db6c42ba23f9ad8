import { currencySign, formatCents, formatNumber, formatPercent } from '#core/shared/format.ts';
import { gramsInOunce, type UnitSystem, unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { type SettingName, settingDefinitions } from '#core/shared/settings.ts';
import { CheckField, ChoiceField, SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import { Mark } from '#views/components/mark.tsx';

export type SettingFieldProps = {
  readonly name: SettingName;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
  readonly units?: UnitSystem;
  /** The rows to choose from, for a setting that names one, and the words for none of them. */
  readonly rows?: { readonly options: readonly SelectOption[]; readonly blank: string };
};

const unitWords: Partial<Record<string, string>> = { h: 'hours', min: 'minutes', days: 'days', ratio: '%' };

// A fine scale's step is less than 0.01 oz: the words of the range stay short all the same.
const inUnits = (grams: number, units: UnitSystem) => (units === 'metric' ? grams : grams / gramsInOunce);

const imperialHints: Partial<Record<SettingName, string>> = {
  scaleStepG: '0.05 for most kitchen scales, 0.005 for a letter scale.',
};

/** One setting as its definition describes it: its words, its range and where its default comes from. */
export const SettingField = ({ name, values, problems, currency, units = 'metric', rows }: SettingFieldProps) => {
  const { kind, unit, mark, words, hint: usualHint } = settingDefinitions[name];
  const isMass = unit === 'g';
  const hint = (units === 'imperial' && imperialHints[name]) || usualHint;
  const isMoney = unit === 'cents' || unit === 'cents per h';
  const show = (value: number) =>
    isMoney
      ? formatCents(value, currency)
      : unit === 'ratio'
        ? formatPercent(value)
        : formatNumber(isMass ? inUnits(value, units) : value, 2);
  const range = kind.is === 'number' ? `From ${show(kind.least)} to ${show(kind.most)}.` : '';
  const notes = [hint, range].filter(Boolean).join(' ');
  const field = {
    name,
    label: words,
    problems,
    hint: (
      <>
        {notes} {mark === 'yours' ? null : <Mark mark={mark} />}
      </>
    ),
  };
  const value = values[name] ?? '';
  switch (kind.is) {
    case 'choice': {
      const options = kind.choices.map((choice) => ({ value: String(choice.value), words: choice.words }));
      return options.length > 3 ? (
        <SelectField {...field} options={options} value={value} />
      ) : (
        <ChoiceField {...field} options={options} value={value} layout="row" />
      );
    }
    case 'yesOrNo':
      return <CheckField {...field} isChecked={value === 'yes'} />;
    case 'row':
      return <SelectField {...field} options={rows?.options ?? []} blank={rows?.blank ?? 'nobody'} value={value} />;
    case 'number':
      return (
        <TextField
          {...field}
          value={value}
          width="short"
          inputmode={kind.whole && !isMoney ? 'numeric' : 'decimal'}
          unit={isMoney ? currencySign(currency) : isMass ? unitOf('massG', units) : unitWords[unit ?? '']}
        />
      );
    case 'text':
      return <TextField {...field} value={value} width={kind.mostLetters > 100 ? 'long' : 'medium'} />;
  }
};

/** The same settings as they were shown, so that somebody else's change in between is noticed. */
export const SeenSettings = ({ seen }: { readonly seen: string }) => <input type="hidden" name="seen" value={seen} />;
