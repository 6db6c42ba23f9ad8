import type { Child } from 'hono/jsx';
import type { Problem } from '#core/shared/problem.ts';
import { fieldId, SelectField, type SelectOption, TextField, type TextFieldProps } from '#views/components/field.tsx';
import type { FormValues } from '#views/pages/styles/sample.tsx';

/** What every part of the form needs. */
export type StyleForm = {
  /** Where the form is sent; buttons add the place that is to be shown next. */
  readonly action: string;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  /** Whether a part is shown opened: something is wrong in it, or was changed in it. */
  readonly isOpen: (path: string) => boolean;
  readonly fabrics: readonly SelectOption[];
  /** What a setting of this name means; null for one of the workshop's own. */
  readonly settingHelp: (
    name: string,
  ) => { readonly words: string; readonly unit: string; readonly hint: string } | null;
};

export type PartProps = { readonly form: StyleForm; readonly path: string };

/** How many entries a list has. */
export function countIn(values: FormValues, list: string): number {
  const indexes = Object.keys(values)
    .filter((name) => name.startsWith(`${list}.`))
    .map((name) => Number(name.slice(list.length + 1).split('.')[0]));
  return 1 + Math.max(-1, ...indexes.filter(Number.isInteger));
}

export function pathsIn({ values }: StyleForm, list: string): string[] {
  return Array.from({ length: countIn(values, list) }, (_, index) => `${list}.${index}`);
}

/** Names to choose from; one that was typed and is not among them stays to be seen. */
export function optionsOf(form: StyleForm, list: string, value: string | undefined): SelectOption[] {
  const names = pathsIn(form, list).map((path) => form.values[`${path}.name`] ?? '');
  const known = [...new Set(names.filter(Boolean))].map((name) => ({ value: name, words: name }));
  return value && !names.includes(value) ? [...known, { value, words: `${value} (not there)` }] : known;
}

/** One field of the form, by its place. */
export function fieldOf({ values, problems }: StyleForm, name: string) {
  return { name, value: values[name], problems };
}

export const NameSelect = ({
  form,
  path,
  list,
  label,
  blank,
}: PartProps & { readonly list: string; readonly label: string; readonly blank?: string }) => (
  <SelectField
    {...fieldOf(form, path)}
    label={label}
    width="medium"
    options={optionsOf(form, list, form.values[path])}
    {...(blank === undefined ? {} : { blank })}
  />
);

/** A short field for a number, or for the name of a setting. */
export const ShortField = ({
  form,
  path,
  ...rest
}: PartProps & Pick<TextFieldProps, 'label' | 'hint' | 'unit' | 'width' | 'inputmode'>) => (
  <TextField width="short" maxlength={rest.width === 'long' ? 1000 : 60} {...rest} {...fieldOf(form, path)} />
);

/** A field for a number or the name of a setting; a name is said in words below it. */
export const FactorField = ({
  form,
  path,
  hint,
  label,
}: PartProps & { readonly label: string; readonly hint?: string }) => {
  const words = form.settingHelp(form.values[path] ?? '')?.words ?? hint;
  return <ShortField form={form} path={path} label={label} width="medium" {...(words ? { hint: words } : {})} />;
};

/** What is wrong with a whole part, at its head. */
export const Faults = ({ form, path }: PartProps) => {
  const messages = form.problems.filter((problem) => problem.path === path).map((problem) => problem.message);
  return messages.length === 0 ? null : <p class="error">{messages.join(' ')}</p>;
};

export function hasFault({ problems }: StyleForm, path: string): boolean {
  return problems.some((problem) => problem.path === path || problem.path.startsWith(`${path}.`));
}

type CommandProps = {
  readonly form: StyleForm;
  /** What the program is to do, like `up joins.2`. */
  readonly command: string;
  /** The part to be shown afterwards. */
  readonly to: string;
  readonly children: Child;
  readonly isRemoving?: boolean;
};

/** A button that changes the form and stores nothing. */
export const CommandButton = ({ form, command, to, children, isRemoving = false }: CommandProps) => (
  <button
    type="submit"
    class={`button button-small ${isRemoving ? 'button-remove' : 'button-quiet'}`}
    name="do"
    value={command}
    formaction={`${form.action}#${fieldId(to)}`}
    formnovalidate
  >
    {children}
  </button>
);

type EntryWords = {
  /** "step", "seam". */
  readonly what: string;
  readonly name: string;
  /** False where the order of the list says nothing. */
  readonly isOrdered?: boolean;
};

/** Up, down and away, for one entry of a list. */
export const EntryButtons = ({ form, path, what, name, isOrdered = true }: PartProps & EntryWords) => {
  const [, list = '', indexText = ''] = /^(.+)\.(\d+)$/.exec(path) ?? [];
  const index = Number(indexText);
  const of = <span class="visually-hidden">{` the ${what} ${name}`}</span>;
  return (
    <div class="actions entry-buttons">
      {isOrdered && index > 0 ? (
        <CommandButton form={form} command={`up ${path}`} to={`${list}.${index - 1}`}>
          Up{of}
        </CommandButton>
      ) : null}
      {isOrdered && index < countIn(form.values, list) - 1 ? (
        <CommandButton form={form} command={`down ${path}`} to={`${list}.${index + 1}`}>
          Down{of}
        </CommandButton>
      ) : null}
      <CommandButton form={form} command={`remove ${path}`} to={list} isRemoving>
        {`Remove the ${what}`}
        <span class="visually-hidden">{` ${name}`}</span>
      </CommandButton>
    </div>
  );
};

/** One entry: its words, opened where something is wrong or was changed. */
export const Entry = ({
  form,
  path,
  summary,
  children,
}: PartProps & { readonly summary: Child; readonly children: Child }) => (
  <details class={hasFault(form, path) ? 'entry has-error' : 'entry'} id={fieldId(path)} open={form.isOpen(path)}>
    <summary>{summary}</summary>
    <div class="entry-fields">
      <Faults form={form} path={path} />
      {children}
    </div>
  </details>
);

/** What is seldom changed, closed unless something in it is wrong. */
export const Seldom = ({
  form,
  paths,
  children,
}: {
  readonly form: StyleForm;
  readonly paths: readonly string[];
  readonly children: Child;
}) => (
  <details class="more" open={paths.some((path) => hasFault(form, path))}>
    <summary>Seldom changed</summary>
    <div class="more-fields">{children}</div>
  </details>
);
