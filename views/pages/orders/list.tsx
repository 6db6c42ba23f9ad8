import { countOf, formatCount } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { LineColours } from '#views/pages/orders/line-colours.tsx';
import { countInWords, progressWords } from '#views/pages/orders/order-words.ts';
import type { LineView, OrderView } from '#views/pages/orders/types.ts';

/** Orders that another page leads to: money is due, they are to be posted, a line of them is not planned. */
export type NamedList = 'owed' | 'post' | 'unplanned';

export type OrdersPageProps = {
  readonly purpose: Purpose;
  readonly shown: 'open' | 'all' | 'import' | NamedList;
  /** The table they came from, when those of one import are shown. */
  readonly importName?: string | undefined;
  /** Plain numbers among the sizes of that table that were read as EU. */
  readonly readAsEu?: number | undefined;
  readonly orders: readonly OrderView[];
  readonly openCount: number;
  /** Quotes that have not run out; null where nothing is sold. */
  readonly quoteCount: number | null;
  readonly allCount: number;
  readonly openPairs: number;
  readonly overdueCount: number;
  readonly nextDueDay: string | null;
  readonly paging: Paging;
  /** Orders on a page of the screen. */
  readonly onScreen: number;
  /** What an order should bring now, in words: "owes €12.00". */
  readonly owedOf?: ReadonlyMap<number, string> | undefined;
  readonly pageHref: PageHref;
};

const mostLines = 4;

/** The first lines of an order in short, and how many more there are. */
export const LinesSummary = ({ lines }: { readonly lines: readonly LineView[] }) => {
  if (lines.length === 0) return <span class="soft">no lines yet</span>;
  const rest = lines.slice(mostLines);
  const restPairs = rest.reduce((sum, line) => sum + line.quantity, 0);
  return (
    <ul class="plain-list lines-summary">
      {lines.slice(0, mostLines).map((line) => (
        <li>
          <span class="line-size">
            {line.quantity} × {line.isUsualStyle ? '' : `${line.styleName}, `}
            {line.size}
          </span>{' '}
          <LineColours colours={line.colours} />
        </li>
      ))}
      {rest.length > 0 ? (
        <li class="soft">
          and {countOf(rest.length, 'more line', 'more lines')}, {countOf(restPairs, 'pair', 'pairs')}
        </li>
      ) : null}
    </ul>
  );
};

const Due = ({ order }: { readonly order: OrderView }) => {
  if (order.dueDay === null) return <span class="soft">no day</span>;
  return order.isOverdue ? (
    <strong class="late-word">{formatDayShort(order.dueDay)}, past</strong>
  ) : (
    <span>{formatDayShort(order.dueDay)}</span>
  );
};

const StateCell = ({ order, owed }: { readonly order: OrderView; readonly owed: string | undefined }) => {
  const progress = order.state === 'cancelled' ? '' : progressWords(order.progress);
  return (
    <>
      {order.stateWords}
      {progress !== '' && order.progress.ordered > 1 ? <small class="block">{progress}</small> : null}
      {owed === undefined ? null : <small class="block">{owed}</small>}
    </>
  );
};

const OrdersTable = ({
  orders,
  caption,
  owedOf,
}: Pick<OrdersPageProps, 'orders' | 'owedOf'> & { readonly caption: string }) => (
  <DataTable
    caption={caption}
    isCaptionHidden
    rows={orders}
    rowId={(order) => `order-${order.id}`}
    columns={[
      {
        name: 'Order',
        kind: 'heading',
        cell: (order) => (
          <>
            <a href={`/orders/${order.id}`}>{order.customerName ?? order.outletName}</a>
            <small class="block">
              No {order.number}
              {order.customerName === null ? null : `, ${order.outletName}`}
              {order.reference === null ? null : `, ${order.reference}`}
            </small>
          </>
        ),
      },
      { name: 'Lines', kind: 'wide', cell: (order) => <LinesSummary lines={order.lines} /> },
      { name: 'Pairs', kind: 'number', cell: (order) => order.progress.ordered },
      { name: 'Due', cell: (order) => <Due order={order} /> },
      { name: 'State', kind: 'wide', cell: (order) => <StateCell order={order} owed={owedOf?.get(order.id)} /> },
    ]}
  />
);

