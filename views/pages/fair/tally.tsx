import { currencySign, formatCents, formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { SelectField, TextField } from '#views/components/field.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { CellField } from '#views/pages/fair/cell.tsx';
import { KindName } from '#views/pages/fair/kind-name.tsx';
import type { DayViewProps, KindProps, Values } from '#views/pages/fair/types.ts';

export type TallyPageProps = {
  readonly view: DayViewProps;
  readonly values: Values;
  readonly problems: readonly Problem[];
  readonly token: string;
  readonly lines: { readonly bargained: number; readonly others: number; readonly asked: number };
  readonly purpose: Purpose;
  readonly currency: string;
};

function notedWords({ counts, soldBy }: KindProps): string {
  const noted = [
    soldBy.cash > 0 ? `${soldBy.cash} cash` : '',
    soldBy.card > 0 ? `${soldBy.card} card` : '',
    soldBy.other > 0 ? `${soldBy.other} not known how` : '',
  ].filter(Boolean);
  return `${counts.taken} taken${noted.length > 0 ? `, noted: ${noted.join(', ')}` : ''}`;
}

function columnsOf({ values, problems, purpose }: TallyPageProps): Column<KindProps>[] {
  const box = (part: string, words: string, inputmode: 'numeric' | 'decimal' = 'numeric') => ({
    kind: 'number' as const,
    cell: (kind: KindProps) => (
      <CellField
        name={`${part}-${kind.key}`}
        label={`${kind.words}: ${words}`}
        values={values}
        problems={problems}
        inputmode={inputmode}
      />
    ),
  });
  return [
    {
      name: 'Pair',
      kind: 'heading',
      cell: (kind) => (
        <>
          <KindName kind={kind} />
          <small class="block">{notedWords(kind)}</small>
        </>
      ),
    },
    ...(purpose === 'give'
      ? [{ name: 'Went out', ...box('cash', 'went out') }]
      : [
          { name: 'Cash', ...box('cash', 'sold in cash') },
          { name: 'By card', ...box('card', 'sold by card') },
          { name: 'One at', ...box('price', 'price of one', 'decimal') },
        ]),
    { name: 'Home', ...box('home', 'came home') },
  ];
}

const indexes = (count: number) => Array.from({ length: count }, (_, index) => index);
const waysToPay = [
  { value: 'cash', words: 'cash' },
  { value: 'card', words: 'card' },
  { value: 'other', words: 'not known' },
];

// Folded away while nothing stands in it: most days need neither.
const isTyped = (values: Values, part: string) =>
  Object.keys(values).some((name) => name.startsWith(`${part}-`) && !name.includes('-how-') && values[name] !== '');

const Bargained = ({ view, values, problems, lines, currency }: TallyPageProps) => (
  <details open={isTyped(values, 'bargained')}>
    <summary>Sold at another price</summary>
    <p class="soft">What was bargained: not counted above as well.</p>
    {indexes(lines.bargained).map((index) => {
      const field = (part: string) => {
        const name = `bargained-${part}-${index}`;
        return { name, value: values[name], problems };
      };
      return (
        <div class="tally-line">
          <SelectField
            {...field('kind')}
            label="Pair"
            blank="Choose a pair"
            options={view.kinds.map(({ key, words }) => ({ value: key, words }))}
          />
          <TextField {...field('count')} label="How many" inputmode="numeric" width="short" />
          <TextField
            {...field('price')}
            label="One at"
            inputmode="decimal"
            width="short"
            unit={currencySign(currency)}
          />
          <SelectField {...field('how')} label="Paid" width="short" options={waysToPay} />
        </div>
      );
    })}
  </details>
);

const Others = ({ values, problems, lines, currency }: TallyPageProps) => (
  <details open={isTyped(values, 'other')}>
    <summary>A pair that is not in the list</summary>
    <p class="soft">
      Noted with its money; which pair it was can be <a href="/fair/settle">settled later</a>.
    </p>
    {indexes(lines.others).map((index) => {
      const field = (part: string) => {
        const name = `other-${part}-${index}`;
        return { name, value: values[name], problems };
      };
      return (
        <div class="tally-line">
          <TextField {...field('what')} label="What it was" maxlength={120} />
          <TextField
            {...field('price')}
            label="Sold for"
            inputmode="decimal"
            width="short"
            unit={currencySign(currency)}
          />
          <SelectField {...field('how')} label="Paid" width="short" options={waysToPay} />
        </div>
      );
    })}
  </details>
);

const Asked = ({ values, problems, lines }: TallyPageProps) => (
  <section>
    <h2>Asked for in vain</h2>
    {indexes(lines.asked).map((index) => {
      const field = (part: string) => {
        const name = `asked-${part}-${index}`;
        return { name, value: values[name], problems };
      };
      return (
        <div class="tally-line">
          <TextField {...field('size')} label="Size" width="short" maxlength={60} />
          <TextField {...field('colour')} label="Colour" maxlength={60} />
          <TextField {...field('count')} label="How often" inputmode="numeric" width="short" />
        </div>
      );
    })}
  </section>
);

/** *Type in the day*: what was sold, what came home, the cash box, what was asked for in vain; all on one page. */
export const TallyPage = (props: TallyPageProps) => {
  const { view, values, problems, token, purpose, currency } = props;
  const { fair, day, kinds } = view;
  const isGiving = purpose === 'give';
  return (
    <Page
      title="Type in the day"
      where={
        <>
          <a href="/fair">Fair</a>,{' '}
          <a href={`/fair/days/${day.id}`}>
            {fair.name}, {formatDay(day.day)}
          </a>
        </>
      }
      current="fair"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {kinds.length === 0 ? (
        <EmptyState action={{ href: `/fair/days/${day.id}/pairs`, words: 'Choose what came along' }}>
          Say first which pairs came along.
        </EmptyState>
      ) : null}
      <form method="post" action={`/fair/days/${day.id}/tally`} class="tally-form">
        <input type="hidden" name="token" value={token} />
        <input type="hidden" name="version" value={values.version ?? ''} />
        <p>
          Type what was sold, or how many came home, or both: nothing counts twice. Sales noted before stay, those typed
          here come on top. What was taken, is not noted as sold and did not come home is a sale that nobody noted, and
          is offered for booking next.
        </p>
        {kinds.length > 0 ? (
          <DataTable caption="Pairs" isCaptionHidden isDense columns={columnsOf(props)} rows={kinds} />
        ) : null}
        {isGiving ? null : (
          <>
            {kinds.length > 0 ? <Bargained {...props} /> : null}
            <Others {...props} />
            <section>
              <h2>The cash box</h2>
              <TextField
                name="cash"
                label="Counted in the evening"
                hint={`With the float of ${formatCents(day.floatCents, currency)} in it`}
                value={values.cash}
                problems={problems}
                inputmode="decimal"
                width="short"
                unit={currencySign(currency)}
              />
            </section>
          </>
        )}
        <Asked {...props} />
        <Actions>
          <Button>Save the day</Button>
          <LinkButton href={`/fair/days/${day.id}`} kind="quiet">
            Back to the day
          </LinkButton>
        </Actions>
      </form>
    </Page>
  );
};
