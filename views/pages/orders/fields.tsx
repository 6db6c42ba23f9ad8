import { currencySign } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Chip } from '#views/components/chip.tsx';
import { ChoiceField, fieldId, SelectField, TextAreaField, TextField, UnitsField } from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import type { FormNames, FormValues } from '#views/pages/orders/types.ts';

export type FieldsProps = {
  readonly names: FormNames;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  /** What stays of colours held together that the form cannot show. */
  readonly strandNote?: string | null | undefined;
};

type Yarn = { readonly name: string; readonly colours: FormNames['colours'] };

/** Colours by yarn; yarns and colours stay in the order of last use. */
export function byYarn(colours: FormNames['colours']): readonly Yarn[] {
  const yarnIds = [...new Set(colours.map((colour) => colour.yarnId))];
  return yarnIds.map((yarnId) => {
    const ofYarn = colours.filter((colour) => colour.yarnId === yarnId);
    return { name: ofYarn[0]!.yarnName, colours: ofYarn };
  });
}

/** A list to choose a colour from, by yarn. */
export const ColourSelect = (props: {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly blank: string;
  readonly colours: FormNames['colours'];
  readonly value: string | undefined;
  readonly problems: readonly Problem[];
}) => {
  const { colours, ...rest } = props;
  return (
    <SelectField
      {...rest}
      width="medium"
      options={byYarn(colours).map((yarn) => ({
        group: yarn.name,
        options: yarn.colours.map((colour) => ({ value: String(colour.id), words: colour.name })),
      }))}
    />
  );
};

const mostChips = 16;

/** Colours to tap, as they look knitted; a list where there are more than fit under a thumb. */
const ColourChips = ({
  name,
  label,
  colours,
  value,
  problems,
}: {
  readonly name: string;
  readonly label: string;
  readonly colours: FormNames['colours'];
  readonly value: string | undefined;
  readonly problems: readonly Problem[];
}) => {
  if (colours.length > mostChips) {
    return <ColourSelect name={name} label={label} blank="Choose" {...{ colours, value, problems }} />;
  }
  const messages = problems.filter((problem) => problem.path === name).map((problem) => problem.message);
  const id = fieldId(name);
  let index = 0;
  return (
    <fieldset
      class={messages.length > 0 ? 'field has-error' : 'field'}
      aria-describedby={messages.length > 0 ? `${id}-error` : undefined}
    >
      <legend>{label}</legend>
      {messages.length > 0 ? (
        <p class="error" id={`${id}-error`}>
          {messages.join(' ')}
        </p>
      ) : null}
      {byYarn(colours).map((yarn) => (
        <div class="yarn-choices">
          <p class="hint">{yarn.name}</p>
          <div class="chip-choices">
            {yarn.colours.map((colour) => {
              const isFirst = index === 0;
              index += 1;
              return (
                <label class="choice">
                  <input
                    type="radio"
                    name={name}
                    value={String(colour.id)}
                    checked={String(colour.id) === value}
                    {...(isFirst ? { id } : {})}
                  />
                  <Chip colours={colour.hexes} name={colour.name} />
                </label>
              );
            })}
          </div>
        </div>
      ))}
    </fieldset>
  );
};

const hasOneStyle = (names: FormNames) => names.styles.length <= 1;

/** Which style, where there is more than one: its colours and its cuff are shown with it. */
export const StyleField = ({ names, values, problems }: FieldsProps) =>
  hasOneStyle(names) ? null : (
    <SelectField
      name="style"
      label="Style"
      options={names.styles.map((style) => ({
        value: String(style.id),
        words: style.name,
        shows: [
          ...style.roles.map((role) => `shows-role-${names.roles.findIndex((each) => each.name === role.name)}`),
          ...(style.hasCuff ? ['shows-cuff'] : []),
        ].join(' '),
      }))}
      value={values.style}
      problems={problems}
    />
  );

/** The style sheet knows as many colours as this by their place; a workshop's further ones are always shown. */
const mostPlaces = 8;

function placeClass(names: FormNames, index: number): string | undefined {
  return hasOneStyle(names) || index >= mostPlaces ? undefined : `of-style of-role-${index}`;
}

