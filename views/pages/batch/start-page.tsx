import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCount, formatMinutes } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, fieldId, TextField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { upperFirst } from '#views/pages/batch/count-words.ts';
import { orderWords, PairCaution, PairCount, PairName } from '#views/pages/batch/pair-parts.tsx';
import type { ColourName, OrderName, PairCounts, RoleColours } from '#views/pages/batch/types.ts';
import { YarnChip } from '#views/pages/shelf/yarn-chip.tsx';
import { type LotName, lotWords } from '#views/pages/shelf/yarn-words.ts';

export type FrozenRow = PairCounts & {
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly caution: string | null;
  readonly knitter: string;
  readonly minutes: number;
  readonly yarn: readonly {
    readonly colour: ColourName;
    readonly grams: number;
    readonly lot: LotName | null;
    readonly isHere: boolean;
  }[];
};

/** Yarn of a colour that the pairs get out of a lot; out of none while it is still to come. */
export type LotRow = {
  readonly colour: ColourName;
  readonly lotId: number | null;
  readonly lot: LotName | null;
  readonly grams: number;
  readonly pairs: number;
};

export type StartPageProps = {
  readonly purpose: Purpose;
  readonly name: string;
  readonly revision: number;
  /** How orders are chosen; asked only where the list is longer than a page. */
  readonly way: 'all' | 'due' | 'ticked';
  readonly due: string;
  /** One page of the orders that can be started. */
  readonly orders: readonly (OrderName & {
    readonly toStart: number;
    readonly dueDay: Day | null;
    readonly isTicked: boolean;
  })[];
  readonly paging: Paging;
  readonly tickedElsewhere: readonly number[];
  readonly spareCount: number;
  readonly withSpares: boolean;
  readonly pairCount: number;
  /** Pairs without yarn on the shelf. */
  readonly waitingCount: number;
  readonly lots: readonly LotRow[];
  /** A name for this choice, so that nothing is started that was not shown. */
  readonly shown: string;
  /** Other orders were chosen than were shown: they are shown before anything is started. */
  readonly isOther?: boolean;
  /** The first of the pairs. */
  readonly pairs: readonly FrozenRow[];
  /** Pairs of the orders chosen that nobody can knit: they stay gathered. */
  readonly leftBehind: number;
  readonly problems?: readonly Problem[];
};

const lookAgain = { formaction: '/batch/start/look', formnovalidate: true } as const;

const Ticks = ({ orders }: Pick<StartPageProps, 'orders'>) => (
  <div class="choice-list">
    {orders.map((order) => (
      <label class="choice">
        <input type="checkbox" name="order" value={String(order.id)} checked={order.isTicked} />
        <span>
          {upperFirst(orderWords(order))}: {countOf(order.toStart, 'pair', 'pairs')}
          <small class="hint">
            {order.outlet.name}
            {order.dueDay === null ? '' : `, by ${formatDayShort(order.dueDay)}`}
          </small>
        </span>
      </label>
    ))}
  </div>
);

/** The ways through the ticks: presses of the form, so that what is ticked goes along. */
const TickPages = ({ paging: { page, pages, from, to, count }, tickedElsewhere }: StartPageProps) => (
  <div class="filter">
    <span>
      {`Orders ${formatCount(from)} to ${formatCount(to)} of ${formatCount(count)}`}
      {tickedElsewhere.length > 0 ? `; ${formatCount(tickedElsewhere.length)} ticked on other pages` : ''}
    </span>
    {page > 1 ? (
      <Button kind="quiet" name="to" value={String(page - 1)} {...lookAgain}>
        Previous orders
      </Button>
    ) : null}
    {page < pages ? (
      <Button kind="quiet" name="to" value={String(page + 1)} {...lookAgain}>
        Next orders
      </Button>
    ) : null}
    <input type="hidden" name="page" value={String(page)} />
    <input type="hidden" name="kept" value={tickedElsewhere.join(' ')} />
  </div>
);

/** All or none at one press: the address then says so. Enter presses the first button, which only looks. */
const Looks = ({ isShort }: { readonly isShort: boolean }) => (
  <Actions>
    <Button kind="quiet" {...lookAgain}>
      Look again with these orders
    </Button>
    {isShort
      ? (['none', 'all'] as const).map((which) => (
          <Button kind="quiet" name="tick" value={which} formmethod="get" formaction="/batch/start" formnovalidate>
            {`Tick ${which}`}
          </Button>
        ))
      : null}
  </Actions>
);

/** Thousands of orders are chosen without listing them, or ticked page by page. */
const Ways = (props: StartPageProps) => {
  const { way, due, paging, problems = [] } = props;
  return (
    <>
      <ChoiceField
        name="way"
        label={<span class="visually-hidden">How to choose</span>}
        value={way}
        options={[
          { value: 'due', words: 'Orders due by a day' },
          { value: 'all', words: `All ${formatCount(paging.count)} open orders` },
          { value: 'ticked', words: 'The orders ticked below' },
        ]}
      />
      <TextField name="due" label="Due by" type="date" value={due} problems={problems} width="medium" />
      <details open={way === 'ticked'}>
        <summary>Tick orders one by one</summary>
        <Ticks {...props} />
        <TickPages {...props} />
      </details>
    </>
  );
};

