import { currencySign } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, FieldRow, SelectField, TextField, UnitsField } from '#views/components/field.tsx';
import { formatWeighed, unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { type ShortLot, ShortQuestion } from '#views/pages/shelf/short-pairs.tsx';
import { lotWords } from '#views/pages/shelf/yarn-words.ts';

export type LotFormKind = 'weigh' | 'take-off' | 'wind-off' | 'hand' | 'change';

export type LotFormProps = {
  readonly kind: LotFormKind;
  readonly purpose: Purpose;
  readonly currency: string;
  readonly colour: { readonly name: string };
  readonly lot: { readonly id: number; readonly dyeLot: string | null };
  /** Came as a gift. */
  readonly isGiven: boolean;
  readonly balls: readonly {
    readonly id: number;
    readonly number: number;
    readonly massMg: number;
    readonly knitterId: number | null;
    readonly version: number;
  }[];
  /** Pairs that may have used it. */
  readonly pairs: readonly { readonly id: number; readonly sizeWords: string }[];
  readonly knitters: readonly { readonly id: number; readonly name: string }[];
  /** Places and givers that were typed before. */
  readonly places: readonly string[];
  readonly donors: readonly string[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
  /** This lot, where pairs would lack yarn by what was typed. */
  readonly short?: readonly ShortLot[];
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
      words: `ball ${number}, ${formatWeighed(massMg)}`,
    }))}
    {...(balls.length === 1 ? {} : { blank: 'Choose a ball' })}
    required
  />
);

type MassFieldsProps = {
  readonly field: Field;
  readonly balls: LotFormProps['balls'];
  readonly pairs: LotFormProps['pairs'];
  /** Grams or ounces. */
  readonly unit: string;
  readonly isGiven: boolean;
};

/** Where yarn goes; a gift goes back to who gave it, what was bought to the shop. */
const goneWords = (isGiven: boolean) => [
  { value: 'used', words: 'used' },
  { value: 'lost', words: 'lost or spoiled' },
  { value: 'back', words: isGiven ? 'back to the giver' : 'back to the shop' },
];

const DayField = ({ field }: { readonly field: Field }) => <TextField {...field('day')} label="Day" type="date" />;

const PairField = ({ field, pairs }: Pick<MassFieldsProps, 'field' | 'pairs'>) =>
  pairs.length === 0 ? null : (
    <SelectField
      {...field('pair')}
      label="Used by"
      hint="Where it was used and you know for which pair"
      options={pairs.map(({ id, sizeWords }) => ({ value: String(id), words: `pair ${id}, ${sizeWords}` }))}
      blank="No pair in particular"
    />
  );

const WeighFields = ({ field, balls, pairs, unit, isGiven }: MassFieldsProps) => (
  <>
    <BallField field={field} balls={balls} />
    <TextField {...field('grams')} label="The scale shows" inputmode="decimal" unit={unit} width="short" required />
    <ChoiceField
      {...field('reason')}
      value={field('reason').value || 'used'}
      label="Where the difference went"
      options={[...goneWords(isGiven), { value: 'weighed', words: 'nothing, the number was wrong' }]}
    />
    <PairField field={field} pairs={pairs} />
    <DayField field={field} />
  </>
);

const TakeOffFields = ({ field, balls, pairs, unit, isGiven }: MassFieldsProps) => (
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
      options={goneWords(isGiven)}
    />
    <PairField field={field} pairs={pairs} />
    <DayField field={field} />
  </>
);

const WindOffFields = ({ field, balls, unit }: Omit<MassFieldsProps, 'pairs' | 'isGiven'>) => (
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
    <DayField field={field} />
  </>
);

