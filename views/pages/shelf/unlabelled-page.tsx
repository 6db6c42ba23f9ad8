import { formatNumber } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, FieldRow, TextField, UnitsField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { WorkingLines } from '#views/components/working.tsx';
import { undyedHex } from '#views/components/yarn-colour.ts';
import { formatYarnLength, unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { ShelfCell, ShelfCellChoice } from '#views/pages/shelf/cell.tsx';
import { PlaceField } from '#views/pages/shelf/lot-forms.tsx';
import { unknownFibre } from '#views/pages/shelf/yarn-words.ts';

export type WorkedRow = {
  readonly row: number;
  readonly metres: number;
  readonly metresSd: number;
  readonly tex: number;
  /** Names of every yarn weight that fits. */
  readonly weights: string;
  /** Those weights to choose from, and the one that it counts as. */
  readonly fits: readonly { readonly value: string; readonly words: string }[];
  readonly countsAs: string;
  readonly isAtOdds: boolean;
};

export type UnlabelledPageProps = {
  readonly purpose: Purpose;
  readonly rowCount: number;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  /** What was worked out so far; empty before it is asked for. */
  readonly worked: readonly WorkedRow[];
  /** The yarns that these balls become. */
  readonly yarns: readonly { readonly name: string; readonly balls: number; readonly weight: string }[];
  readonly places: readonly string[];
  readonly donors: readonly string[];
};

// A length below 10 m is told to a tenth, so its range is told from the half of one on.
const isRangeShown = ({ metres, metresSd }: WorkedRow) => metresSd >= (metres < 9.95 ? 0.05 : 0.5);

const Result = ({
  worked,
  chosen,
}: {
  readonly worked: WorkedRow | undefined;
  /** The yarn weight that was chosen. */
  readonly chosen: string | undefined;
}) =>
  worked ? (
    <span class="cell-answer">
      {formatYarnLength(worked.metres)}
      {isRangeShown(worked) ? ` ±${formatYarnLength(worked.metresSd)}` : ''}, {worked.weights}
      {worked.fits.length > 1 ? (
        <small class="block">
          counts as{' '}
          <ShelfCellChoice
            name={`weight${worked.row}`}
            label={`Ball ${worked.row}: counts as`}
            value={worked.fits.some(({ value }) => value === chosen) ? chosen : ''}
            problems={[]}
            options={[{ value: '', words: `${worked.countsAs}, not sure` }, ...worked.fits]}
          />
        </small>
      ) : null}
      {worked.isAtOdds ? (
        <small class="block">Wraps and weight disagree: count the wraps and weigh the ten metres once more.</small>
      ) : null}
    </span>
  ) : null;

type RowsProps = Pick<UnlabelledPageProps, 'rowCount' | 'values' | 'problems' | 'worked'> & {
  readonly massUnit: string;
  readonly tenWords: string;
};

const Rows = ({ rowCount, values, problems, worked, massUnit, tenWords }: RowsProps) => {
  const showsAnswer = worked.length > 0;
  const names = [
    `Weighs (${massUnit})`,
    `${tenWords} weigh (${massUnit})`,
    'Wraps in an inch',
    'Colour',
    'Chip',
    'Given by',
  ];
  return (
    <div class="size-grid-frame">
      <table class="size-grid ball-grid">
        <caption>One ball a row; rows left empty are passed over</caption>
        <thead>
          <tr>
            <th scope="col">Ball</th>
            {names.map((name) => (
              <th scope="col">{name}</th>
            ))}
            {showsAnswer ? <th scope="col">Comes to</th> : null}
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: rowCount }, (_, index) => index + 1).map((row) => {
            const cell = (name: string) => ({ name: `${name}${row}`, value: values[`${name}${row}`], problems });
            const label = (index: number) => `Ball ${row}: ${names[index]}`;
            const cells = [
              <ShelfCell {...cell('mass')} label={label(0)} inputmode="decimal" />,
              <ShelfCell {...cell('ten')} label={label(1)} inputmode="decimal" />,
              <ShelfCell {...cell('wraps')} label={label(2)} inputmode="decimal" />,
              <ShelfCell {...cell('colour')} label={label(3)} isWide maxlength={100} />,
              <ShelfCell {...cell('hex')} value={cell('hex').value || undyedHex} label={label(4)} type="color" />,
              <ShelfCell {...cell('donor')} label={label(5)} isWide maxlength={200} list="field-donor-list" />,
            ];
            return (
              <tr>
                <th scope="row">
                  <span class="cell-name">Ball&nbsp;</span>
                  {row}
                </th>
                {cells.map((content, index) => (
                  <td>
                    <span class="cell-name">{names[index]}</span>
                    {content}
                  </td>
                ))}
                {showsAnswer ? (
                  <td>
                    <Result worked={worked.find((each) => each.row === row)} chosen={values[`weight${row}`]} />
                  </td>
                ) : null}
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
};

const Method = ({ tenWords }: { readonly tenWords: string }) => (
  <section>
    <h2>How it is worked out</h2>
    <WorkingLines
      lines={[
        {
          term: 'length',
          value: `weight / weight of ${tenWords.toLowerCase()} x 10`,
          mark: 'ours',
          source: 'counting',
        },
        {
          term: 'thickness',
          value: 'tex = grams of ten metres x 100',
          mark: 'published',
          source: 'tex is grams in 1000 m (ISO 1144)',
        },
        {
          term: 'yarn weight from wraps',
          value:
            'lace from 30, super fine 14–30, fine 12–18, light 11–15, medium 9–12, bulky 6–9, super bulky 5–6, jumbo up to 4; the bands overlap, so every one that fits is named',
          mark: 'published',
          source: 'Craft Yarn Council chart of wraps per inch, as others reproduce it',
        },
        {
          term: 'yarn weight without wraps',
          value:
            'metres in 100 g: lace from 600, super fine 350–600, fine 250–350, light 200–250, medium 120–200, bulky 100–130, thicker below; other tables differ by up to a third',
          mark: 'trade',
          source: 'tables of yarn shops',
        },
        {
          term: 'length is known within',
          value: 'what your scale rounds away: step / square root of 12, of the ball and of the ten metres',
          mark: 'ours',
          source: 'an even spread over one step of the scale',
        },
      ]}
    />
    <p class="hint">
      Wrap the yarn around a pencil, side by side and not tight, and count the wraps in {formatNumber(2.54, 2)} cm.
    </p>
  </section>
);

/** Many balls of unknown wool at once: weighed, measured and put on the shelf. */
export const UnlabelledPage = (props: UnlabelledPageProps) => {
  const { purpose, rowCount, values, problems, worked, yarns, places, donors } = props;
  const field = (name: string) => ({ name, value: values[name], problems });
  const units = unitsOfForm(values);
  const tenWords = units === 'metric' ? 'Ten metres' : 'Ten yards';
  return (
    <Page
      title="Unlabelled wool"
      where={<a href="/shelf">Yarn shelf</a>}
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      <form method="post" action="/shelf/unlabelled">
        <ErrorSummary problems={problems} />
        <UnitsField units={units} />
        <input type="hidden" name="rows" value={String(rowCount)} />
        <p>
          Weigh each ball and {tenWords.toLowerCase()} of it. What it is made of is not known, so all of it counts as{' '}
          {unknownFibre}. Balls of one colour name and one giver count as one lot that may meet in a pair: give a ball
          that may not match a colour name of its own.
        </p>
        <Rows
          rowCount={rowCount}
          values={values}
          problems={problems}
          worked={worked}
          massUnit={unitOf('massG', units)}
          tenWords={tenWords}
        />
        <Actions>
          <Button kind="quiet" name="do" value="work" formnovalidate>
            Work it out
          </Button>
          <Button kind="quiet" name="do" value="more" formnovalidate>
            More rows
          </Button>
        </Actions>
        {yarns.length === 0 ? null : (
          <Card title="What it becomes">
            <DataTable
              caption="Yarns that these balls become"
              isCaptionHidden
              columns={[
                { name: 'Yarn', kind: 'heading', cell: ({ name }) => name },
                { name: 'Balls', kind: 'number', cell: ({ balls }) => String(balls) },
                { name: 'Counts as', cell: ({ weight }) => weight },
              ]}
              rows={yarns}
            />
          </Card>
        )}
        <Card title="The same for all of them">
          <FieldRow>
            <TextField {...field('day')} label="Day it came" type="date" required />
            <TextField
              {...field('donor')}
              label="Given by"
              hint="Where a row names nobody; may be left empty"
              maxlength={200}
              suggestions={donors}
            />
          </FieldRow>
          <PlaceField {...field('place')} places={places} />
          <ChoiceField
            {...field('join')}
            label="What becomes one yarn"
            options={[
              { value: 'thickness', words: 'balls of the very same thickness' },
              { value: 'weight', words: 'balls of one yarn weight', hint: 'As thick as they are on the whole' },
              { value: 'all', words: 'all of them' },
            ]}
          />
        </Card>
        <Actions>
          <Button name="do" value="save">
            Put them on the shelf
          </Button>
          <LinkButton href="/shelf" kind="quiet">
            Back to the shelf
          </LinkButton>
        </Actions>
      </form>
      <Method tenWords={tenWords} />
    </Page>
  );
};
