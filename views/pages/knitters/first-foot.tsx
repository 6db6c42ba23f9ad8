import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
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

export type FirstFootPageProps = {
  readonly foot: {
    readonly lineId: number;
    readonly size: string;
    readonly knitterName: string;
    readonly yarnWords: string;
    readonly castOnStitches: number;
    readonly totalRows: number;
  };
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly knitters: readonly SelectOption[];
  readonly needles: readonly string[];
};

/** *The first foot is the swatch*: three measures of a foot just knitted, before it is sewn. */
export const FirstFootPage = ({ foot, values, problems, knitters, needles }: FirstFootPageProps) => (
  <Page
    title="The first foot is the swatch"
    where={<a href={`/orders/lines/${foot.lineId}`}>{foot.size}</a>}
    current="knitters"
    problems={problems}
  >
    <ErrorSummary problems={problems} />
    <p>
      {`${foot.yarnWords}. ${foot.knitterName}’s card says ${foot.castOnStitches} stitches and ${foot.totalRows} rows. Lay the foot flat before it is sewn, let it rest, and do not stretch it.`}
    </p>
    <form method="post" action="/knitters/swatches/first-foot">
      <UnitsField units={unitsOfForm(values)} />
      <input type="hidden" name="line" value={String(foot.lineId)} />
      <Card>
        <div class="stack">
          <SelectField
            name="knitterId"
            label="Knitted by"
            options={knitters}
            value={values.knitterId}
            problems={problems}
          />
          <FieldRow>
            <TextField
              name="stitches"
              label="Stitches across"
              value={values.stitches}
              problems={problems}
              inputmode="decimal"
              width="short"
            />
            <TextField
              name="width"
              label="are so wide"
              value={values.width}
              problems={problems}
              inputmode="decimal"
              width="short"
              unit={unitOf('lengthMm', unitsOfForm(values))}
            />
            <TextField
              name="tenRows"
              label="Ten rows are so long"
              value={values.tenRows}
              problems={problems}
              inputmode="decimal"
              width="short"
              unit={unitOf('lengthMm', unitsOfForm(values))}
            />
          </FieldRow>
          <TextField
            name="massG"
            label="Weight of the foot with its tails"
            hint={`If you have a scale: it tells how much yarn is in one stitch. The yarn in the tails, about a ${unitsOfForm(values) === 'metric' ? 'metre' : 'yard'}, is taken off.`}
            value={values.massG}
            problems={problems}
            inputmode="decimal"
            width="short"
            unit={unitOf('massG', unitsOfForm(values))}
          />
          <TextField
            name="needleMm"
            label="Needle"
            hint="In mm, or like US 10.5 or old UK 3."
            value={values.needleMm}
            suggestions={needles}
            problems={problems}
          />
          <CheckField
            name="isWashed"
            label="Washed and dried before it was measured"
            isChecked={values.isWashed === 'yes'}
            problems={problems}
          />
          <TextField name="madeDay" type="date" label="Knitted on" value={values.madeDay} problems={problems} />
        </div>
      </Card>
      <Actions>
        <Button>Keep it as a swatch</Button>
      </Actions>
    </form>
  </Page>
);
