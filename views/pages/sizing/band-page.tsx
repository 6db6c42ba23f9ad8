import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, TextField, UnitsField } from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';

export type BandPageProps = {
  readonly purpose: Purpose;
  /** Null for a new band. */
  readonly id: number | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

const people = [
  { value: 'woman', words: 'women' },
  { value: 'man', words: 'men' },
  { value: 'child', words: 'children' },
  { value: 'unknown', words: 'anybody grown up' },
];

/** A band: a name for a stretch of foot lengths that one slipper serves. */
export const BandPage = ({ purpose, id, values, problems = [] }: BandPageProps) => (
  <Page
    title={id === null ? 'Add a band' : `Change the band ${values.name}`}
    where="Styles and sizes"
    current="sizing"
    purpose={purpose}
    problems={problems}
  >
    <Card>
      <form method="post" action={id === null ? '/sizing/bands' : `/sizing/bands/${id}`}>
        <ErrorSummary problems={problems} />
        <UnitsField units={unitsOfForm(values)} />
        {id === null ? null : <input type="hidden" name="version" value={values.version ?? ''} />}
        <TextField
          name="name"
          label="Name"
          hint="As you say it: 36/37, S, M, L"
          value={values.name}
          problems={problems}
          width="short"
        />
        <SelectField
          name="person"
          label="For"
          options={people}
          value={values.person ?? 'unknown'}
          problems={problems}
        />
        <FieldRow>
          <TextField
            name="from"
            label="Foot from"
            unit={unitOf('lengthMm', unitsOfForm(values))}
            inputmode="decimal"
            value={values.from}
            problems={problems}
            width="short"
          />
          <TextField
            name="to"
            label="to"
            unit={unitOf('lengthMm', unitsOfForm(values))}
            inputmode="decimal"
            value={values.to}
            problems={problems}
            width="short"
          />
        </FieldRow>
        <p class="soft">The slipper is knitted for the foot in the middle.</p>
        <Actions>
          <Button>Save the band</Button>
          <LinkButton href="/sizing" kind="quiet">
            Leave it
          </LinkButton>
        </Actions>
      </form>
    </Card>
    {id === null ? null : (
      <form method="post" action={`/sizing/bands/${id}/remove`}>
        <input type="hidden" name="version" value={values.version ?? ''} />
        <Actions>
          <Button kind="remove">Remove the band</Button>
        </Actions>
      </form>
    )}
  </Page>
);
