import type { Problem } from '#core/shared/problem.ts';
import { ChoiceField, FieldRow, SelectField, TextField } from '#views/components/field.tsx';
import { type FootMeasure, MeasureFoot } from '#views/drawings/measure-foot.tsx';
import type { FieldsProps } from '#views/pages/orders/fields.tsx';
import type { FormValues } from '#views/pages/orders/types.ts';

const personWords = [
  { value: 'woman', words: 'woman' },
  { value: 'man', words: 'man' },
  { value: 'child', words: 'child' },
  { value: 'unknown', words: 'not known' },
];

export function bandWords(band: { readonly name: string; readonly person: string }): string {
  return band.person === 'unknown' ? band.name : `${band.person} ${band.name}`;
}

type Measure = {
  readonly measure: FootMeasure;
  /** The fields are named `left` and `right` with this. */
  readonly field: string;
  readonly title: string;
  readonly how: string;
};

const measures: readonly Measure[] = [
  { measure: 'length', field: 'Length', title: 'Length', how: 'heel to the longest toe, standing' },
  { measure: 'ballGirth', field: 'BallGirth', title: 'Round the ball', how: 'the widest part; may be empty' },
  {
    measure: 'heelAnkleGirth',
    field: 'HeelAnkleGirth',
    title: 'Round heel and ankle',
    how: 'back of the heel and front of the ankle; not level round the ankle. May be empty',
  },
];

type SideProps = {
  readonly side: 'left' | 'right';
  readonly measure: Measure;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
};

const SideField = ({ side, measure, values, problems }: SideProps) => {
  const name = `${side}${measure.field}`;
  return (
    <TextField
      name={name}
      label={
        <>
          {side === 'left' ? 'Left' : 'Right'}
          <span class="visually-hidden">{` foot, ${measure.title.toLowerCase()}`}</span>
        </>
      }
      width="short"
      inputmode="decimal"
      maxlength={40}
      value={values[name]}
      problems={problems}
    />
  );
};

/** Both feet, each measured for itself; one is as the other where nothing is said. */
const MeasuredFields = ({ values, problems }: Pick<FieldsProps, 'values' | 'problems'>) => (
  <>
    <SelectField
      name="unit"
      label="Measured in"
      width="short"
      options={[
        { value: 'cm', words: 'cm' },
        { value: 'mm', words: 'mm' },
        { value: 'in', words: 'inches' },
      ]}
      value={values.unit}
      problems={problems}
    />
    {measures.map((measure) => (
      <div class="foot-measure">
        <MeasureFoot measure={measure.measure} />
        <div>
          <p>
            <strong>{measure.title}</strong> <small class="soft">{measure.how}</small>
          </p>
          <FieldRow>
            <SideField side="left" {...{ measure, values, problems }} />
            <SideField side="right" {...{ measure, values, problems }} />
          </FieldRow>
        </div>
      </div>
    ))}
    <p class="hint">
      A foot is knitted like the other where its boxes are empty.{' '}
      <a href="/sizing/measure">A sheet to measure with, to print or to send</a>
    </p>
  </>
);

/** How the size is known, whose foot it is, and the fields of that way alone. */
export const SizeFields = ({ names, values, problems }: FieldsProps) => {
  const ways = [
    { value: 'label', words: 'a shoe size' },
    { value: 'foot', words: 'measured feet' },
    ...(names.bands.length > 0 ? [{ value: 'band', words: 'a band, like 38/39 or M' }] : []),
    { value: 'age', words: 'a child’s age' },
  ];
  return (
    <div class="ways">
      <ChoiceField
        name="by"
        label="How do you know the size?"
        options={ways}
        value={values.by ?? 'label'}
        layout="row"
        problems={problems}
      />
      <div class="when when-label when-foot">
        <ChoiceField
          name="person"
          label="Whose foot?"
          options={personWords}
          value={values.person}
          layout="row"
          problems={problems}
        />
      </div>
      <div class="when when-label">
        <FieldRow>
          <SelectField
            name="system"
            label="System"
            width="short"
            options={names.systems.map((system) => ({ value: system, words: system }))}
            value={values.system}
            problems={problems}
          />
          <TextField
            name="label"
            label="Size"
            width="short"
            inputmode="decimal"
            maxlength={20}
            value={values.label}
            problems={problems}
          />
        </FieldRow>
      </div>
      <div class="when when-foot">
        <MeasuredFields values={values} problems={problems} />
      </div>
      <div class="when when-band">
        <SelectField
          name="band"
          label="Band"
          blank="Choose"
          options={names.bands.map((band) => ({ value: String(band.id), words: bandWords(band) }))}
          value={values.band}
          problems={problems}
        />
      </div>
      <div class="when when-age">
        <TextField
          name="age"
          label="Age in whole years"
          hint="From 2 to 12. Knitted for the mean foot of that age; half of the feet are within 6 to 9 mm of it, so measure if you can."
          width="short"
          unit="years"
          inputmode="numeric"
          maxlength={20}
          value={values.age}
          problems={problems}
        />
      </div>
    </div>
  );
};
