import type { Child } from 'hono/jsx';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';

/** The id of the field at a path; a link to it from anywhere is `#` and this. */
export function fieldId(path: string): string {
  return `field-${path.replace(/[^A-Za-z0-9]+/g, '-')}`;
}

export type FieldWidth = 'short' | 'medium' | 'long';

type FieldBase = {
  /** Name sent with the form; the problems with this `path` are shown here. */
  readonly name: string;
  readonly label: Child;
  /** What to enter, with an example: "EU, like 38 or 38.5". */
  readonly hint?: Child;
  readonly problems?: readonly Problem[] | undefined;
  readonly required?: boolean;
  readonly width?: FieldWidth;
  /** Where two forms of a page have a field of one name: the id of this one. */
  readonly id?: string | undefined;
};

export type TextFieldProps = FieldBase & {
  /** What was typed, kept as it was typed. */
  readonly value?: string | number | null | undefined;
  readonly type?: 'text' | 'date' | 'email' | 'tel' | 'search' | 'file' | 'password' | 'color';
  /** `numeric` for whole numbers, `decimal` for others; the type stays `text`, so that what was typed can be shown again. */
  readonly inputmode?: 'numeric' | 'decimal';
  /** Stands after the box: "g", "cm", "pairs". */
  readonly unit?: Child;
  readonly autocomplete?: string;
  readonly maxlength?: number;
  readonly accept?: string;
  /** Suggestions while typing. */
  readonly suggestions?: readonly string[];
};

export type SelectOption = {
  readonly value: string;
  readonly words: string;
  /** Classes by which the style sheet shows what belongs to this choice. */
  readonly shows?: string;
};
export type SelectGroup = { readonly group: string; readonly options: readonly SelectOption[] };

export type SelectFieldProps = FieldBase & {
  readonly options: readonly (SelectOption | SelectGroup)[];
  readonly value?: string | number | null | undefined;
  /** Words of a first entry that means nothing is chosen. */
  readonly blank?: string;
};

export type TextAreaFieldProps = FieldBase & {
  readonly value?: string | null | undefined;
  readonly rows?: number;
  readonly maxlength?: number;
};

export type ChoiceFieldProps = FieldBase & {
  readonly options: readonly (SelectOption & { readonly hint?: Child })[];
  readonly value?: string | number | null | undefined;
  /** `row` sets short choices side by side. */
  readonly layout?: 'row' | 'column';
};

export type CheckFieldProps = FieldBase & { readonly value?: string; readonly isChecked?: boolean };

function messagesFor(name: string, problems: readonly Problem[] | undefined): readonly string[] {
  return (problems ?? [])
    .filter(({ path, question }) => path === name && !question?.isAnswered)
    .map((problem) => problem.message);
}

/** Says that something odd about a field is right so. */
export const Answers = ({ name, problems = [] }: Pick<FieldBase, 'name' | 'problems'>) => (
  <>
    {problems.map(({ path, question }) =>
      path === name && question ? (
        <label class="choice answer">
          <input type="checkbox" name={`sure-${name}`} value={question.about} checked={question.isAnswered} />
          <span>{question.yes}</span>
        </label>
      ) : null,
    )}
  </>
);

type Described = {
  readonly id: string;
  readonly messages: readonly string[];
  readonly attributes: { 'aria-describedby'?: string; 'aria-invalid'?: 'true'; required?: true };
};

function describeField({ name, hint, problems, required, id = fieldId(name) }: FieldBase): Described {
  const messages = messagesFor(name, problems);
  const ids = [hint ? `${id}-hint` : '', messages.length > 0 ? `${id}-error` : ''].filter(Boolean).join(' ');
  return {
    id,
    messages,
    attributes: {
      ...(ids ? { 'aria-describedby': ids } : {}),
      ...(messages.length > 0 ? { 'aria-invalid': 'true' as const } : {}),
      ...(required ? { required: true as const } : {}),
    },
  };
}

const Notes = ({ id, hint, messages }: { id: string; hint: Child; messages: readonly string[] }) => (
  <>
    {hint ? (
      <p class="hint" id={`${id}-hint`}>
        {hint}
      </p>
    ) : null}
    {messages.length > 0 ? (
      <p class="error" id={`${id}-error`}>
        {messages.join(' ')}
      </p>
    ) : null}
  </>
);

function fieldClass(messages: readonly string[]): string {
  return messages.length > 0 ? 'field has-error' : 'field';
}

/** What a box for a day could not show: it stands in a box for text. */
function isOtherText(value: TextFieldProps['value']): boolean {
  return typeof value === 'string' && value !== '' && !/^\d{4}-\d\d-\d\d$/.test(value);
}

