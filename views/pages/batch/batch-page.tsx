import type { Child } from 'hono/jsx';
import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatCount, formatMinutes } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { SelectField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { MassRange } from '#views/components/range.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatLength, formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { countInWords, listInWords, upperFirst } from '#views/pages/batch/count-words.ts';
import { OrderLink, orderWords, PairCaution, PairColours, PairName, Sides } from '#views/pages/batch/pair-parts.tsx';
import type { OrderName, RoleColours } from '#views/pages/batch/types.ts';

type CountsInHands = {
  readonly castOn: readonly number[];
  readonly rows: readonly number[];
  readonly cuffStitches: readonly number[];
};

export type KindRow = CountsInHands & {
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly pairCount: number;
  readonly startedCount: number;
  readonly lineId: number | null;
  /** Who is to knit them; null for whoever has time. */
  readonly knitterName: string | null;
  readonly caution: string | null;
  /** The right foot's where the feet differ. */
  readonly right: CountsInHands | null;
  readonly cuffHeightMm: number;
  readonly gramsEach: readonly number[];
  readonly minutesEach: readonly number[];
  readonly dueDay: Day | null;
  readonly finishDay: Day | null;
  readonly isLate: boolean;
};

export type KnitterPair = {
  readonly key: string;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly lineId: number | null;
  readonly minutes: number;
  readonly finishDay: Day;
  readonly dueDay: Day | null;
};

export type KnitterEntry = {
  readonly id: number;
  readonly name: string;
  readonly minutes: number;
  readonly firstDay: Day;
  readonly lastDay: Day;
  readonly pairCount: number;
  /** The first of them. */
  readonly pairs: readonly KnitterPair[];
};

export type PairFromStock = {
  readonly order: OrderName;
  readonly lineId: number;
  readonly wanted: string;
  readonly pairId: number;
  readonly pairWords: string;
  readonly colours: readonly RoleColours[];
};

export type LateOrderHelp = {
  readonly order: OrderName;
  readonly pairCount: number;
  readonly daysLate: number | null;
  readonly help: string;
  readonly promiseDay: Day | null;
};

export type BatchPageProps = {
  /** An order just made for the shelf's yarn, and for how many of its pairs the plan found all their yarn there. */
  readonly made?: { readonly number: number; readonly pairs: number; readonly fromShelf: number } | null | undefined;
  readonly purpose: Purpose;
  readonly currency: string;
  readonly today: Day;
  readonly pairCount: number;
  readonly startedCount: number;
  readonly spareCount: number;
  readonly orders: readonly (OrderName & { readonly pairCount: number; readonly toStart: number })[];
  readonly grams: number;
  readonly gramsSd: number;
  readonly minutes: number;
  readonly lastFinishDay: Day | null;
  readonly yarnCents: number;
  readonly rows: readonly KindRow[];
  readonly spares: readonly KindRow[];
  /** Where rows and spares stand among all of them. */
  readonly paging: Paging;
  readonly pageHref: PageHref;
  readonly hands: readonly { readonly id: number; readonly name: string }[];
  /** The hand that rows and spares are shown in; null when each pair is shown in its own knitter's. */
  readonly inHand: {
    readonly knitterId: number;
    readonly name: string;
    readonly pairCount: number;
    readonly grams: number;
    readonly minutes: number;
  } | null;
  readonly fromStockCount: number;
  readonly fromStock: readonly PairFromStock[];
  readonly lineProblems: readonly { readonly order: OrderName; readonly message: string }[];
  readonly idle: readonly { readonly reason: string; readonly pairCount: number }[];
  readonly knitters: readonly KnitterEntry[];
  readonly lateCount: number;
  readonly late: readonly LateOrderHelp[];
  readonly started: readonly {
    readonly id: number;
    readonly name: string;
    readonly isFinished: boolean;
    readonly pairCount: number;
    readonly doneCount: number;
  }[];
};

/** "Twelve pairs for the Winter fair and two orders". */
export function batchTitle({ pairCount, orders }: Pick<BatchPageProps, 'pairCount' | 'orders'>): string {
  const pairs = upperFirst(countInWords(pairCount, 'pair', 'pairs'));
  const isFair = (order: OrderName) => order.outlet.kind === 'fair';
  const fairs = [...new Set(orders.filter(isFair).map(({ outlet }) => outlet.name))];
  const named = fairs.length > 2 ? [countInWords(fairs.length, 'fair', 'fairs')] : fairs;
  const rest = orders.filter((order) => !isFair(order)).length;
  const parts = [...named, ...(rest > 0 ? [countInWords(rest, 'order', 'orders')] : [])];
  return parts.length === 0 ? pairs : `${pairs} for ${listInWords(parts)}`;
}

/** How many are shown of a list that has a page of its own. Our own choice. */
const problemsBegun = 5;
const ordersBegun = 50;

/** Counts are exact, so both stand there: "28 or 30". */
const orWords = (values: readonly number[]) =>
  values.length < 2 ? String(values[0] ?? '–') : `${values.slice(0, -1).join(', ')} or ${values.at(-1)}`;

/** Amounts are estimates, so their ends do: "102–106 g". */
const toWords = (values: readonly number[], format: (value: number) => string, formatFirst = format) =>
  values.length < 2 ? values.map(format).join('') : `${formatFirst(values[0]!)}–${format(values.at(-1)!)}`;

type LineLinkProps = {
  readonly row: KindRow;
  readonly path: string;
  readonly text: Child;
  /** In whose hand the figure is to be shown; the page of the figure knows what else it may be in. */
  readonly knitterId?: number | null;
};

const LineLink = ({ row, path, text, knitterId = null }: LineLinkProps) => {
  if (row.lineId === null || text === '–') return text;
  const hand = knitterId === null || row.startedCount > 0 ? '' : `?knitter=${knitterId}`;
  return <a href={`/working/${path}/${row.lineId}${hand}`}>{text}</a>;
};

const KindCount = ({ row, of, ...link }: Omit<LineLinkProps, 'text'> & { readonly of: keyof CountsInHands }) => (
  <LineLink
    row={row}
    {...link}
    text={
      row[of].length === 0 ? (
        '–'
      ) : (
        <Sides left={orWords(row[of])} right={row.right ? orWords(row.right[of]) : undefined} />
      )
    }
  />
);

const Finish = ({ row }: { readonly row: KindRow }) => (
  <span class={row.isLate ? 'row-day is-late' : 'row-day'}>
    <LineLink
      row={row}
      path="schedule/finish"
      text={row.finishDay === null ? 'nobody yet' : formatDayShort(row.finishDay)}
    />
    {row.isLate ? <strong> late</strong> : null}
  </span>
);

/** "woman EU 38, Heather, Oat". */
const kindName = ({ sizeWords, colours }: KindRow) =>
  [sizeWords, ...new Set(colours.flatMap((role) => role.colours.map(({ name }) => name)))].join(', ');

const kindColumns = (knitterId: number | null): readonly Column<KindRow>[] => [
  {
    name: 'Size and colours',
    kind: 'heading',
    cell: (row) => (
      <span class="pair-name">
        <LineLink row={row} path="sizing/foot-length" text={row.sizeWords} />
        <PairColours colours={row.colours} />
        {row.knitterName === null ? null : <small>for {row.knitterName} to knit</small>}
        <PairCaution words={row.caution} />
      </span>
    ),
  },
  {
    name: 'Pairs',
    kind: 'number',
    cell: (row) => (
      <span>
        {row.pairCount}
        {row.startedCount > 0 ? (
          <small> {row.startedCount === row.pairCount ? 'begun' : `${row.startedCount} begun`}</small>
        ) : null}
      </span>
    ),
  },
  {
    name: 'By',
    kind: 'number',
    cell: ({ dueDay }) => <span class="row-day">{dueDay === null ? 'no hurry' : formatDayShort(dueDay)}</span>,
  },
  {
    name: 'Cast on',
    kind: 'number',
    cell: (row) => <KindCount row={row} path="sizing/cast-on" of="castOn" knitterId={knitterId} />,
  },
  {
    name: 'Rows',
    kind: 'number',
    cell: (row) => <KindCount row={row} path="sizing/rows" of="rows" knitterId={knitterId} />,
  },
  {
    name: 'Cuff',
    kind: 'number',
    cell: (row) =>
      row.cuffHeightMm === 0 ? (
        'none'
      ) : (
        <span>
          <KindCount row={row} path="sizing/cuff" of="cuffStitches" knitterId={knitterId} />
          <small> {formatLength(row.cuffHeightMm)}</small>
        </span>
      ),
  },
  {
    name: 'Yarn a pair',
    kind: 'number',
    isFolded: () => true,
    cell: (row) => (
      <LineLink
        row={row}
        path="yardage/grams"
        text={toWords(row.gramsEach, formatMass, formatCount)}
        knitterId={knitterId}
      />
    ),
  },
  {
    name: 'Time a pair',
    kind: 'number',
    isFolded: () => true,
    cell: (row) => (
      <LineLink row={row} path="timing/minutes" text={toWords(row.minutesEach, formatMinutes)} knitterId={knitterId} />
    ),
  },
  // A late one stays in sight.
  { name: 'Finished', kind: 'number', isFolded: ({ isLate }) => !isLate, cell: (row) => <Finish row={row} /> },
];

function figuresOf(props: BatchPageProps): FigureEntry[] {
  const { pairCount, startedCount, lateCount, lastFinishDay, yarnCents, purpose, currency } = props;
  const finish: FigureEntry =
    lateCount > 0
      ? {
          value: countOf(lateCount, 'order late', 'orders late'),
          words: props.paging.page === 1 ? 'see below what would help' : 'see what would help',
          tone: 'late',
          href: props.paging.page === 1 ? '#late' : '/batch#late',
        }
      : lastFinishDay === null
        ? { value: 'no day', words: 'nobody has time to knit yet', tone: 'caution', href: '/knitters' }
        : { value: formatDayShort(lastFinishDay), words: 'the last pair is finished', tone: 'done' };
  return [
    {
      value: countOf(pairCount, 'pair', 'pairs'),
      words:
        startedCount === 0
          ? 'to make'
          : startedCount === pairCount
            ? 'to make, all of them begun'
            : `to make, ${formatCount(startedCount)} of them begun`,
    },
    {
      value: (
        <>
          {formatMass(props.grams)}
          <MassRange sdG={props.gramsSd} />
        </>
      ),
      words:
        purpose === 'give' || yarnCents === 0
          ? 'of yarn'
          : `of yarn, ${formatCents(yarnCents, currency)} to spend on it`,
      href: '/buying',
    },
    { value: formatMinutes(props.minutes), words: 'of knitting and sewing up' },
    finish,
  ];
}

const Problems = ({ lineProblems, idle }: Pick<BatchPageProps, 'lineProblems' | 'idle'>) => (
  <>
    {lineProblems.slice(0, problemsBegun).map(({ order, message }) => (
      <Caution title="Not planned">
        <OrderLink order={order} />. {message}
      </Caution>
    ))}
    {lineProblems.length > problemsBegun ? (
      <Caution title={`${countOf(lineProblems.length - problemsBegun, 'more line is', 'more lines are')} not planned`}>
        <a href="/orders?show=unplanned">Orders with such lines</a>
      </Caution>
    ) : null}
    {idle.map(({ reason, pairCount }) => (
      <Caution title={`${countOf(pairCount, 'pair', 'pairs')} without a day`}>
        {reason} <a href="/knitters">Knitters</a>
      </Caution>
    ))}
  </>
);

/** Orders that come late, each with what would help. */
export const LateList = ({ late }: { readonly late: readonly LateOrderHelp[] }) => (
  <ul class="plain-list">
    {late.map(({ order, pairCount, daysLate, help, promiseDay }) => (
      <li>
        <OrderLink order={order} />: {countOf(pairCount, 'pair', 'pairs')}{' '}
        <strong class="is-late">
          {daysLate === null ? 'without a finish day' : `${countOf(daysLate, 'day', 'days')} late`}
        </strong>
        . {help} {promiseDay === null ? null : `You could promise ${formatDayShort(promiseDay)}.`}
      </li>
    ))}
  </ul>
);

type RestProps = { readonly shown: number; readonly count: number; readonly href: string; readonly words: string };

/** "10 of 6,000 are shown: All late orders". */
const Rest = ({ shown, count, href, words }: RestProps) =>
  count > shown ? (
    <p>
      {`${formatCount(shown)} of ${formatCount(count)} are shown here. `}
      <a href={href}>{words}</a>
    </p>
  ) : null;

const Late = ({ late, lateCount }: Pick<BatchPageProps, 'late' | 'lateCount'>) =>
  late.length === 0 ? null : (
    <section id="late">
      <h2>What comes late, and what would help</h2>
      <LateList late={late} />
      <Rest shown={late.length} count={lateCount} href="/batch/late" words="All late orders" />
    </section>
  );

/** Finished pairs, and the orders they answer. */
export const StockTable = ({ fromStock }: { readonly fromStock: readonly PairFromStock[] }) => (
  <DataTable
    caption="Finished pairs that answer an order"
    isCaptionHidden
    columns={[
      { name: 'Wanted', kind: 'heading', cell: ({ wanted }) => wanted },
      { name: 'Colours', kind: 'heading', cell: ({ colours }) => <PairColours colours={colours} /> },
      { name: 'For', cell: ({ order }) => <OrderLink order={order} /> },
      {
        name: 'Finished pair',
        cell: ({ pairId, pairWords }) => <a href={`/batch/stock?pair=${pairId}#pair-${pairId}`}>{pairWords}</a>,
      },
    ]}
    rows={fromStock}
  />
);

const FromStock = ({ fromStock, fromStockCount }: Pick<BatchPageProps, 'fromStock' | 'fromStockCount'>) =>
  fromStock.length === 0 ? null : (
    <section>
      <h2>Taken from finished pairs</h2>
      <p>These orders need no knitting: a finished pair fits, whatever its label says.</p>
      <StockTable fromStock={fromStock} />
      <Rest shown={fromStock.length} count={fromStockCount} href="/batch/from-stock" words="All of these orders" />
    </section>
  );

const Started = ({ started }: Pick<BatchPageProps, 'started'>) => {
  const going = started.filter((batch) => !batch.isFinished);
  const done = started.filter((batch) => batch.isFinished);
  return (
    <section class="no-print">
      <h2>On the needles</h2>
      {going.length === 0 ? <p>No batch is being knitted.</p> : null}
      <ul class="plain-list">
        {going.map(({ id, name, pairCount, doneCount }) => (
          <li>
            <a href={`/batch/started/${id}`}>{name}</a>: {doneCount} of {countOf(pairCount, 'pair', 'pairs')} finished
          </li>
        ))}
        <li>
          <a href="/batch/stock">Finished pairs</a>
        </li>
      </ul>
      {done.length > 0 ? (
        <details>
          <summary>{countOf(done.length, 'batch is', 'batches are')} finished</summary>
          <ul class="plain-list">
            {done.map(({ id, name, pairCount }) => (
              <li>
                <a href={`/batch/started/${id}`}>{name}</a>: {countOf(pairCount, 'pair', 'pairs')}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
};

/** Pairs of one knitter, one after another. */
export const KnitterTable = ({ name, pairs }: { readonly name: string; readonly pairs: readonly KnitterPair[] }) => (
  <DataTable
    caption={`What ${name} knits`}
    isCaptionHidden
    columns={[
      { name: 'Pair', kind: 'heading', cell: (pair) => <PairName pair={pair} /> },
      { name: 'Time', kind: 'number', cell: (pair) => formatMinutes(pair.minutes) },
      { name: 'By', kind: 'number', cell: (pair) => (pair.dueDay ? formatDayShort(pair.dueDay) : 'no hurry') },
      {
        name: 'Finished',
        kind: 'number',
        cell: (pair) =>
          pair.dueDay !== null && pair.finishDay > pair.dueDay ? (
            <strong class="is-late">{formatDayShort(pair.finishDay)} late</strong>
          ) : (
            formatDayShort(pair.finishDay)
          ),
      },
    ]}
    rows={pairs}
  />
);

const Knitters = ({ knitters }: Pick<BatchPageProps, 'knitters'>) =>
  knitters.length === 0 ? null : (
    <section>
      <h2>Who knits what</h2>
      <DataTable
        caption="Pairs, time and days by knitter"
        isCaptionHidden
        columns={[
          { name: 'Knitter', kind: 'heading', cell: ({ name, id }) => <a href={`#knitter-${id}`}>{name}</a> },
          { name: 'Pairs', kind: 'number', cell: ({ pairCount }) => formatCount(pairCount) },
          { name: 'Time', kind: 'number', cell: ({ minutes }) => formatMinutes(minutes) },
          { name: 'Begins', kind: 'number', cell: ({ firstDay }) => formatDayShort(firstDay) },
          { name: 'Finishes', kind: 'number', cell: ({ lastDay }) => formatDayShort(lastDay) },
        ]}
        rows={knitters}
      />
      {knitters.map(({ id, name, pairCount, pairs }) => (
        <details class="knitter-pairs" id={`knitter-${id}`} open={knitters.length === 1 || pairCount <= 6}>
          <summary>{`${name}: ${countOf(pairCount, 'pair', 'pairs')} one after another`}</summary>
          <KnitterTable name={name} pairs={pairs} />
          <Rest
            shown={pairs.length}
            count={pairCount}
            href={`/batch/knitters/${id}`}
            words={`All the pairs that ${name} knits`}
          />
        </details>
      ))}
    </section>
  );

type WhatToMakeProps = Pick<
  BatchPageProps,
  | 'pairCount'
  | 'startedCount'
  | 'spareCount'
  | 'rows'
  | 'spares'
  | 'paging'
  | 'pageHref'
  | 'hands'
  | 'inHand'
  | 'knitters'
>;

/** Rows and spares as somebody else would knit them: a form that asks for the page again, or for this part of it. */
const HandForm = ({ hands, inHand, pairCount, startedCount }: WhatToMakeProps) =>
  hands.length < 2 || startedCount === pairCount ? null : (
    <form
      class="inline-form set-form"
      method="get"
      action="/batch"
      hx-get="/batch"
      hx-trigger="submit, change"
      hx-target="#what-to-make"
      hx-swap="outerHTML"
      hx-replace-url="true"
    >
      <SelectField
        name="knitter"
        label="Counts in the hand of"
        blank="whoever has the pair"
        value={inHand?.knitterId}
        options={hands.map(({ id, name }) => ({ value: String(id), words: name }))}
      />
      <Button kind="quiet">Show</Button>
    </form>
  );

type InHandProps = Pick<WhatToMakeProps, 'knitters' | 'startedCount'> & {
  inHand: NonNullable<BatchPageProps['inHand']>;
};

/** What the rows are in another hand, and that the plan is not changed by it. */
const InHandNote = ({ inHand, knitters, startedCount }: InHandProps) => {
  const { name, pairCount, grams, minutes } = inHand;
  const knitting = listInWords(knitters.map((knitter) => knitter.name));
  return (
    <p role="status">
      {pairCount > 0
        ? `In ${name}’s hand ${countOf(pairCount, 'pair takes', 'pairs take')} ${formatMass(grams)} of yarn and ${formatMinutes(minutes)}. `
        : ''}
      {knitting === '' ? '' : `The plan and its days stay as they are: ${knitting} will knit what is to make. `}
      {startedCount > 0 ? 'Pairs that are begun keep their own counts.' : ''}
    </p>
  );
};

/** The pairs to make, row by row: the part that another hand redraws. */
export const WhatToMake = (props: WhatToMakeProps) => {
  const { pairCount, spareCount, rows, spares, paging, pageHref, inHand } = props;
  const columns = kindColumns(inHand?.knitterId ?? null);
  const wanted = formatCount(pairCount - spareCount);
  // Of the whole batch, whatever part of it is on the page.
  const footer = [paging.pages > 1 ? 'Together, on all pages' : 'Together', wanted, ...Array(7).fill(null)];
  const pager = <Pager paging={paging} noun="Rows" href={pageHref} />;
  return (
    <section id="what-to-make">
      <h2>What to make</h2>
      <HandForm {...props} />
      {inHand ? <InHandNote {...props} inHand={inHand} /> : null}
      {pager}
      {rows.length > 0 ? (
        <DataTable
          caption="Like pairs, in the order they are due"
          isCaptionHidden
          columns={columns}
          rows={rows}
          fold={{ rowName: kindName }}
          footer={rows.length > 1 ? footer : undefined}
        />
      ) : null}
      {spares.length > 0 ? (
        <>
          <h3>Spares, in case a pair goes wrong</h3>
          <DataTable
            caption="Spare pairs"
            isCaptionHidden
            columns={columns}
            rows={spares}
            fold={{ rowName: kindName }}
          />
        </>
      ) : null}
      <Pager paging={paging} noun="Rows" href={pageHref} isBelow />
      {inHand ? null : (
        <p class="soft no-print">
          Counts are for the knitter who has the pair; where two hands differ, both stand there.
        </p>
      )}
    </section>
  );
};

const MadeOrder = ({ made }: Pick<BatchPageProps, 'made'>) =>
  made ? (
    <p role="status">
      {`Order ${made.number} is in the batch with ${countOf(made.pairs, 'pair', 'pairs')} to knit. `}
      {made.fromShelf === made.pairs
        ? 'The plan finds all the yarn for them on the shelf.'
        : `The plan finds all the yarn for ${made.fromShelf} of them on the shelf; the rest stands under Yarn to buy.`}
    </p>
  ) : null;

/** What stands below the first page of the rows. */
const BesideTheRows = (props: BatchPageProps) => {
  const { orders, started } = props;
  return (
    <>
      <Late {...props} />
      <FromStock {...props} />
      <Knitters knitters={props.knitters} />
      <FoldOnPhone summary={`For whom: ${countOf(orders.length, 'order', 'orders')}`}>
        <section>
          <h2>For whom</h2>
          <ul class="plain-list">
            {orders.slice(0, ordersBegun).map((order) => (
              <li>
                <a href={`/orders/${order.id}`}>{upperFirst(orderWords(order))}</a>:{' '}
                {countOf(order.pairCount, 'pair', 'pairs')}
                {order.toStart === 0 ? ', all begun' : ''} <span class="soft">{order.outlet.name}</span>
              </li>
            ))}
          </ul>
          <Rest shown={ordersBegun} count={orders.length} href="/orders" words="All open orders" />
        </section>
      </FoldOnPhone>
      <Started started={started} />
    </>
  );
};

/** What is to make, by whom, and when. */
export const BatchPage = (props: BatchPageProps) => {
  const { purpose, pairCount, startedCount, orders, started } = props;
  const toStart = pairCount - startedCount;
  const stock = props.fromStockCount;
  const hasStarted = started.length > 0 || stock > 0;
  if (pairCount === 0) {
    return (
      <Page
        title={hasStarted ? 'Nothing left to knit' : 'Batch'}
        where={hasStarted ? 'Batch' : undefined}
        current="batch"
        purpose={purpose}
      >
        <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
          {hasStarted
            ? 'Every agreed order is answered. The next order begins the next batch.'
            : 'A batch gathers what orders ask for. Agree an order, and its pairs stand here.'}
        </EmptyState>
        <Problems {...props} />
        <FromStock {...props} />
        <Started started={started} />
      </Page>
    );
  }
  const orderCount = countOf(orders.length, 'order', 'orders');
  return (
    <Page
      title={batchTitle(props)}
      where={`Batch, gathered from ${orderCount}${stock > 0 ? `, ${countOf(stock, 'pair', 'pairs')} taken from the finished ones` : ''}`}
      current="batch"
      purpose={purpose}
    >
      <MadeOrder made={props.made} />
      <FigureRow figures={figuresOf(props)} />
      <Actions>
        {toStart > 0 ? <LinkButton href="/batch/start">Start knitting</LinkButton> : null}
        <LinkButton href="/buying" kind="quiet">
          Yarn to buy
        </LinkButton>
        <LinkButton href="/batch/stock" kind="quiet">
          Finished pairs
        </LinkButton>
      </Actions>
      {props.paging.page === 1 ? <Problems {...props} /> : null}
      <WhatToMake {...props} />
      {props.paging.page === 1 ? <BesideTheRows {...props} /> : null}
    </Page>
  );
};
