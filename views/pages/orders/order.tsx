import { countOf, formatCents, formatDay, formatMinutes } from '#core/shared/format.ts';
import { type Paging, rowsOn } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairCaution, PairCount, Sides } from '#views/pages/batch/pair-parts.tsx';
import type { PairCounts } from '#views/pages/batch/types.ts';
import { LineColours } from '#views/pages/orders/line-colours.tsx';
import { OrderMoney } from '#views/pages/orders/money.tsx';
import { OrderPost } from '#views/pages/orders/money-post.tsx';
import type { OrderMoneyProps } from '#views/pages/orders/money-types.ts';
import { listInWords, orderTitle, progressWords } from '#views/pages/orders/order-words.ts';
import { SizeColourTable, type SizeColourTableProps } from '#views/pages/orders/size-colour-table.tsx';
import type { LineView, OrderView } from '#views/pages/orders/types.ts';

export type OrderPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly order: OrderView;
  /** Which of its lines are shown. */
  readonly linePaging: Paging;
  readonly pageHref: PageHref;
  readonly forecast: {
    readonly minutes: number;
    readonly readyDay: string | null;
    readonly isLate: boolean;
    readonly knitters: readonly string[];
    readonly fromStock: number;
  };
  /** Lines that cannot be planned, and why. */
  readonly lineProblems: readonly { readonly lineId: number; readonly message: string }[];
  /** Cast-on stitches and rows of a foot in the reference hand, by line. */
  readonly counts: ReadonlyMap<number, PairCounts>;
  /** What to be careful about with the yarn of a line. */
  readonly cautionOf: (lineId: number) => string | null;
  readonly table: Omit<SizeColourTableProps, 'caption'> | null;
  readonly problems?: readonly Problem[];
  readonly money: OrderMoneyProps;
  /** Agreed prices that look mistyped, a sentence each. */
  readonly oddPrices?: readonly string[];
  /** Where it has fewer pairs than its shop agreed to buy at a time. */
  readonly short?: {
    readonly shopId: number;
    readonly shopName: string;
    readonly leastPairs: number;
    readonly short: number;
  } | null;
};

const ShortOfLeast = ({ short }: { readonly short: NonNullable<OrderPageProps['short']> | null }) =>
  short ? (
    <Caution title={`${countOf(short.short, 'pair', 'pairs')} short of a wholesale order`}>
      {short.shopName} buys from {countOf(short.leastPairs, 'pair', 'pairs')} on.{' '}
      <a href={`/pricing/shops/${short.shopId}`}>Its terms and prices</a>
    </Caution>
  ) : null;

function figuresOf({ order, forecast }: OrderPageProps): FigureEntry[] {
  const words = progressWords(order.progress);
  const isOver = order.state === 'cancelled' || order.stateWords === 'handed over';
  const figures: FigureEntry[] = [
    { value: countOf(order.progress.ordered, 'pair', 'pairs'), words: words === '' ? 'ordered' : `ordered: ${words}` },
    order.dueDay === null
      ? { value: 'no day', words: 'is set for it' }
      : {
          value: formatDayShort(order.dueDay),
          words: order.isOverdue ? 'was the day it was due' : 'is the day it is due',
          tone: order.isOverdue ? 'late' : undefined,
        },
  ];
  if (isOver || order.progress.ordered === 0) return figures;
  if (order.stateWords === 'done') return [...figures, { value: 'done', words: 'ready to hand over', tone: 'done' }];
  if (order.state === 'asked')
    return [...figures, { value: 'only asked', words: 'not in the plan until it is agreed' }];
  if (forecast.fromStock === order.progress.ordered) {
    return [...figures, { value: 'on the shelf', words: 'finished pairs fit all of it', tone: 'done' }];
  }
  return [
    ...figures,
    forecast.readyDay === null
      ? { value: 'not known', words: 'when it will be done: somebody must have hours for it', tone: 'caution' }
      : {
          value: formatDayShort(forecast.readyDay),
          words: forecast.isLate ? 'planned to be done: too late' : 'planned to be done',
          tone: forecast.isLate ? 'late' : undefined,
        },
    {
      value: formatMinutes(forecast.minutes),
      words: forecast.knitters.length > 0 ? `still to knit, by ${listInWords(forecast.knitters)}` : 'still to knit',
    },
  ];
}

