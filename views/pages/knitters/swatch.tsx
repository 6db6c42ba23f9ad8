import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import {
  CheckField,
  FieldRow,
  SelectField,
  type SelectOption,
  TextField,
  UnitsField,
} from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import { Page } from '#views/layout.tsx';

export type SwatchPageProps = {
  /** Null for a new one. */
  readonly id: number | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly knitters: readonly SelectOption[];
  readonly yarns: readonly SelectOption[];
  readonly fabrics: readonly string[];
  /** Needles in mm with their other numbers. */
  readonly needles: readonly string[];
};

/** A knitted square: counted, measured, perhaps weighed. */
export const SwatchPage = ({ id, values, problems, knitters, yarns, fabrics, needles }: SwatchPageProps) => (
  <Page
    title={id === null ? 'Add a swatch' : 'A swatch'}
    where={<a href="/knitters#swatches">Knitters</a>}
    current="knitters"
    problems={problems}
  >
    <ErrorSummary problems={problems} />
    <form method="post" action={id === null ? '/knitters/swatches' : `/knitters/swatches/${id}`}>
      <UnitsField units={unitsOfForm(values)} />
      {id === null ? null : <input type="hidden" name="version" value={values.version ?? ''} />}
      <Card title="Knitted with">
        <div class="stack">
          <SelectField
            name="knitterId"
            label="Knitted by"
            options={knitters}
            blank="anybody: it counts for all who have none"
            value={values.knitterId}
            problems={problems}
          />
          <FieldRow>
            <SelectField
              name="yarnId"
              label="Yarn"
              options={yarns}
              blank="choose"
              value={values.yarnId}
              problems={problems}
            />
            <SelectField
              name="strands"
              label="Strands held together"
              options={[
                { value: '1', words: 'one' },
                { value: '2', words: 'two' },
                { value: '3', words: 'three' },
              ]}
              value={values.strands}
              problems={problems}
              width="short"
            />
            <SelectField
              name="secondYarnId"
              label="Together with another yarn"
              options={yarns}
              blank="no other yarn"
              value={values.secondYarnId}
              problems={problems}
            />
          </FieldRow>
          <FieldRow>
            <TextField
              name="needleMm"
              label="Needle"
              hint="In mm, or like US 10.5 or old UK 3; 7 and 7.5 mm have no US size."
              value={values.needleMm}
              suggestions={needles}
              problems={problems}
              maxlength={60}
            />
            <SelectField
              name="fabric"
              label="In"
              hint="Ribs: their own weighed square tells their yarn."
              options={fabrics.map((fabric) => ({
                value: fabric,
                words: fabric === 'stocking' ? 'stocking stitch' : fabric,
              }))}
              value={values.fabric}
              problems={problems}
            />
          </FieldRow>
        </div>
      </Card>
      <Card title="Counted">
        <div class="stack">
          <p class="hint">
            Over any length: 24 stitches over{' '}
            {unitsOfForm(values) === 'metric' ? '18 cm is better than over 10' : '7 in is better than over 4'}. Halves
            count. If you weigh it, count all stitches and all rows of the square and measure all of it.
          </p>
          <FieldRow>
            <TextField
              name="stitches"
              label="Stitches"
              value={values.stitches}
              problems={problems}
              inputmode="decimal"
              width="short"
            />
            <TextField
              name="width"
              label="over a width of"
              value={values.width}
              problems={problems}
              inputmode="decimal"
              width="short"
              unit={unitOf('lengthMm', unitsOfForm(values))}
            />
          </FieldRow>
          <FieldRow>
            <TextField
              name="rows"
              label="Rows"
              value={values.rows}
              problems={problems}
              inputmode="decimal"
              width="short"
            />
            <TextField
              name="height"
              label="over a height of"
              value={values.height}
              problems={problems}
              inputmode="decimal"
              width="short"
              unit={unitOf('lengthMm', unitsOfForm(values))}
            />
          </FieldRow>
          <FieldRow>
            <TextField
              name="massG"
              label="Weight of the whole square"
              hint="Tells how much yarn is in one stitch. Empty when it was not weighed."
              value={values.massG}
              problems={problems}
              inputmode="decimal"
              width="short"
              unit={unitOf('massG', unitsOfForm(values))}
            />
            <TextField
              name="scaleStepG"
              label="Your scale shows steps of"
              hint="Kept in the settings: a finer scale makes the yarn surer."
              value={values.scaleStepG}
              problems={problems}
              inputmode="decimal"
              width="short"
              unit={unitOf('massG', unitsOfForm(values))}
            />
          </FieldRow>
          <CheckField
            name="isWashed"
            label="Washed and dried before it was measured"
            hint="Washed squares count alone where there are any: slippers get washed."
            isChecked={values.isWashed === 'yes'}
            problems={problems}
          />
          <TextField name="madeDay" type="date" label="Knitted on" value={values.madeDay} problems={problems} />
        </div>
      </Card>
      {id === null ? null : (
        <Card title="Leave it out">
          <TextField
            name="leftOutReason"
            label="Why it should not count"
            hint="With a reason here it stays on the list and no longer counts. Empty: it counts."
            value={values.leftOutReason}
            problems={problems}
            width="long"
            maxlength={200}
          />
        </Card>
      )}
      <Actions>
        <Button>{id === null ? 'Add the swatch' : 'Save the swatch'}</Button>
        {id === null ? null : (
          <LinkButton href={`/knitters/swatches/${id}/changes`} kind="quiet">
            What it changes
          </LinkButton>
        )}
      </Actions>
    </form>
  </Page>
);
