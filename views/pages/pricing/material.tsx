import { currencySign } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import { Page } from '#views/layout.tsx';

export type MaterialPageProps = {
  /** Null for a new one. */
  readonly useId: number | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
  /** Every style, and each of them; asked for a new one where there are several. */
  readonly styles: readonly SelectOption[];
};

/** Something beside yarn that goes into a pair. */
export const MaterialPage = ({ useId, values, problems, currency, styles }: MaterialPageProps) => (
  <Page
    title={useId === null ? 'Add a material' : (values.name ?? 'A material')}
    where={<a href="/pricing#materials">Costs and prices</a>}
    current="pricing"
    problems={problems}
  >
    <ErrorSummary problems={problems} />
    <form method="post" action={useId === null ? '/pricing/materials' : `/pricing/materials/${useId}`}>
      {useId === null ? null : <input type="hidden" name="version" value={values.version ?? ''} />}
      <Card>
        <div class="stack">
          {useId === null && styles.length > 2 ? (
            <SelectField name="styleId" label="Style" options={styles} value={values.styleId} problems={problems} />
          ) : null}
          <TextField
            name="name"
            label="What it is"
            hint="Grip line, soles, label, button."
            value={values.name}
            problems={problems}
            required
            maxlength={80}
          />
          <TextField
            name="each"
            label="One costs"
            value={values.each}
            problems={problems}
            inputmode="decimal"
            width="short"
            unit={currencySign(currency)}
          />
          <TextField
            name="perPair"
            label="In a pair"
            hint="1 for a pair of soles, 2 for two labels, 0.1 for a tube that does ten pairs."
            value={values.perPair}
            problems={problems}
            inputmode="decimal"
            width="short"
          />
        </div>
      </Card>
      <Actions>
        <Button>{useId === null ? 'Add the material' : 'Save the material'}</Button>
      </Actions>
    </form>
  </Page>
);
