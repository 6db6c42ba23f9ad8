import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import { LinesSummary, OrdersFilter } from '#views/pages/orders/list.tsx';
import { countInWords } from '#views/pages/orders/order-words.ts';
import type { OrderView } from '#views/pages/orders/types.ts';

export type ListedQuote = {
  readonly order: OrderView;
  readonly totalCents: number;
  readonly promisedDay: Day | null;
  readonly validUntilDay: Day | null;
  /** A price and a day were offered. */
  readonly isGiven: boolean;
  readonly isRunOut: boolean;
  readonly isHolding: boolean;
};

export type QuotesPageProps = {
  readonly currency: string;
  readonly quotes: readonly ListedQuote[];
  readonly openCount: number;
  readonly allCount: number;
};

function stateOf({ isGiven, isRunOut, isHolding }: ListedQuote): string {
  if (isRunOut) return 'run out';
  if (!isGiven) return 'only asked, no price given';
  return isHolding ? 'open, held' : 'open';
}

const QuotesTable = ({
  quotes,
  caption,
  currency,
}: Pick<QuotesPageProps, 'quotes' | 'currency'> & { readonly caption: string }) => (
  <DataTable<ListedQuote>
    caption={caption}
    rows={quotes}
    rowId={({ order }) => `quote-${order.id}`}
    columns={[
      {
        name: 'Quote',
        kind: 'heading',
        cell: ({ order }) => (
          <>
            <a href={`/orders/${order.id}/quote`}>{order.customerName ?? `Quote ${order.number}`}</a>
            <small class="block">
              No {order.number}, {order.outletName}
            </small>
          </>
        ),
      },
      { name: 'Pairs', kind: 'wide', cell: ({ order }) => <LinesSummary lines={order.lines} /> },
      { name: 'In all', kind: 'number', cell: ({ totalCents }) => formatCents(totalCents, currency) },
      {
        name: 'Promised',
        cell: ({ promisedDay }) => (promisedDay === null ? 'no day' : formatDayShort(promisedDay)),
      },
      {
        name: 'Good until',
        cell: ({ validUntilDay, isRunOut }) =>
          validUntilDay === null ? (
            'not given'
          ) : isRunOut ? (
            <strong class="late-word">{formatDayShort(validUntilDay)}, past</strong>
          ) : (
            formatDayShort(validUntilDay)
          ),
      },
      { name: 'State', kind: 'wide', cell: stateOf },
    ]}
  />
);

/** All quotes: the open ones, then those that have run out. */
export const QuotesPage = ({ quotes, currency, openCount, allCount }: QuotesPageProps) => {
  const open = quotes.filter((quote) => !quote.isRunOut);
  const past = quotes.filter((quote) => quote.isRunOut);
  const title = quotes.length === 0 ? 'No quotes yet' : countInWords(open.length, 'open quote', 'open quotes');
  return (
    <Page title={title} where="Orders" current="orders">
      {quotes.length === 0 ? (
        <EmptyState action={{ href: '/orders/quotes/new', words: 'Give the first quote' }}>
          Somebody asks: the size and the colours go in, and out come price, day, deposit and a reply to copy.
        </EmptyState>
      ) : (
        <Actions>
          <LinkButton href="/orders/quotes/new">New quote</LinkButton>
        </Actions>
      )}
      <section>
        <OrdersFilter shown="quotes" openCount={openCount} allCount={allCount} quoteCount={open.length} />
        {open.length > 0 ? (
          <QuotesTable caption="Open, the first to run out leading" {...{ quotes: open, currency }} />
        ) : null}
      </section>
      {past.length > 0 ? (
        <section>
          <QuotesTable caption="Run out" {...{ quotes: past, currency }} />
          <p class="soft">
            {countOf(past.length, 'quote', 'quotes')} without an answer. Open one to offer it again, or to say that they
            said no.
          </p>
        </section>
      ) : null}
    </Page>
  );
};
