import { currencySign } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { FieldRow, TextField } from '#views/components/field.tsx';

type FieldsProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

/** What a whole basket costs beside its packs. */
export const BillFields = ({ currency, values, problems = [] }: FieldsProps & { readonly currency: string }) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  return (
    <FieldRow>
      <TextField
        {...field('shipping')}
        label="Postage"
        hint="Shared out over the yarn by its price"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
      />
      <TextField
        {...field('off')}
        label="Taken off all of it"
        hint="May be left empty"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
      />
    </FieldRow>
  );
};

/** Of the packs that came in one row of a form, those of a second dye lot. */
export const OtherLotFields = ({
  id,
  unit,
  values,
  problems = [],
}: FieldsProps & { readonly id: number; readonly unit: string }) => {
  const field = (name: string) => ({ name: `${name}-${id}`, value: values[`${name}-${id}`], problems });
  return (
    <details open={Boolean(values[`more-${id}`] || values[`lot2-${id}`])}>
      <summary>Some of it is of another dye lot</summary>
      <FieldRow>
        <TextField {...field('more')} label="How many of those" inputmode="numeric" unit={unit} width="short" />
        <TextField {...field('lot2')} label="Other dye lot" maxlength={200} />
      </FieldRow>
    </details>
  );
};