const HandFields = ({
  field,
  balls,
  knitters,
}: Pick<LotFormProps, 'balls' | 'knitters'> & { readonly field: Field }) => {
  const nameOf = (id: number | null) => knitters.find((knitter) => knitter.id === id)?.name;
  return (
    <>
      <SelectField
        {...field('ball')}
        label="Ball"
        options={balls.map(({ id, number, massMg, knitterId }) => ({
          value: String(id),
          words: `ball ${number}, ${formatWeighed(massMg)}, ${knitterId === null ? 'on the shelf' : `with ${nameOf(knitterId) ?? 'a knitter'}`}`,
        }))}
        {...(balls.length === 1 ? {} : { blank: 'Choose a ball' })}
        required
      />
      {balls.map(({ id, version }) => (
        <input type="hidden" name={`version-${id}`} value={field(`version-${id}`).value ?? String(version)} />
      ))}
      <SelectField
        {...field('who')}
        label="Who has it now"
        options={[
          { value: 'shelf', words: 'the shelf: it is home again' },
          ...knitters.map(({ id, name }) => ({ value: String(id), words: name })),
        ]}
        blank="Choose"
        required
      />
      <DayField field={field} />
    </>
  );
};

const ChangeFields = ({
  field,
  currency,
  places,
  donors,
}: Pick<LotFormProps, 'currency' | 'places' | 'donors'> & { readonly field: Field }) => (
  <>
    <input type="hidden" name="version" value={field('version').value ?? ''} />
    <FieldRow>
      <TextField {...field('dyeLot')} label="Dye lot" maxlength={200} />
      <TextField {...field('gotDay')} label="Day it came" type="date" required />
      <TextField
        {...field('returnable')}
        label="Until when at the shop"
        hint="Its last day to take it back, or to keep it for you"
        type="date"
      />
    </FieldRow>
    <PlaceField {...field('place')} places={places} />
    <FieldRow>
      <TextField
        {...field('paid')}
        label="Paid for all of it"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
        required
      />
      <TextField {...field('donor')} label="Given by" hint="For a gift" maxlength={200} suggestions={donors} />
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

export type PlaceFieldProps = {
  readonly name: string;
  readonly value: string | undefined;
  readonly problems: readonly Problem[];
  readonly places: readonly string[];
};

/** Where a lot lies; what the shop keeps for us lies at the shop. */
export const PlaceField = ({ places, ...field }: PlaceFieldProps) => (
  <TextField
    {...field}
    label="Place"
    hint="A box, a drawer, a board; “at the shop” when the shop keeps it for you"
    maxlength={200}
    suggestions={[...new Set([...places, 'at the shop'])]}
  />
);

const titles: Readonly<Record<LotFormKind, string>> = {
  weigh: 'Weigh a ball',
  'take-off': 'Take yarn off the shelf',
  'wind-off': 'Wind off a ball',
  hand: 'Hand a ball over',
  change: 'Change this lot',
};

const buttons: Readonly<Record<LotFormKind, string>> = {
  weigh: 'Book the weight',
  'take-off': 'Take it off',
  'wind-off': 'Wind it off',
  hand: 'Hand it over',
  change: 'Save the lot',
};

/** One thing to do with a lot. */
export const LotFormPage = (props: LotFormProps) => {
  const {
    kind,
    purpose,
    currency,
    colour,
    lot,
    isGiven,
    balls,
    pairs,
    knitters,
    places,
    donors,
    values,
    problems = [],
    short = [],
  } = props;
  const field: Field = (name) => ({ name, value: values[name], problems });
  const address = `/shelf/lots/${lot.id}`;
  const units = unitsOfForm(values);
  const unit = unitOf('massG', units);
  const mass = { field, balls, pairs, unit, isGiven };
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
        {kind === 'change' || kind === 'hand' ? null : <UnitsField units={units} />}
        <ShortQuestion short={short} values={values} problems={problems} />
        {kind === 'weigh' ? <WeighFields {...mass} /> : null}
        {kind === 'take-off' ? <TakeOffFields {...mass} /> : null}
        {kind === 'wind-off' ? <WindOffFields field={field} balls={balls} unit={unit} /> : null}
        {kind === 'hand' ? <HandFields field={field} balls={balls} knitters={knitters} /> : null}
        {kind === 'change' ? <ChangeFields field={field} currency={currency} places={places} donors={donors} /> : null}
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
