import type { Problem } from '#core/shared/problem.ts';
import { fieldId } from '#views/components/field.tsx';
import type { Values } from '#views/pages/fair/types.ts';

export type CellProps = {
  readonly name: string;
  /** Read aloud and used by nobody else: the table says what a column is. */
  readonly label: string;
  readonly values: Values;
  readonly problems: readonly Problem[];
  readonly inputmode?: 'numeric' | 'decimal';
};

/** A box in a table, with what is wrong with it below. */
export const CellField = ({ name, label, values, problems, inputmode = 'numeric' }: CellProps) => {
  const messages = problems.filter((problem) => problem.path === name).map(({ message }) => message);
  const id = fieldId(name);
  return (
    <>
      <input
        id={id}
        name={name}
        type="text"
        inputmode={inputmode}
        class="cell-input"
        autocomplete="off"
        maxlength={12}
        aria-label={label}
        value={values[name] ?? ''}
        {...(messages.length > 0 ? { 'aria-invalid': 'true' as const, 'aria-describedby': `${id}-error` } : {})}
      />
      {messages.length > 0 ? (
        <span class="error cell-error" id={`${id}-error`}>
          {messages.join(' ')}
        </span>
      ) : null}
    </>
  );
};
