import type { Child } from 'hono/jsx';
import type { Problem } from '#core/shared/problem.ts';
import { Answers, fieldId } from '#views/components/field.tsx';

export type ShelfCellProps = {
  readonly name: string;
  /** Read aloud with the box: the table says what its column is. */
  readonly label: string;
  readonly value: string | undefined;
  readonly problems: readonly Problem[];
  readonly type?: 'text' | 'color';
  readonly inputmode?: 'numeric' | 'decimal';
  readonly isWide?: boolean;
  readonly maxlength?: number;
  readonly list?: string | undefined;
};

const Faults = ({ id, messages }: { readonly id: string; readonly messages: readonly string[] }): Child =>
  messages.length === 0 ? null : (
    <span class="error cell-error" id={`${id}-error`}>
      {messages.join(' ')}
    </span>
  );

const messagesAt = (problems: readonly Problem[], name: string) =>
  problems.filter(({ path, question }) => path === name && !question?.isAnswered).map(({ message }) => message);

const faulty = (id: string, messages: readonly string[]) =>
  messages.length > 0 ? { 'aria-invalid': 'true' as const, 'aria-describedby': `${id}-error` } : {};

/** A box in a table, with what is wrong with it below. */
export const ShelfCell = (props: ShelfCellProps) => {
  const { name, label, value, problems, type = 'text', inputmode, isWide = false, maxlength = 20, list } = props;
  const messages = messagesAt(problems, name);
  const id = fieldId(name);
  return (
    <>
      <input
        id={id}
        name={name}
        type={type}
        class={isWide ? 'cell-input cell-words' : 'cell-input'}
        autocomplete="off"
        aria-label={label}
        value={value ?? ''}
        {...(inputmode ? { inputmode } : {})}
        {...(type === 'text' ? { maxlength } : {})}
        {...(list ? { list } : {})}
        {...faulty(id, messages)}
      />
      <Faults id={id} messages={messages} />
      <Answers name={name} problems={problems} />
    </>
  );
};

export type ShelfCellChoiceProps = Pick<ShelfCellProps, 'name' | 'label' | 'value' | 'problems'> & {
  readonly options: readonly { readonly value: string; readonly words: string }[];
};

/** A choice in a table, with what is wrong with it below. */
export const ShelfCellChoice = ({ name, label, value, problems, options }: ShelfCellChoiceProps) => {
  const messages = messagesAt(problems, name);
  const id = fieldId(name);
  return (
    <>
      <select id={id} name={name} aria-label={label} {...faulty(id, messages)}>
        {options.map((option) => (
          <option value={option.value} selected={option.value === value}>
            {option.words}
          </option>
        ))}
      </select>
      <Faults id={id} messages={messages} />
    </>
  );
};