/** Which orders are shown; quotes have a page of their own. */
export const OrdersFilter = ({
  shown,
  openCount,
  allCount,
  quoteCount,
}: Pick<OrdersPageProps, 'openCount' | 'allCount' | 'quoteCount'> & {
  readonly shown: OrdersPageProps['shown'] | 'quotes';
}) => (
  <nav class="filter" aria-label="Which orders">
    <a href="/orders" aria-current={shown === 'open' ? 'true' : undefined}>
      Open ({formatCount(openCount)})
    </a>
    {quoteCount === null ? null : (
      <a href="/orders/quotes" aria-current={shown === 'quotes' ? 'true' : undefined}>
        Quotes ({formatCount(quoteCount)})
      </a>
    )}
    <a href="/orders?show=all" aria-current={shown === 'all' ? 'true' : undefined}>
      All ({formatCount(allCount)})
    </a>
  </nav>
);

const emptyWords = (shown: OrdersPageProps['shown']) =>
  shown === 'open' ? 'Nothing is open: every order is handed over or cancelled.' : 'There is no such order now.';

function titleOf({ shown, openCount, allCount, paging: { count } }: OrdersPageProps): string {
  if (shown === 'import') return `${countInWords(count, 'order', 'orders')} imported`;
  if (shown === 'owed') return `Money is due for ${countOf(count, 'order', 'orders')}`;
  if (shown === 'post') return `${countInWords(count, 'order', 'orders')} to post`;
  if (shown === 'unplanned') return `${countInWords(count, 'order', 'orders')} with lines that are not planned`;
  if (shown === 'all') return `${countInWords(allCount, 'order', 'orders')}, old and new`;
  return countInWords(openCount, 'open order', 'open orders');
}

const NewOrders = ({ hasQuotes }: { readonly hasQuotes: boolean }) => (
  <Actions>
    <LinkButton href="/orders/new">New order</LinkButton>
    {hasQuotes ? (
      <LinkButton href="/orders/quotes/new" kind="quiet">
        New quote
      </LinkButton>
    ) : null}
    <LinkButton href="/orders/grid" kind="quiet">
      Fill a grid for stock
    </LinkButton>
    <LinkButton href="/orders/import" kind="quiet">
      Import a table
    </LinkButton>
  </Actions>
);

/** All orders, the open ones first. */
export const OrdersPage = (props: OrdersPageProps) => {
  const { purpose, shown, orders, allCount, openPairs, overdueCount, nextDueDay } = props;
  const pagerProps = { paging: props.paging, noun: 'Orders', href: props.pageHref, onScreen: props.onScreen };
  if (allCount === 0) {
    return (
      <Page title="No orders yet" where="Orders" current="orders" purpose={purpose}>
        <EmptyState action={{ href: '/orders/new', words: 'Write down the first order' }}>
          An order is a size, a colour and a number of pairs: for somebody, for a fair, for a shop, or to give away.
        </EmptyState>
        <p>
          For stock, <a href="/orders/grid">fill a grid</a> of sizes and colours. Orders kept in a table can be{' '}
          <a href="/orders/import">imported</a>.
        </p>
      </Page>
    );
  }
  return (
    <Page
      title={titleOf(props)}
      where={props.importName ? `From ${props.importName}` : 'Orders'}
      current="orders"
      purpose={purpose}
    >
      <FigureRow
        figures={[
          { value: countOf(openPairs, 'pair', 'pairs'), words: 'still to hand over' },
          {
            value: nextDueDay === null ? 'none' : formatDayShort(nextDueDay),
            words: 'next day something is due',
          },
          {
            value: overdueCount,
            words: overdueCount === 1 ? 'order past its day' : 'orders past their day',
            tone: overdueCount > 0 ? 'late' : undefined,
          },
        ]}
      />
      <NewOrders hasQuotes={props.quoteCount !== null} />
      {props.readAsEu ? (
        <p>
          {countOf(props.readAsEu, 'plain number was', 'plain numbers were')} read as EU{' '}
          {props.readAsEu === 1 ? 'size' : 'sizes'}: no other system has such sizes.
        </p>
      ) : null}
      <section>
        <OrdersFilter {...props} />
        <Pager {...pagerProps} />
        {orders.length === 0 ? (
          <p>{emptyWords(shown)}</p>
        ) : (
          <OrdersTable
            orders={orders}
            owedOf={props.owedOf}
            caption={shown === 'open' ? 'Open orders by due day' : 'Orders by due day'}
          />
        )}
        <Pager {...pagerProps} isBelow />
      </section>
    </Page>
  );
};
