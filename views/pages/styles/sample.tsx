import type { Card } from '#core/cards/card.ts';
import { countOf, formatMinutes } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Spec } from '#core/styles/spec.ts';
import { Caution } from '#views/components/caution.tsx';
import { FieldRow, fieldId, SelectField, type SelectOption, TextField, UnitsField } from '#views/components/field.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { FlatPieces, type FlatPieceView } from '#views/drawings/flat-pieces.tsx';
import { formatLength, formatMass, unitsOfForm } from '#views/format.ts';

export type FormValues = Readonly<Record<string, string>>;

/** A pair of the style at the size that was chosen to look at. */
export type SampleView = {
  readonly spec: Spec;
  readonly minutes: number;
  readonly grams: number;
  readonly hexes: readonly string[];
  readonly card: Card;
  readonly flat: readonly FlatPieceView[];
};

const people = [
  { value: 'woman', words: 'a woman' },
  { value: 'man', words: 'a man' },
  { value: 'child', words: 'a child' },
  { value: 'unknown', words: "don't know" },
];

/** For which foot, yarn and gauge the style is looked at. */
export const SampleFields = ({
  values,
  yarns,
  problems,
}: {
  readonly values: FormValues;
  readonly yarns: readonly SelectOption[];
  readonly problems: readonly Problem[];
}) => (
  <FieldRow>
    <UnitsField units={unitsOfForm(values)} />
    <SelectField name="person" label="For" options={people} value={values.person} width="medium" problems={problems} />
    <TextField name="size" label="Size" value={values.size} width="short" maxlength={30} problems={problems} />
    <SelectField name="yarn" label="Yarn" options={yarns} value={values.yarn} width="medium" problems={problems} />
    <TextField
      name="stitches"
      label={`Stitches ${unitOf('per10Cm', unitsOfForm(values))}`}
      value={values.stitches}
      inputmode="decimal"
      width="short"
      maxlength={10}
      problems={problems}
    />
    <TextField
      name="rows"
      label={`Rows ${unitOf('per10Cm', unitsOfForm(values))}`}
      value={values.rows}
      inputmode="decimal"
      width="short"
      maxlength={10}
      problems={problems}
    />
  </FieldRow>
);

export const SampleFigures = ({ sample }: { readonly sample: SampleView }) => {
  const main = sample.spec.pieces[0]!;
  return (
    <FigureRow
      figures={[
        { value: countOf(main.castOnStitches, 'stitch', 'stitches'), words: `to cast on for the ${main.name}` },
        { value: countOf(main.totalRows, 'row', 'rows'), words: `${formatLength(main.lengthMm)}, cast-on counted` },
        { value: formatMass(sample.grams), words: 'of yarn for the pair' },
        { value: formatMinutes(sample.minutes), words: 'for the pair' },
      ]}
    />
  );
};

/** The counts of every step, short: what changes while one types. */
const StepCounts = ({ spec }: { readonly spec: Spec }) => (
  <>
    {spec.pieces.map((piece) => (
      <p class="soft">
        <strong>{`${piece.name}: `}</strong>
        {piece.sections
          .map(({ name, rows, stitchesAfter }) =>
            rows === 0
              ? `${name} ${stitchesAfter} sts`
              : `${name} ${countOf(rows, 'row', 'rows')} to ${stitchesAfter} sts`,
          )
          .join(', ')}
      </p>
    ))}
  </>
);

export type PreviewProps = {
  /** Null while the style or the size cannot be reckoned: then `faults` says why. */
  readonly sample: SampleView | null;
  readonly faults: readonly Problem[];
};

const mostFaults = 6;

/** What the style comes to, beside its form; swapped as one types. */
export const StylePreview = ({ sample, faults }: PreviewProps) => (
  <div id="style-preview" class="style-preview" aria-live="polite">
    {sample ? (
      <>
        <SampleFigures sample={sample} />
        <FlatPieces id="preview" pieces={sample.flat} hexesOf={() => sample.hexes} />
        <StepCounts spec={sample.spec} />
        {sample.spec.warnings.length > 0 ? (
          <Caution title="At this size">{sample.spec.warnings.map((warning) => warning.message).join(' ')}</Caution>
        ) : null}
      </>
    ) : (
      <Caution title="No drawing until this is right">
        {faults.slice(0, mostFaults).map(({ path, message }) => (
          <>
            <a href={`#${fieldId(path)}`}>{message}</a>{' '}
          </>
        ))}
      </Caution>
    )}
  </div>
);