/** The colours that go with the main one: the same, unless another is named. */
export const OtherColourField = ({ names, values, problems, index }: FieldsProps & { readonly index: number }) => {
  const role = names.roles[index]!;
  return (
    <div class={placeClass(names, index)}>
      <ColourSelect
        name={`colour-${role.name}`}
        label={`${role.words} colour`}
        blank={`same as the ${names.roles[0]!.words.toLowerCase()}`}
        colours={names.colours}
        value={values[`colour-${role.name}`]}
        problems={problems}
      />
    </div>
  );
};

/** A strand of another colour or yarn beside a role's own: seldom wanted, so closed while nothing is. */
const HeldWithFields = ({ names, values, problems }: FieldsProps) => {
  const isUsed = names.roles.some(
    ({ name }) => values[`with-${name}`] || problems.some((problem) => problem.path === `with-${name}`),
  );
  return (
    <details class="more" open={isUsed}>
      <summary>Held together with another yarn or colour</summary>
      <div class="more-fields">
        <p class="hint">One strand of each. Swatch them together: the stitches are a guess until then.</p>
        {names.roles.map((role, index) => (
          <div class={placeClass(names, index)}>
            <ColourSelect
              name={`with-${role.name}`}
              label={`${role.words} held together with`}
              blank="nothing else"
              colours={names.colours}
              value={values[`with-${role.name}`]}
              problems={problems}
            />
          </div>
        ))}
      </div>
    </details>
  );
};

/** A colour for each role: the main one is chosen, the others are the same unless another is named. */
export const ColourFields = (props: FieldsProps) => {
  const { names, values, problems, strandNote } = props;
  return (
    <>
      {strandNote ? <p class="hint">{strandNote}</p> : null}
      {names.roles.map((role, index) => {
        const ofStyles = names.styles.filter((style) => style.roles.some((each) => each.name === role.name));
        const isMain = index === 0 || ofStyles.every((style) => style.roles[0]?.name === role.name);
        if (!isMain) return <OtherColourField {...props} index={index} />;
        const name = `colour-${role.name}`;
        return (
          <div class={placeClass(names, index)}>
            <ColourChips
              {...{ name, problems }}
              label={`${role.words} colour`}
              colours={names.colours}
              value={values[name]}
            />
          </div>
        );
      })}
      <HeldWithFields {...props} />
    </>
  );
};

/** How tall the cuff is, in words or as a height. */
export const CuffField = ({ names, values, problems }: FieldsProps) => {
  const units = unitsOfForm(values);
  return (
    <div class={hasOneStyle(names) ? 'cuffs' : 'cuffs of-style of-cuff'}>
      <ChoiceField
        name="cuff"
        label="Cuff"
        layout="row"
        options={[
          { value: 'short', words: 'short' },
          { value: 'turned down', words: 'turned down' },
          { value: 'none', words: 'none' },
          { value: 'height', words: 'a height of its own' },
        ]}
        value={values.cuff ?? 'short'}
        problems={problems}
      />
      <div class="when when-height">
        <UnitsField units={units} />
        <TextField
          name="cuffHeight"
          label="Height of the cuff"
          width="short"
          unit={unitOf('lengthMm', units)}
          inputmode="decimal"
          maxlength={20}
          value={values.cuffHeight}
          problems={problems}
        />
      </div>
    </div>
  );
};

export const FitField = ({ values, problems }: Pick<FieldsProps, 'values' | 'problems'>) => (
  <ChoiceField
    name="fit"
    label="Fit"
    layout="row"
    options={[
      { value: 'snug', words: 'snug' },
      { value: 'usual', words: 'usual' },
      { value: 'roomy', words: 'roomy' },
    ]}
    value={values.fit ?? 'usual'}
    problems={problems}
  />
);

const hidden = ['cuff', 'cuffHeight', 'fit', 'lineKnitter', 'agreed'];