/** One line to type in. */
export const TextField = (props: TextFieldProps) => {
  const { name, label, hint, value, type = 'text', unit, width = 'medium', suggestions } = props;
  const { inputmode, autocomplete = 'off', maxlength, accept } = props;
  const { id, messages, attributes } = describeField(props);
  return (
    <div class={fieldClass(messages)}>
      <label for={id}>{label}</label>
      <Notes id={id} hint={hint} messages={messages} />
      <span class="with-unit">
        <input
          id={id}
          name={name}
          type={type === 'date' && isOtherText(value) ? 'text' : type}
          class={`width-${width}`}
          autocomplete={autocomplete}
          {...(type === 'file' ? {} : { value: value ?? '' })}
          {...(inputmode ? { inputmode } : {})}
          {...(maxlength ? { maxlength } : {})}
          {...(accept ? { accept } : {})}
          {...(suggestions ? { list: `${id}-list` } : {})}
          {...attributes}
        />
        {unit ? <span class="unit">{unit}</span> : null}
      </span>
      <Answers name={name} problems={props.problems} />
      {suggestions ? (
        <datalist id={`${id}-list`}>
          {suggestions.map((suggestion) => (
            <option value={suggestion}></option>
          ))}
        </datalist>
      ) : null}
    </div>
  );
};

/** One of a list to choose. */
export const SelectField = (props: SelectFieldProps) => {
  const { name, label, hint, options, value, blank, width = 'medium' } = props;
  const { id, messages, attributes } = describeField(props);
  const chosen = value === null || value === undefined ? '' : String(value);
  const optionOf = (option: SelectOption) => (
    <option value={option.value} class={option.shows} selected={option.value === chosen}>
      {option.words}
    </option>
  );
  return (
    <div class={fieldClass(messages)}>
      <label for={id}>{label}</label>
      <Notes id={id} hint={hint} messages={messages} />
      <select id={id} name={name} class={`width-${width}`} {...attributes}>
        {blank === undefined ? null : <option value="">{blank}</option>}
        {options.map((entry) =>
          'group' in entry ? <optgroup label={entry.group}>{entry.options.map(optionOf)}</optgroup> : optionOf(entry),
        )}
      </select>
      <Answers name={name} problems={props.problems} />
    </div>
  );
};

/** Several lines to type in. */
export const TextAreaField = (props: TextAreaFieldProps) => {
  const { name, label, hint, value, rows = 4, maxlength, width = 'long' } = props;
  const { id, messages, attributes } = describeField(props);
  return (
    <div class={fieldClass(messages)}>
      <label for={id}>{label}</label>
      <Notes id={id} hint={hint} messages={messages} />
      <textarea
        id={id}
        name={name}
        rows={rows}
        class={`width-${width}`}
        {...(maxlength ? { maxlength } : {})}
        {...attributes}
      >
        {value ?? ''}
      </textarea>
      <Answers name={name} problems={props.problems} />
    </div>
  );
};

/** A few choices, all seen at once. */
export const ChoiceField = (props: ChoiceFieldProps) => {
  const { name, label, hint, options, value, layout = 'column', required } = props;
  const { id, messages, attributes } = describeField(props);
  const chosen = value === null || value === undefined ? '' : String(value);
  return (
    <fieldset
      class={`${fieldClass(messages)} choices choices-${layout}`}
      aria-describedby={attributes['aria-describedby']}
    >
      <legend>{label}</legend>
      <Notes id={id} hint={hint} messages={messages} />
      <div class="choice-list">
        {options.map((option, index) => (
          <label class="choice">
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === chosen}
              required={required}
              {...(index === 0 ? { id } : {})}
            />
            <span>
              {option.words}
              {option.hint ? <small class="hint">{option.hint}</small> : null}
            </span>
          </label>
        ))}
      </div>
      <Answers name={name} problems={props.problems} />
    </fieldset>
  );
};

/** Yes or no. */
export const CheckField = (props: CheckFieldProps) => {
  const { name, label, hint, value = 'yes', isChecked = false } = props;
  const { id, messages, attributes } = describeField(props);
  return (
    <div class={fieldClass(messages)}>
      <label class="choice" for={id}>
        <input id={id} type="checkbox" name={name} value={value} checked={isChecked} {...attributes} />
        <span>{label}</span>
      </label>
      <Notes id={id} hint={hint} messages={messages} />
    </div>
  );
};

/** Goes along with a form that has measures: what its boxes were shown in. */
export const UnitsField = ({ units }: { readonly units: UnitSystem }) => (
  <input type="hidden" name="units" value={units} />
);

/** Short fields side by side. */
export const FieldRow = ({ children }: { readonly children?: Child }) => <div class="field-row">{children}</div>;