const Orders = (props: StartPageProps) => {
  const { paging, spareCount, withSpares, problems = [] } = props;
  const messages = problems.filter(({ path }) => path === 'order').map(({ message }) => message);
  return (
    <fieldset class={messages.length > 0 ? 'field has-error start-orders' : 'field start-orders'}>
      <legend id={fieldId('order')}>Which orders</legend>
      {messages.length > 0 ? <p class="error">{messages.join(' ')}</p> : null}
      <Looks isShort={paging.pages === 1} />
      {paging.pages > 1 ? <Ways {...props} /> : <Ticks {...props} />}
      {spareCount > 0 ? (
        <div class="choice-list">
          <label class="choice">
            <input type="checkbox" name="spares" value="yes" checked={withSpares} />
            <span>{`And ${countOf(spareCount, 'spare pair', 'spare pairs')}, in case one goes wrong`}</span>
          </label>
        </div>
      ) : null}
    </fieldset>
  );
};

const isFolded = () => true;

const Frozen = ({ pairs }: Pick<StartPageProps, 'pairs'>) => (
  <DataTable
    caption="What will be fixed, pair by pair"
    columns={[
      {
        name: 'Pair',
        kind: 'heading',
        cell: (pair) => (
          <>
            <PairName pair={pair} />
            <PairCaution words={pair.caution} />
          </>
        ),
      },
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
            {pair.yarn.map(({ colour, grams, lot, isHere }, index) => (
              <>
                {index > 0 ? <br /> : null}
                {formatMass(grams)} {colour.name} <small>{isHere ? lotWords(lot) : 'still to come'}</small>
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

/** What is weighed out of which lot, and what still waits. */
const Lots = ({ lots }: Pick<StartPageProps, 'lots'>) =>
  lots.length === 0 ? null : (
    <DataTable
      caption="Yarn they get, and from which lot"
      columns={[
        {
          name: 'Colour',
          kind: 'heading',
          cell: ({ colour }) => <YarnChip colour={colour} />,
        },
        {
          name: 'From',
          cell: ({ lotId, lot }) =>
            lotId === null ? <strong>still to come</strong> : <a href={`/shelf/lots/${lotId}`}>{lotWords(lot)}</a>,
        },
        { name: 'Yarn', kind: 'number', cell: ({ grams }) => formatMass(grams) },
        { name: 'Pairs', kind: 'number', cell: ({ pairs }) => formatCount(pairs) },
      ]}
      rows={lots}
    />
  );

/** "Start these 5 pairs?" */
function startWords(pairCount: number): string {
  if (pairCount === 0) return 'Start which pairs?';
  return pairCount === 1 ? 'Start this pair?' : `Start these ${countOf(pairCount, 'pair', 'pairs')}?`;
}

/** What would be started of the orders chosen, from which lots, and the press that does it. */
export const StartThese = (props: StartPageProps) => {
  const { pairs, pairCount, leftBehind, waitingCount: waiting } = props;
  return (
    <section id="start-these">
      <input type="hidden" name="revision" value={String(props.revision)} />
      <input type="hidden" name="shown" value={props.shown} />
      <h2>{startWords(pairCount)}</h2>
      {leftBehind > 0 ? (
        <Caution title={`${countOf(leftBehind, 'pair stays', 'pairs stay')} behind`}>
          Nobody has knitting time for {leftBehind === 1 ? 'it' : 'them'}. Enter more hours on the{' '}
          <a href="/knitters">knitters</a> page to start {leftBehind === 1 ? 'it' : 'them'} too.
        </Caution>
      ) : null}
      {waiting > 0 ? (
        <Caution title="Yarn still to come">
          {`For ${countOf(waiting, 'pair', 'pairs')} no lot on the shelf has enough free yarn of a colour, beside what quotes hold. They can be started all the same, and get theirs when it is here.`}
        </Caution>
      ) : null}
      <Lots lots={props.lots} />
      <Actions>
        <Button>{pairCount === 0 ? 'Start knitting' : `Start ${countOf(pairCount, 'pair', 'pairs')}`}</Button>
        <LinkButton href="/batch" kind="quiet">
          Not yet
        </LinkButton>
      </Actions>
      {pairCount > pairs.length ? (
        <p>{`The first ${formatCount(pairs.length)} are shown here; all of them stand on the batch’s page once it is started.`}</p>
      ) : null}
      {pairs.length === 0 ? <p>No pair is chosen that can be started.</p> : <Frozen pairs={pairs} />}
    </section>
  );
};

/** What starting fixes, and of which orders, before it does. */
export const StartPage = (props: StartPageProps) => {
  const { purpose, name, orders, pairCount, isOther = false, problems = [] } = props;
  return (
    <Page
      title={isOther ? startWords(pairCount) : 'Start knitting'}
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
          {isOther ? (
            <p>This is what the orders that you chose come to. Press once more to start them.</p>
          ) : (
            <p>
              Starting fixes what goes into a knitter's hands: counts, colours, knitter, and the yarn for each pair. A
              swatch or an order that changes later no longer changes them; what we think of yarn, time and dates still
              does.
            </p>
          )}
          <form
            method="post"
            action="/batch/start"
            hx-post="/batch/start/look"
            hx-trigger="change"
            hx-target="#start-these"
            hx-swap="outerHTML"
            hx-sync="replace"
          >
            <ErrorSummary problems={problems} />
            {isOther ? (
              <details>
                <summary>Choose other orders</summary>
                <Orders {...props} />
              </details>
            ) : (
              <Orders {...props} />
            )}
            <TextField
              name="name"
              label="Name of the batch"
              value={name}
              problems={problems}
              maxlength={200}
              required
            />
            <StartThese {...props} />
          </form>
        </>
      )}
    </Page>
  );
};
