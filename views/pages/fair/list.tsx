import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatDay } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

export type FairDayRow = {
  readonly dayId: number;
  readonly fairId: number;
  readonly fairName: string;
  readonly day: Day;
  readonly taken: number;
  readonly sold: number;
  readonly missing: number;
  readonly takingsCents: number;
  readonly earnedCents: number;
};

export type FairListProps = {
  readonly days: readonly FairDayRow[];
  readonly toSettle: number;
  readonly purpose: Purpose;
  readonly currency: string;
};

function titleOf(days: readonly FairDayRow[]): string {
  if (days.length === 0) return 'Fairs and markets';
  return `${countOf(days.length, 'day', 'days')} at a table`;
}

/** What waits to be settled, wherever it is seen. */
export const ToSettleNotice = ({ count }: { readonly count: number }) =>
  count === 0 ? null : (
    <p class="notice">
      <a href="/fair/settle">{countOf(count, 'sale waits', 'sales wait')} to be settled</a>: nobody could say which pair
      it was, or what it brought.
    </p>
  );

/** *Fair*: every day at a table, the newest first. */
export const FairListPage = ({ days, toSettle, purpose, currency }: FairListProps) => {
  const money = (cents: number) => formatCents(cents, currency);
  const columns: Column<FairDayRow>[] = [
    {
      name: 'Day',
      kind: 'heading',
      cell: (row) => <a href={`/fair/days/${row.dayId}`}>{formatDay(row.day)}</a>,
    },
    { name: 'Fair', cell: (row) => <a href={`/fair/${row.fairId}`}>{row.fairName}</a> },
    { name: 'Taken along', kind: 'number', cell: (row) => String(row.taken) },
    {
      name: 'Sold',
      kind: 'number',
      cell: (row) =>
        row.missing > 0 ? (
          <>
            {row.sold} <small>{row.missing} missing</small>
          </>
        ) : (
          String(row.sold)
        ),
    },
  ];
  if (purpose !== 'give') {
    columns.push(
      { name: 'Takings', kind: 'number', cell: (row) => money(row.takingsCents) },
      { name: 'Earned', kind: 'number', cell: (row) => money(row.earnedCents) },
    );
  }
  return (
    <Page title={titleOf(days)} where={days.length > 0 ? 'Fair' : undefined} current="fair" purpose={purpose}>
      <ToSettleNotice count={toSettle} />
      {days.length === 0 ? (
        <EmptyState action={{ href: '/fair/new', words: 'Add a fair' }}>
          A fair or a market: choose which pairs come along, print a sheet to tally on, and type the day in afterwards.
        </EmptyState>
      ) : (
        <>
          <Actions>
            <LinkButton href="/fair/new">Add a fair</LinkButton>
            {purpose === 'give' ? null : (
              <LinkButton href="/pricing/books" kind="quiet">
                Books
              </LinkButton>
            )}
          </Actions>
          <DataTable caption="Days at a table" isCaptionHidden columns={columns} rows={days} />
        </>
      )}
    </Page>
  );
};
