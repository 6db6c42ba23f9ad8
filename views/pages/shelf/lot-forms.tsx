import { currencySign } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, FieldRow, SelectField, TextField, UnitsField } from '#views/components/field.tsx';
import { formatMass, unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { lotWords } from '#views/pages/shelf/yarn-words.ts';

export type LotFormKind = 'weigh' | 'take-off' | 'wind-off' | 'change';

export type LotFormProps = {
  readonly kind: LotFormKind;
  readonly purpose: Purpose;
  readonly currency: string;
  readonly colour: { readonly name: string };
  readonly lot: { readonly id: number; readonly dyeLot: string | null };
  readonly balls: readonly { readonly id: number; readonly number: number; readonly massMg: number }[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

type Field = (name: string) => {
  name: string;
  value: string | undefined;
  problems: readonly Problem[];
};

const BallField = ({ field, balls }: { readonly field: Field; readonly balls: LotFormProps['balls'] }) => (
  <SelectField
    {...field('ball')}
    label="Ball"
    options={balls.map(({ id, number, massMg }) => ({
      value: String(id),
      words: `ball ${number}, ${formatMass(massMg / 1000)}`,
    }))}
    {...(balls.length === 1 ? {} : { blank: 'Choose a ball' })}
    required
  />
);

type MassFieldsProps = {
  readonly field: Field;
  readonly balls: LotFormProps['balls'];
  /** Grams or ounces. */
  readonly unit: string;
};

const goneWords = [
  { value: 'used', words: 'used' },
  { value: 'lost', words: 'lost or spoiled' },
  { value: 'back', words: 'back to the shop' },
];

const WeighFields = ({ field, balls, unit }: MassFieldsProps) => (
  <>
    <BallField field={field} balls={balls} />
    <TextField {...field('grams')} label="The scale shows" inputmode="decimal" unit={unit} width="short" required />
    <ChoiceField
      {...field('reason')}
      value={field('reason').value || 'used'}
      label="Where the difference went"
      options={[...goneWords, { value: 'weighed', words: 'nothing, the number was wrong' }]}
    />
  </>
);

const TakeOffFields = ({ field, balls, unit }: MassFieldsProps) => (
  <>
    <BallField field={field} balls={balls} />
    <TextField
      {...field('grams')}
      label="How much"
      hint="Left empty it is the whole ball"
      inputmode="decimal"
      unit={unit}
      width="short"
    />
    <ChoiceField
      {...field('reason')}
      value={field('reason').value || 'used'}
      label="Where it goes"
      options={goneWords}
    />
  </>
);

const WindOffFields = ({ field, balls, unit }: MassFieldsProps) => (
  <>
    <BallField field={field} balls={balls} />
    <TextField
      {...field('grams')}
      label="Wind off"
      hint="It becomes a ball of its own"
      inputmode="decimal"
      unit={unit}
      width="short"
      required
    />
  </>
);

const ChangeFields = ({ field, currency }: { readonly field: Field; readonly currency: string }) => (
  <>
    <input type="hidden" name="version" value={field('version').value ?? ''} />
    <FieldRow>
      <TextField {...field('dyeLot')} label="Dye lot" maxlength={200} />
      <TextField {...field('gotDay')} label="Day it came" type="date" required />
      <TextField {...field('returnable')} label="Shop takes it back until" type="date" />
    </FieldRow>
    <FieldRow>
      <TextField
        {...field('paid')}
        label="Paid for all of it"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
        required
      />
      <TextField {...field('donor')} label="Given by" hint="For a gift" maxlength={200} />
      <TextField
        {...field('worth')}
        label="Would have cost"
        hint="For a gift"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
      />
    </FieldRow>
  </>
);

const titles: Readonly<Record<LotFormKind, string>> = {
  weigh: 'Weigh a ball',
  'take-off': 'Take yarn off the shelf',
  'wind-off': 'Wind off a ball',
  change: 'Change this lot',
};

const buttons: Readonly<Record<LotFormKind, string>> = {
  weigh: 'Book the weight',
  'take-off': 'Take it off',
  'wind-off': 'Wind it off',
  change: 'Save the lot',
};

/** One thing to do with a lot. */
export const LotFormPage = ({ kind, purpose, currency, colour, lot, balls, values, problems = [] }: LotFormProps) => {
  const field: Field = (name) => ({ name, value: values[name], problems });
  const address = `/shelf/lots/${lot.id}`;
  const units = unitsOfForm(values);
  const unit = unitOf('massG', units);
  return (
    <Page
      title={titles[kind]}
      where={
        <>
          <a href="/shelf">Yarn shelf</a>,{' '}
          <a href={address}>
            {colour.name}, {lotWords(lot.dyeLot)}
          </a>
        </>
      }
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      <form method="post" action={`${address}/${kind}`}>
        <ErrorSummary problems={problems} />
        {kind === 'change' ? null : <UnitsField units={units} />}
        {kind === 'weigh' ? <WeighFields field={field} balls={balls} unit={unit} /> : null}
        {kind === 'take-off' ? <TakeOffFields field={field} balls={balls} unit={unit} /> : null}
        {kind === 'wind-off' ? <WindOffFields field={field} balls={balls} unit={unit} /> : null}
        {kind === 'change' ? <ChangeFields field={field} currency={currency} /> : null}
        <Actions>
          <Button>{buttons[kind]}</Button>
          <LinkButton href={address} kind="quiet">
            Back to the lot
          </LinkButton>
        </Actions>
      </form>
    </Page>
  );
};
