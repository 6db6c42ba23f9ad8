import type { Problem } from '#core/shared/problem.ts';
import { SelectField, TextField } from '#views/components/field.tsx';
import type { FormNames, FormValues } from '#views/pages/orders/types.ts';

export type SizeRunFieldsProps = {
  readonly names: FormNames;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
};

/** A run of sizes: whose, in which system, and which. */
export const SizeRunFields = ({ names, values, problems }: SizeRunFieldsProps) => (
  <>
    <SelectField
      name="person"
      label="Whose feet"
      width="short"
      options={[
        { value: 'woman', words: 'women' },
        { value: 'man', words: 'men' },
        { value: 'child', words: 'children' },
        { value: 'unknown', words: 'adults' },
      ]}
      value={values.person}
      problems={problems}
    />
    <SelectField
      name="system"
      label="Sizes in"
      width="short"
      options={[
        ...names.systems.map((system) => ({ value: system, words: system })),
        ...(names.bands.length > 0 ? [{ value: 'own', words: 'bands' }] : []),
      ]}
      value={values.system}
      problems={problems}
    />
    <TextField
      name="sizes"
      label="Which sizes"
      hint="36-42, or 36, 38, 40"
      width="short"
      maxlength={200}
      value={values.sizes}
      problems={problems}
    />
  </>
);