function isUsual(values: FormValues, problems: readonly Problem[]): boolean {
  return (
    (values.cuff ?? 'short') === 'short' &&
    (values.fit ?? 'usual') === 'usual' &&
    (values.lineKnitter ?? '') === '' &&
    (values.agreed ?? '') === '' &&
    !problems.some((problem) => hidden.includes(problem.path))
  );
}

/** What seldom differs: cuff, fit, who knits it and a price agreed; closed while all of it is as usual. */
export const MoreFields = ({ names, values, problems }: FieldsProps) => {
  const hasKnitters = names.knitters.length > 1;
  const hasCuff = names.styles.length === 0 || names.styles.some((style) => style.hasCuff);
  return (
    <details class="more" open={!isUsual(values, problems)}>
      <summary>{`${hasKnitters ? `${hasCuff ? 'Cuff, fit' : 'Fit'} and who knits it` : hasCuff ? 'Cuff and fit' : 'Fit'}, if not as usual`}</summary>
      <div class="more-fields">
        {hasCuff ? <CuffField names={names} values={values} problems={problems} /> : null}
        <FitField values={values} problems={problems} />
        <KnitterField {...{ names, values, problems }} />
        {names.purpose === 'give' ? null : (
          <TextField
            name="agreed"
            label="Price agreed for a pair"
            hint="Leave it empty to take the price of the price sheet."
            width="short"
            unit={currencySign(names.currency)}
            inputmode="decimal"
            maxlength={20}
            value={values.agreed}
            problems={problems}
          />
        )}
      </div>
    </details>
  );
};

export const QuantityField = ({ values, problems }: Pick<FieldsProps, 'values' | 'problems'>) => (
  <TextField
    name="quantity"
    label="How many pairs"
    width="short"
    inputmode="numeric"
    maxlength={15}
    value={values.quantity ?? '1'}
    problems={problems}
  />
);

/** Who is to knit a line, where there is a choice. */
const KnitterField = ({ names, values, problems }: FieldsProps) =>
  names.knitters.length < 2 ? null : (
    <SelectField
      name="lineKnitter"
      label="Who knits it"
      hint="Her stitches and her time then count for it."
      blank="whoever has time"
      options={names.knitters.map(({ id, name }) => ({ value: String(id), words: name }))}
      value={values.lineKnitter}
      problems={problems}
    />
  );

/** Where it goes, when, and for whom. */
export const OrderFields = ({ names, values, problems }: FieldsProps) => (
  <>
    <SelectField
      name="outlet"
      label="Where does it go?"
      options={names.outlets.map((outlet) => ({ value: String(outlet.id), words: outlet.name }))}
      value={values.outlet}
      problems={problems}
    />
    <TextField
      name="customer"
      label="For whom, if anybody"
      maxlength={200}
      suggestions={names.customers.map((customer) => customer.name)}
      value={values.customer}
      problems={problems}
    />
    <TextField name="due" label="Due day, if any" type="date" value={values.due} problems={problems} />
    <TextField
      name="reference"
      label="Reference, if any"
      maxlength={200}
      value={values.reference}
      problems={problems}
    />
    <ChoiceField
      name="state"
      label="Is it agreed?"
      layout="row"
      options={[
        { value: 'agreed', words: 'agreed' },
        { value: 'asked', words: 'only asked' },
      ]}
      value={values.state ?? 'agreed'}
      problems={problems}
    />
  </>
);

/** Where it is posted to and by when: closed while nothing is said. */
export const PostFields = ({ values, problems }: Pick<FieldsProps, 'values' | 'problems'>) => {
  const isUsed = ['arriveBy', 'address'].some(
    (name) => (values[name] ?? '') !== '' || problems.some((problem) => problem.path === name),
  );
  return (
    <details class="more" open={isUsed}>
      <summary>To be posted</summary>
      <div class="more-fields">
        <TextField
          name="arriveBy"
          label="To be there by"
          hint="The last day to post it is counted back from it."
          type="date"
          value={values.arriveBy}
          problems={problems}
        />
        <TextAreaField
          name="address"
          label="Address"
          rows={3}
          maxlength={1000}
          value={values.address}
          problems={problems}
        />
      </div>
    </details>
  );
};
