import type { Shape } from '#core/batch/lines.ts';
import type { Card as KnittingCard } from '#core/cards/card.ts';
import { formatMinutes, formatPercent } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { type SizeChoice, sizeWords } from '#core/sizing/size-words.ts';
import type { Spec } from '#core/styles/spec.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, FieldRow, SelectField, TextField, UnitsField } from '#views/components/field.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { MakingSteps } from '#views/components/steps.tsx';
import { DataTable } from '#views/components/table.tsx';
import { FlatPieces, type FlatPieceView } from '#views/drawings/flat-pieces.tsx';
import { formatLength, formatMass, formatMassRange, unitSystem, unitsOfForm } from '#views/format.ts';
import { Page } from '#views/layout.tsx';

/** What was typed, kept as it was typed. */
export type TryValues = {
  readonly person: string;
  readonly size: string;
  readonly yarn: string;
  readonly stitches: string;
  readonly rows: string;
  readonly style: string;
  readonly knitter: string;
  readonly units: string;
};

/** The answer as it is shown. */
export type TriedPair = {
  readonly size: { readonly choice: SizeChoice; readonly length: { readonly value: number } };
  readonly shape: Shape;
  readonly working: { readonly spec: Spec };
  readonly minutes: number;
  /** What parts in colours of their own would add; 0 where the style has one colour. */
  readonly minutesMoreInColours: number;
  readonly grams: readonly { readonly role: string; readonly grams: number }[];
  readonly gramsSd: number;
  readonly yarn: { readonly hexes: readonly string[] };
  readonly card: KnittingCard;
  /** How far feet of an age lie apart; null where the size is none. */
  readonly ageWords: string | null;
  readonly flat: readonly FlatPieceView[];
};

export type TryPageProps = {
  readonly values: TryValues;
  readonly yarns: readonly { readonly value: string; readonly words: string; readonly imperialWords?: string }[];
  readonly styles: readonly { readonly value: string; readonly words: string }[];
  readonly knitters: readonly { readonly value: string; readonly words: string }[];
  readonly problems?: readonly Problem[];
  readonly tried?: TriedPair | null;
  /** Nothing is in the workshop yet: keeping the pair begins it. */
  readonly isEmpty: boolean;
};

const people = [
  { value: 'woman', words: 'a woman' },
  { value: 'man', words: 'a man' },
  { value: 'child', words: 'a child' },
  { value: 'unknown', words: "don't know" },
];

const TryForm = ({ values, yarns, styles, knitters, problems = [], tried }: TryPageProps) => {
  const units = unitsOfForm(values);
  const isMetric = units === 'metric';
  return (
    <Card>
      <form method="get" action="/try">
        <ErrorSummary problems={problems} />
        <UnitsField units={units} />
        {styles.length > 1 ? (
          <SelectField
            name="style"
            label="Style"
            options={styles}
            value={values.style || styles[0]!.value}
            problems={problems}
            width="long"
          />
        ) : null}
        <ChoiceField
          name="person"
          label="For"
          layout="row"
          options={people}
          value={values.person}
          problems={problems}
        />
        <TextField
          name="size"
          label="Size"
          hint={`A shoe size like 38 or UK 5, the foot, like ${isMetric ? '24.5 cm' : '9.6 in'}, or a child’s age, like age 5`}
          value={values.size}
          problems={problems}
          width="short"
          maxlength={30}
        />
        <SelectField
          name="yarn"
          label="Yarn"
          options={yarns.map(({ value, words, imperialWords }) => ({
            value,
            words: isMetric ? words : (imperialWords ?? words),
          }))}
          value={values.yarn || (yarns[0]?.value ?? '')}
          problems={problems}
          width="long"
        />
        {knitters.length > 1 ? (
          <SelectField
            name="knitter"
            label="In the hand of"
            options={knitters}
            blank="whoever stands for all"
            value={values.knitter}
            problems={problems}
            width="medium"
          />
        ) : null}
        <FieldRow>
          <TextField
            name="stitches"
            label={`Stitches ${unitOf('per10Cm', units)}`}
            hint="Empty if you don't know"
            value={values.stitches}
            problems={problems}
            inputmode="decimal"
            width="short"
            maxlength={10}
          />
          <TextField
            name="rows"
            label={`Rows ${unitOf('per10Cm', units)}`}
            hint="Empty: 4 rows to 3 stitches"
            value={values.rows}
            problems={problems}
            inputmode="decimal"
            width="short"
            maxlength={10}
          />
        </FieldRow>
        <Actions>
          <Button kind={tried ? 'quiet' : 'main'}>{tried ? 'Reckon again' : 'Show the pair'}</Button>
        </Actions>
      </form>
    </Card>
  );
};

function addressOf(values: TryValues, figure: string): string {
  return `/try/working/${figure}?${new URLSearchParams(values)}`;
}

