import type { BookSums, StyleSums } from '#core/pricing/books.ts';
import { countOf, formatCents, formatMinutes, formatNumber } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { monthWords, PeriodForm, type PeriodProps, periodHref, periodWords } from '#views/pages/books/period.tsx';
import { ToSettleNotice } from '#views/pages/fair/list.tsx';

export type BooksPageProps = {
  readonly period: PeriodProps;
  readonly sums: BookSums;
  readonly months: readonly (BookSums & { readonly month: string })[];
  readonly outlets: readonly (BookSums & { readonly outlet: string | null })[];
  readonly styles: readonly StyleSums[];
  readonly netCents: number;
  readonly bookingCount: number;
  readonly toSettle: number;
  readonly purpose: Purpose;
  readonly currency: string;
  readonly taxNote: string;
};

type Money = (cents: number) => string;

/** A dash where there is nothing, so that what there is stands out. */
const orDash = (cents: number, money: Money) => (cents === 0 ? '–' : money(cents));

function sumColumns<T extends BookSums>(money: Money, hasTax: boolean): Column<T>[] {
  return [
    { name: 'In', kind: 'number', cell: (row) => orDash(row.inCents, money) },
    { name: 'Out', kind: 'number', cell: (row) => orDash(row.outCents, money) },
    { name: 'Left', kind: 'number', cell: (row) => orDash(row.leftCents, money) },
    ...(hasTax ? [{ name: 'Tax in it', kind: 'number' as const, cell: (row: T) => orDash(row.taxCents, money) }] : []),
  ];
}

const sumFooter = (words: string, sums: BookSums, money: Money, hasTax: boolean) => [
  words,
  money(sums.inCents),
  money(sums.outCents),
  money(sums.leftCents),
  ...(hasTax ? [money(sums.taxCents)] : []),
];

const Styles = ({ styles, netCents, money }: { styles: readonly StyleSums[]; netCents: number; money: Money }) =>
  styles.length === 0 ? null : (
    <section>
      <DataTable
        caption="By style, and what an hour earned"
        isDense
        columns={[
          { name: 'Style', kind: 'heading', cell: ({ style }) => style ?? 'No style: extras, postage, not known' },
          { name: 'Pairs', kind: 'number', cell: ({ pairs }) => (pairs === 0 ? '–' : formatNumber(pairs, 1)) },
          { name: 'In, without tax and fees', kind: 'number', cell: (row) => money(row.netCents) },
          { name: 'Yarn and materials', kind: 'number', cell: (row) => orDash(row.costCents, money) },
          {
            name: 'Hours',
            kind: 'number',
            cell: ({ minutes }) => (minutes >= 1 ? formatMinutes(minutes) : '–'),
          },
          {
            name: 'An hour earned',
            kind: 'number',
            cell: ({ hourCents }) => (hourCents === null ? '–' : money(hourCents)),
          },
        ]}
        rows={styles}
        footer={['All', null, money(netCents), null, null, null]}
      />
      <p class="soft">
        A part payment counts the same part of its pairs, their yarn and their hours. An hour earned: what came in, less
        yarn, materials and the running costs of the hours.
      </p>
    </section>
  );

/** *Books*: money in and out by month and by outlet, and income by style and hour. */
export const BooksPage = (props: BooksPageProps) => {
  const { period, sums, months, outlets, styles, netCents, currency, purpose, taxNote } = props;
  const money: Money = (cents) => formatCents(cents, currency);
  const hasTax = outlets.some(({ taxCents }) => taxCents !== 0);
  const isEmpty = props.bookingCount === 0;
  return (
    <Page
      title={isEmpty ? 'Books' : `${money(sums.leftCents)} left, ${periodWords(period)}`}
      where={
        <>
          <a href="/pricing">Costs and prices</a>
          {isEmpty ? '' : ', books'}
        </>
      }
      current="pricing"
      purpose={purpose}
      problems={period.problems}
    >
      <ErrorSummary problems={period.problems} />
      <FigureRow
        figures={[
          { value: money(sums.inCents), words: 'came in: orders, tables, shops' },
          { value: money(sums.outCents), words: 'went out: yarn, running costs, tables, card fees' },
          {
            value: money(sums.leftCents),
            words: 'left, before your time is paid',
            tone: sums.leftCents < 0 ? 'late' : undefined,
          },
        ]}
      />
      <PeriodForm {...period} />
      <ToSettleNotice count={props.toSettle} />
      {isEmpty ? (
        <EmptyState>
          Nothing came in or went out in this time. Payments of orders, sales at a table, what shops pay, yarn and
          running costs stand here by themselves.
        </EmptyState>
      ) : (
        <>
          <Actions>
            <LinkButton href={periodHref('/pricing/books/bookings.csv', period)} kind="quiet">
              {countOf(props.bookingCount, 'booking', 'bookings')} as a table (CSV)
            </LinkButton>
          </Actions>
          <DataTable
            caption="By month"
            isDense
            columns={[
              { name: 'Month', kind: 'heading', cell: ({ month }) => monthWords(month) },
              ...sumColumns<BooksPageProps['months'][number]>(money, hasTax),
            ]}
            rows={months}
            footer={sumFooter('All', sums, money, hasTax)}
          />
          <DataTable
            caption="By outlet"
            isDense
            columns={[
              { name: 'Outlet', kind: 'heading', cell: ({ outlet }) => outlet ?? 'Yarn and running costs' },
              ...sumColumns<BooksPageProps['outlets'][number]>(money, hasTax),
            ]}
            rows={outlets}
            footer={sumFooter('All', sums, money, hasTax)}
          />
          <Styles styles={styles} netCents={netCents} money={money} />
        </>
      )}
      <p class="soft">
        Money counts on the day it changed hands; yarn on the day it was got. A table fee that is noted as a running
        cost too would count twice. Tax rules are local: check yours, or ask someone licensed to advise.
      </p>
      {taxNote ? <p>{taxNote}</p> : null}
    </Page>
  );
};

/** Where slippers are given away, books are out of the way. */
export const BooksAsidePage = ({ purpose }: { readonly purpose: Purpose }) => (
  <Page title="Books" current="pricing" purpose={purpose}>
    <EmptyState action={{ href: '/pricing/gifts', words: 'See the gifts' }}>
      You knit to give, so money is out of the way.
    </EmptyState>
    <p class="no-print">
      <a href="/pricing/books?money=yes">Show the books all the same</a>
    </p>
  </Page>
);
