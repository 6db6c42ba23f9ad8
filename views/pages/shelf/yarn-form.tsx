import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, TextField, UnitsField } from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { ColourFields } from '#views/pages/shelf/colour-fields.tsx';
import { strandWords, yarnWeights } from '#views/pages/shelf/yarn-words.ts';

export type YarnFormProps = {
  readonly purpose: Purpose;
  /** Null for a new yarn. */
  readonly yarn: { readonly id: number; readonly name: string; readonly canGo: boolean } | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
  /** Numbers of the colour rows, for a new yarn. */
  readonly colourRows: readonly number[];
};

/** A yarn, whatever its colour: new with its first colours, or one that is there. */
export const YarnFormPage = ({ purpose, yarn, values, problems = [], colourRows }: YarnFormProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  const units = unitsOfForm(values);
  return (
    <Page
      title={yarn ? yarn.name : 'A yarn for the shelf'}
      where={<a href="/shelf">Yarn shelf</a>}
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      <form method="post" action={yarn ? `/shelf/yarns/${yarn.id}` : '/shelf/yarns/new'}>
        <ErrorSummary problems={problems} />
        <UnitsField units={units} />
        {yarn ? <input type="hidden" name="version" value={values.version ?? ''} /> : null}
        <TextField {...field('name')} label="Name" hint="As you will look for it" required maxlength={200} />
        <TextField
          {...field('fibre')}
          label="What it is made of"
          hint="Like wool, or 80% wool 20% nylon. Left empty it counts as unknown: hand wash, not for babies."
          maxlength={200}
          width="long"
        />
        <FieldRow>
          {units === 'metric' ? (
            <TextField
              {...field('metres')}
              label="Metres in 100 g"
              hint="On the ball band, like 100"
              inputmode="decimal"
              unit="m"
              width="short"
              required
            />
          ) : (
            <TextField
              {...field('yards')}
              label="Yards in a ball"
              hint="On the ball band, like 109"
              inputmode="decimal"
              unit="yd"
              width="short"
              required
            />
          )}
          <TextField
            {...field('ballG')}
            label="Ball size"
            hint={units === 'metric' ? 'Grams in a whole ball' : 'Ounces in a whole ball'}
            inputmode="decimal"
            unit={unitOf('massG', units)}
            width="short"
            required
          />
        </FieldRow>
        <FieldRow>
          <SelectField
            {...field('category')}
            label="How thick it is"
            options={yarnWeights.map((words, index) => ({ value: String(index), words }))}
            blank="Choose"
            required
          />
          <SelectField
            {...field('strands')}
            label="Held together for a slipper"
            options={[1, 2, 3].map((count) => ({ value: String(count), words: strandWords[count]! }))}
          />
        </FieldRow>
        <FieldRow>
          <TextField
            {...field('needleMm')}
            label="Needle for a slipper"
            hint="May be left empty"
            inputmode="decimal"
            unit="mm"
            width="short"
          />
          <TextField
            {...field('stitches')}
            label={`Stitches ${unitOf('per10Cm', units)}`}
            hint="On the band; may be left empty"
            inputmode="decimal"
            unit="stitches"
            width="short"
          />
        </FieldRow>
        {yarn ? null : (
          <fieldset class="field">
            <legend>Its colours</legend>
            <p class="hint">As many as you like now, the others later. Rows without a name are passed over.</p>
            <ColourFields rows={colourRows} values={values} problems={problems} />
          </fieldset>
        )}
        <Actions>
          <Button>{yarn ? 'Save the yarn' : 'Add the yarn'}</Button>
          <LinkButton href="/shelf" kind="quiet">
            Back to the shelf
          </LinkButton>
          {yarn?.canGo ? (
            <Button kind="remove" formaction={`/shelf/yarns/${yarn.id}/remove`} formnovalidate>
              Remove this yarn
            </Button>
          ) : null}
        </Actions>
      </form>
    </Page>
  );
};