const LinesTable = ({ order, linePaging, currency, purpose, counts, cautionOf }: OrderPageProps) => {
  const hasPrice = purpose !== 'give' && order.lines.some((line) => line.agreedCents !== null);
  const isCancelled = order.state === 'cancelled';
  return (
    <DataTable<LineView>
      caption="Lines"
      rows={rowsOn(order.lines, linePaging)}
      rowId={(line) => `line-${line.id}`}
      columns={[
        {
          name: 'Size',
          kind: 'heading',
          cell: (line) => (
            <>
              <a href={`/orders/lines/${line.id}`}>{line.size}</a>
              <small class="block">
                {[
                  line.isUsualStyle ? '' : line.styleName,
                  line.cuff,
                  line.fit === 'usual' ? '' : `${line.fit} fit`,
                  line.knitterName === null ? '' : `for ${line.knitterName} to knit`,
                ]
                  .filter(Boolean)
                  .join(', ')}
              </small>
              <PairCaution words={cautionOf(line.id)} />
            </>
          ),
        },
        { name: 'Colours', kind: 'wide', cell: (line) => <LineColours colours={line.colours} /> },
        { name: 'Pairs', kind: 'number', cell: (line) => line.quantity },
        {
          name: 'Cast on',
          kind: 'number',
          cell: (line) => {
            const count = counts.get(line.id);
            return count ? (
              <Sides left={`${count.castOn} sts`} right={count.right ? `${count.right.castOn} sts` : undefined} />
            ) : (
              ''
            );
          },
        },
        {
          name: 'Rows',
          kind: 'number',
          cell: (line) => {
            const count = counts.get(line.id);
            return count ? <PairCount pair={count} of="rows" /> : '';
          },
        },
        ...(hasPrice
          ? [
              {
                name: 'Agreed',
                kind: 'number' as const,
                cell: (line: LineView) => (line.agreedCents === null ? '' : formatCents(line.agreedCents, currency)),
              },
            ]
          : []),
        ...(isCancelled
          ? []
          : [
              {
                name: 'What to do',
                kind: 'action' as const,
                cell: (line: LineView) => (
                  <span class="line-links">
                    <a href={`/orders/lines/${line.id}/edit`}>
                      Change<span class="visually-hidden"> {line.size}</span>
                    </a>
                    <a href={`/orders/new?like=${line.id}`}>
                      Like this but<span class="visually-hidden"> not quite {line.size}</span>
                    </a>
                  </span>
                ),
              },
            ]),
      ]}
    />
  );
};

const OrderActions = ({ order, hasPaid }: { readonly order: OrderView; readonly hasPaid: boolean }) =>
  order.state === 'cancelled' ? (
    <form method="post" action={`/orders/${order.id}/take-back`} class="row-actions">
      <input type="hidden" name="version" value={order.version} />
      <Actions>
        <Button>Take the cancelling back</Button>
      </Actions>
    </form>
  ) : (
    <form method="post" action={`/orders/${order.id}/again`} class="row-actions">
      <input type="hidden" name="version" value={order.version} />
      <Actions>
        <LinkButton href={`/orders/${order.id}/lines/new`}>Add another line</LinkButton>
        <Button kind="quiet">Same again</Button>
        <LinkButton kind="quiet" href={`/orders/${order.id}/edit`}>
          Change customer or day
        </LinkButton>
        <LinkButton kind="quiet" href={`/pricing/tags?pairs=order-${order.id}`}>
          Tags and care cards
        </LinkButton>
        {hasPaid ? (
          <LinkButton kind="remove" href={`/orders/${order.id}?cancel=yes#cancel`}>
            Cancel the order
          </LinkButton>
        ) : (
          <Button kind="remove" formaction={`/orders/${order.id}/cancel`}>
            Cancel the order
          </Button>
        )}
      </Actions>
    </form>
  );

function whereOf(order: OrderView): string {
  return [
    order.outletName,
    `written down ${formatDay(order.createdDay)}`,
    order.reference === null ? '' : `their reference ${order.reference}`,
    order.stateWords,
  ]
    .filter(Boolean)
    .join(' · ');
}

/** Lines that are not planned, named one by one. Our own choice. */
const mostProblems = 10;

/** One order: what it is, how far it is, and what one can do with it. */
export const OrderPage = (props: OrderPageProps) => {
  const { order, linePaging, pageHref, lineProblems, table, money, problems = [] } = props;
  return (
    <Page title={orderTitle(order)} where={whereOf(order)} current="orders" purpose={props.purpose} problems={problems}>
      <ErrorSummary problems={problems} />
      {order.state === 'cancelled' ? (
        <Caution title="Cancelled">
          This order is kept as it was, and nothing is planned for it. Pairs already begun for it become stock.
        </Caution>
      ) : null}
      <FigureRow figures={figuresOf(props)} />
      <ShortOfLeast short={props.short ?? null} />
      {props.oddPrices && props.oddPrices.length > 0 ? (
        <Caution title="Is the price right?">{props.oddPrices.slice(0, mostProblems).join(' ')}</Caution>
      ) : null}
      <OrderActions order={order} hasPaid={money.money.paidCents > 0 && !money.isGiving} />
      {lineProblems.slice(0, mostProblems).map(({ lineId, message }) => (
        <Caution title="This line is not planned">
          {message} <a href={`/orders/lines/${lineId}/edit`}>Change the line</a>
        </Caution>
      ))}
      {lineProblems.length > mostProblems ? (
        <Caution title={`${countOf(lineProblems.length - mostProblems, 'more line is', 'more lines are')} not planned`}>
          They are named here once the first are mended.
        </Caution>
      ) : null}
      <section>
        {order.lines.length === 0 ? (
          <EmptyState>This order has no lines. Add one, or cancel it.</EmptyState>
        ) : (
          <>
            <Pager paging={linePaging} noun="Lines" href={pageHref} />
            <LinesTable {...props} />
          </>
        )}
      </section>
      {table ? (
        <section>
          <SizeColourTable caption="Pairs by size and colour" {...table} />
        </section>
      ) : null}
      <OrderMoney {...money} />
      <OrderPost {...money} />
    </Page>
  );
};
