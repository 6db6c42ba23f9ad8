import { CheckField, FieldRow, SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import {
  Entry,
  EntryButtons,
  FactorField,
  fieldOf,
  NameSelect,
  type PartProps,
  Seldom,
  ShortField,
} from '#views/pages/styles/form-parts.tsx';

/** Plain words for each kind of step. */
export const kindWords: Readonly<Record<string, string>> = {
  castOn: 'cast on',
  pickUp: 'pick up stitches',
  work: 'work rows',
  change: 'take stitches away or add them',
  drawUp: 'draw up',
  bindOff: 'bind off',
};

const sideOptions: readonly SelectOption[] = [
  { value: 'right side', words: 'right side' },
  { value: 'wrong side', words: 'wrong side' },
];

const isYes = (value: string | undefined) => value === 'yes';

/** How many stitches: what they go across, and how they are rounded. */
const StitchFields = ({ form, path }: PartProps) => {
  const at = (name: string) => `${path}.${name}`;
  return (
    <div class="picks">
      <SelectField
        {...fieldOf(form, at('by'))}
        label="As many stitches as go"
        options={[
          { value: 'across', words: 'across a length', shows: 'shows-a' },
          { value: 'edge', words: 'along edges', shows: 'shows-b' },
        ]}
      />
      <div class="pick pick-a">
        <NameSelect form={form} path={at('across')} list="lengths" label="Length" blank="Choose" />
      </div>
      <div class="pick pick-b">
        <ShortField
          form={form}
          path={at('edge')}
          label="Edges"
          hint="Like foot.left.open, foot.right.open"
          width="long"
        />
      </div>
      <FieldRow>
        <ShortField form={form} path={at('repeat')} label="A multiple of" unit="sts" inputmode="numeric" />
        <ShortField form={form} path={at('plus')} label="plus" unit="sts" inputmode="numeric" />
      </FieldRow>
      <Seldom form={form} paths={['fabric', 'edges', 'least', 'until'].map(at)}>
        <FieldRow>
          <SelectField {...fieldOf(form, at('fabric'))} label="At the gauge of" options={form.fabrics} />
          <ShortField form={form} path={at('edges')} label="Edges taken into seams" inputmode="numeric" />
          <ShortField form={form} path={at('least')} label="At least" unit="sts" inputmode="numeric" />
        </FieldRow>
        <NameSelect
          form={form}
          path={at('until')}
          list="checks"
          label="Add repeats until this check holds"
          blank="none"
        />
      </Seldom>
    </div>
  );
};

const RowFields = ({ form, path }: PartProps) => {
  const at = (name: string) => `${path}.${name}`;
  return (
    <div class="picks">
      <SelectField
        {...fieldOf(form, at('by'))}
        label="How many rows"
        options={[
          { value: 'count', words: 'a number', shows: 'shows-a' },
          { value: 'along', words: 'as a length takes', shows: 'shows-b' },
        ]}
      />
      <div class="pick pick-a">
        <FactorField form={form} path={at('count')} label="Rows" hint="A number or a setting" />
      </div>
      <div class="pick pick-b stack-fields">
        <FieldRow>
          <NameSelect form={form} path={at('along')} list="lengths" label="Length" blank="Choose" />
          <SelectField
            {...fieldOf(form, at('end'))}
            label="The last row is on the"
            width="short"
            options={sideOptions}
          />
        </FieldRow>
        <ShortField
          form={form}
          path={at('less')}
          label="Less the rows of these steps"
          hint="Steps whose rows lie in the length already, like start, toe"
          width="long"
        />
        <ShortField form={form} path={at('least')} label="At least" unit="rows" inputmode="numeric" />
      </div>
    </div>
  );
};

const ChangeFields = ({ form, path }: PartProps) => {
  const at = (name: string) => `${path}.${name}`;
  return (
    <div class="picks">
      <SelectField
        {...fieldOf(form, at('how'))}
        label="How"
        options={[
          { value: 'two together across', words: 'two together all across', shows: 'shows-a' },
          { value: 'centre', words: 'a few in the middle, again and again', shows: 'shows-b shows-d' },
          { value: 'edges', words: 'a few at the edges, again and again', shows: 'shows-b shows-d' },
          { value: 'evenly', words: 'evenly in one row', shows: 'shows-d' },
        ]}
      />
      <div class="pick pick-a stack-fields">
        <FactorField
          form={form}
          path={at('limit')}
          label="Again while more are left than"
          hint="A number or a setting"
        />
        <ShortField form={form} path={at('between')} label="Plain rows between" inputmode="numeric" />
      </div>
      <div class="pick pick-b">
        <FieldRow>
          <ShortField form={form} path={at('by')} label="Each time" unit="sts" inputmode="numeric" />
          <ShortField form={form} path={at('every')} label="Every" unit="rows" inputmode="numeric" />
        </FieldRow>
      </div>
      <div class="pick pick-d stack-fields">
        <SelectField {...fieldOf(form, at('fabric'))} label="Fabric" options={form.fabrics} />
        <p class="soft">Until there are</p>
        <StitchFields form={form} path={at('to')} />
      </div>
    </div>
  );
};

const OwnFields = ({ form, path }: PartProps) => {
  const at = (name: string) => `${path}.${name}`;
  switch (form.values[at('do')]) {
    case 'castOn':
    case 'pickUp':
      return (
        <>
          <StitchFields form={form} path={at('to')} />
          <SelectField
            {...fieldOf(form, at('next'))}
            label="The next row is on the"
            width="short"
            options={sideOptions}
          />
        </>
      );
    case 'work':
      return (
        <>
          <SelectField {...fieldOf(form, at('fabric'))} label="Fabric" options={form.fabrics} />
          <RowFields form={form} path={at('rows')} />
          <CheckField
            {...fieldOf(form, at('plain'))}
            label="The first row is plain, so that a new colour shows no purl bumps"
            value="yes"
            isChecked={isYes(form.values[at('plain')])}
          />
          <details open={(form.values[at('stripeColour')] ?? '') !== ''}>
            <summary>Stripes, good for ends of yarn</summary>
            <FieldRow>
              <NameSelect form={form} path={at('stripeColour')} list="roles" label="By turns with" blank="no stripes" />
              <ShortField
                form={form}
                path={at('stripeRows')}
                label="Rows of a stripe"
                unit="rows"
                inputmode="numeric"
              />
            </FieldRow>
          </details>
        </>
      );
    case 'change':
      return <ChangeFields form={form} path={path} />;
    case 'bindOff':
      return (
        <CheckField
          {...fieldOf(form, at('loose'))}
          label="Loosely"
          value="yes"
          isChecked={isYes(form.values[at('loose')])}
        />
      );
    default:
      return null;
  }
};

/** One step of a piece. */
export const SectionFields = ({ form, path }: PartProps) => {
  const kind = form.values[`${path}.do`] ?? '';
  const name = form.values[`${path}.name`] ?? '';
  const number = Number(path.split('.').at(-1)) + 1;
  return (
    <Entry
      form={form}
      path={path}
      summary={
        <>
          {`${number}. ${name} `}
          <small class="soft">{kindWords[kind] ?? kind}</small>
        </>
      }
    >
      <input type="hidden" name={`${path}.do`} value={kind} />
      <FieldRow>
        <TextField {...fieldOf(form, `${path}.name`)} label="Name of the step" maxlength={60} />
        <NameSelect form={form} path={`${path}.colour`} list="roles" label="Colour" />
      </FieldRow>
      <OwnFields form={form} path={path} />
      <EntryButtons form={form} path={path} what="step" name={name} />
    </Entry>
  );
};