const Answer = ({ tried, values, isEmpty }: { tried: TriedPair; values: TryValues; isEmpty: boolean }) => {
  const { spec } = tried.working;
  const { measures } = spec;
  const grams = tried.grams.reduce((sum, each) => sum + each.grams, 0);
  const roles = tried.shape.style.body.roles;
  const hexesOf = () => tried.yarn.hexes;
  const [, second] = roles;
  const inColours =
    second && roles.length === 2
      ? `the ${second.words.toLowerCase()} in another colour`
      : 'each part in its own colour';
  const foot = spec.pieces[0]!;
  const facts = [
    { name: 'Foot length', value: formatLength(tried.size.length.value), figure: 'foot-length' },
    { name: 'Around the ball of the foot', value: formatLength(tried.shape.foot.ballGirthMm), figure: 'ball-girth' },
    { name: `Width of the flat ${foot.name}`, value: formatLength(measures.widthMm), figure: 'width' },
    ...(measures.openingMm > 0
      ? [
          { name: 'Heel to toe, lying flat', value: formatLength(measures.heelToToeMm), figure: 'heel-to-toe' },
          { name: 'Ease really got around', value: formatPercent(measures.girthEaseRatio), figure: 'ease' },
          { name: 'Opening, flat around', value: formatLength(measures.openingMm), figure: 'opening' },
        ]
      : []),
  ];
  return (
    <>
      <FigureRow
        figures={[
          {
            value: `${foot.castOnStitches} stitches`,
            words: `to cast on for the ${foot.name}`,
            href: addressOf(values, 'cast-on'),
          },
          {
            value: `${foot.totalRows} rows`,
            words: measures.openingMm > 0 ? 'heel to toe, cast-on counted' : 'in all, cast-on counted',
            href: addressOf(values, 'rows'),
          },
          {
            value: (
              <>
                {formatMass(grams)} <small class="range">{formatMassRange(tried.gramsSd)}</small>
              </>
            ),
            words: 'of yarn for the pair',
            href: addressOf(values, 'grams'),
          },
          {
            value: formatMinutes(tried.minutes),
            words: 'for the pair, sure to about a fifth',
            href: addressOf(values, 'minutes'),
          },
        ]}
      />
      <form method="post" action="/try/keep">
        {Object.entries(values).map(([name, value]) => (
          <input type="hidden" name={name} value={value} />
        ))}
        <Actions>
          <Button>{isEmpty ? 'Keep as my first order' : 'Keep as an order'}</Button>
        </Actions>
      </form>
      {tried.ageWords ? <Caution title="A mean foot">{tried.ageWords}</Caution> : null}
      {spec.warnings.length > 0 ? (
        <Caution title={spec.isGaugeGuessed ? 'A guess for now' : 'Look at this first'}>
          {spec.warnings.map((warning) => warning.message).join(' ')}
        </Caution>
      ) : null}
      <div class="columns">
        <section>
          <h2>The flat pieces</h2>
          <FlatPieces id="try" pieces={tried.flat} hexesOf={hexesOf} />
        </section>
        <section>
          <h2>Measures and yarn</h2>
          <DataTable
            caption="Measures"
            isCaptionHidden
            columns={[
              { name: 'Measure', kind: 'heading', cell: (row: (typeof facts)[number]) => row.name },
              {
                name: 'Value',
                kind: 'number',
                cell: (row) => <a href={addressOf(values, row.figure)}>{row.value}</a>,
              },
            ]}
            rows={facts}
          />
          <DataTable
            caption="Yarn to weigh out for the pair"
            columns={[
              {
                name: 'For',
                kind: 'heading',
                cell: (row: TriedPair['grams'][number]) =>
                  roles.find((role) => role.name === row.role)?.words ?? row.role,
              },
              { name: 'Weight', kind: 'number', cell: (row) => formatMass(row.grams) },
            ]}
            rows={tried.grams}
          />
        </section>
      </div>
      <section class="making">
        <h2>How to knit it</h2>
        {tried.minutesMoreInColours > 0 ? (
          <p>
            In one colour all over: no colour is changed. With {inColours} it takes{' '}
            {formatMinutes(tried.minutesMoreInColours)} more: colours are changed, and there are more ends to weave in.
          </p>
        ) : null}
        <MakingSteps card={tried.card} />
      </section>
      <Caution title="Smooth knitted soles slip on hard floors">
        Add grip soles or dots. Nothing small or tied on babies' pairs. These are estimates, not advice.
      </Caution>
    </>
  );
};

/** *Try one pair*: size, yarn and stitches in; the card, the yarn and the hours out. */
export const TryPage = (props: TryPageProps) => {
  const { tried, values, problems = [], isEmpty } = props;
  const title = tried ? `One pair for ${sizeWords(tried.size.choice, unitSystem())}` : 'Try one pair';
  return (
    <Page title={title} where={tried ? 'Try one pair' : 'Counts, yarn and hours'} problems={problems}>
      {tried ? <Answer tried={tried} values={values} isEmpty={isEmpty} /> : null}
      {tried ? <h2>Change something</h2> : null}
      <TryForm {...props} />
    </Page>
  );
};
