import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatMinutes } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { fieldId, TextField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { upperFirst } from '#views/pages/batch/count-words.ts';
import { orderWords, PairCount, PairName } from '#views/pages/batch/pair-parts.tsx';
import type { ColourName, OrderName, PairCounts, RoleColours } from '#views/pages/batch/types.ts';
import { lotWords } from '#views/pages/shelf/yarn-words.ts';

export type FrozenRow = PairCounts & {
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly knitter: string;
  readonly minutes: number;
  readonly yarn: readonly {
    readonly colour: ColourName;
    readonly grams: number;
    readonly dyeLot: string | null;
    readonly isHere: boolean;
  }[];
};

export type StartPageProps = {
  readonly purpose: Purpose;
  readonly name: string;
  readonly revision: number;
  readonly orders: readonly (OrderName & {
    readonly toStart: number;
    readonly dueDay: Day | null;
    readonly isChosen: boolean;
  })[];
  readonly spareCount: number;
  readonly withSpares: boolean;
  readonly pairs: readonly FrozenRow[];
  /** Pairs of the orders chosen that nobody can knit: they stay gathered. */
  readonly leftBehind: number;
  readonly problems?: readonly Problem[];
};

const Orders = ({ orders, spareCount, withSpares, problems = [] }: StartPageProps) => {
  const messages = problems.filter(({ path }) => path === 'order').map(({ message }) => message);
  return (
    <fieldset class={messages.length > 0 ? 'field has-error start-orders' : 'field start-orders'}>
      <legend id={fieldId('order')}>Which orders</legend>
      {messages.length > 0 ? <p class="error">{messages.join(' ')}</p> : null}
      <div class="choice-list">
        {orders.map((order) => (
          <label class="choice">
            <input type="checkbox" name="order" value={String(order.id)} checked={order.isChosen} />
            <span>
              {upperFirst(orderWords(order))}: {countOf(order.toStart, 'pair', 'pairs')}
              <small class="hint">
                {order.outlet.name}
                {order.dueDay === null ? '' : `, by ${formatDayShort(order.dueDay)}`}
              </small>
            </span>
          </label>
        ))}
        {spareCount > 0 ? (
          <label class="choice">
            <input type="checkbox" name="spares" value="yes" checked={withSpares} />
            <span>{`And ${countOf(spareCount, 'spare pair', 'spare pairs')}, in case one goes wrong`}</span>
          </label>
        ) : null}
      </div>
    </fieldset>
  );
};

const isFolded = () => true;

const Frozen = ({ pairs }: Pick<StartPageProps, 'pairs'>) => (
  <DataTable
    caption="What will be fixed, pair by pair"
    isCaptionHidden
    columns={[
      { name: 'Pair', kind: 'heading', cell: (pair) => <PairName pair={pair} /> },
      { name: 'Knitter', isFolded, cell: (pair) => pair.knitter },
      { name: 'Cast on', kind: 'number', isFolded, cell: (pair) => <PairCount pair={pair} of="castOn" /> },
      { name: 'Rows', kind: 'number', isFolded, cell: (pair) => <PairCount pair={pair} of="rows" /> },
      {
        name: 'Cuff',
        kind: 'number',
        isFolded,
        cell: (pair) => <PairCount pair={pair} of="cuffStitches" />,
      },
      { name: 'Time', kind: 'number', isFolded, cell: (pair) => formatMinutes(pair.minutes) },
      {
        name: 'Weigh out',
        kind: 'wide',
        isFolded,
        cell: (pair) => (
          <span>
            {pair.yarn.map(({ colour, grams, dyeLot, isHere }, index) => (
              <>
                {index > 0 ? <br /> : null}
                {formatMass(grams)} {colour.name} <small>{isHere ? lotWords(dyeLot) : 'still to buy'}</small>
              </>
            ))}
          </span>
        ),
      },
    ]}
    rows={pairs}
    fold={{ rowName: ({ sizeWords }) => sizeWords, words: ({ knitter }) => knitter }}
  />
);

/** What starting fixes, and of which orders, before it does. */
export const StartPage = (props: StartPageProps) => {
  const { purpose, name, revision, orders, pairs, leftBehind, problems = [] } = props;
  const waiting = pairs.filter((pair) => pair.yarn.some(({ isHere }) => !isHere)).length;
  return (
    <Page
      title="Start knitting"
      where={<a href="/batch">Batch</a>}
      current="batch"
      purpose={purpose}
      problems={problems}
    >
      {orders.length === 0 && props.spareCount === 0 ? (
        <EmptyState action={{ href: '/batch', words: 'Back to the batch' }}>
          Every pair that is wanted has been begun already.
        </EmptyState>
      ) : (
        <>
          <p>
            Starting fixes what goes into a knitter's hands: counts, colours, knitter, and the yarn for each pair. A
            swatch or an order that changes later no longer changes them; what we think of yarn, time and dates still
            does.
          </p>
          <form method="post" action="/batch/start">
            <ErrorSummary problems={problems} />
            <input type="hidden" name="revision" value={String(revision)} />
            <Orders {...props} />
            <TextField
              name="name"
              label="Name of the batch"
              value={name}
              problems={problems}
              maxlength={200}
              required
            />
            <Actions>
              <Button>{`Start ${countOf(pairs.length, 'pair', 'pairs')}`}</Button>
              <Button kind="quiet" formaction="/batch/start/look" formnovalidate>
                Look again with these orders
              </Button>
              <LinkButton href="/batch" kind="quiet">
                Not yet
              </LinkButton>
            </Actions>
          </form>
          {leftBehind > 0 ? (
            <Caution title={`${countOf(leftBehind, 'pair stays', 'pairs stay')} behind`}>
              Nobody has knitting time for {leftBehind === 1 ? 'it' : 'them'}. Enter more hours on the{' '}
              <a href="/knitters">knitters</a> page to start {leftBehind === 1 ? 'it' : 'them'} too.
            </Caution>
          ) : null}
          {waiting > 0 ? (
            <Caution title="Yarn still to come">
              {`${countOf(waiting, 'pair has', 'pairs have')} no yarn on the shelf yet. They can be started all the same, and get theirs when it is here.`}
            </Caution>
          ) : null}
          <section>
            <h2>{`What will be fixed: ${countOf(pairs.length, 'pair', 'pairs')}`}</h2>
            {pairs.length === 0 ? <p>No pair of these orders can be started.</p> : <Frozen pairs={pairs} />}
          </section>
        </>
      )}
    </Page>
  );
};
