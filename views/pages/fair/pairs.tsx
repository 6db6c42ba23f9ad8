import { countOf, formatCents, formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import type { RoleColours } from '#views/pages/batch/types.ts';
import { CellField } from '#views/pages/fair/cell.tsx';
import { KindName } from '#views/pages/fair/kind-name.tsx';
import { type DayProps, type FairProps, sum, type Values } from '#views/pages/fair/types.ts';

export type KindToTakeProps = {
  readonly key: string;
  readonly size: string;
  readonly colours: readonly RoleColours[];
  readonly words: string;
  readonly isSecond: boolean;
  readonly listCents: number | null;
  readonly pairIds: readonly number[];
};

export type PairsPageProps = {
  readonly fair: FairProps;
  readonly day: DayProps;
  readonly kinds: readonly KindToTakeProps[];
  readonly values: Values;
  readonly problems: readonly Problem[];
  readonly purpose: Purpose;
  readonly currency: string;
};

/** Which finished pairs come along; all of them unless somebody says otherwise. */
export const PairsPage = (props: PairsPageProps) => {
  const { fair, day, kinds, values, problems, purpose, currency } = props;
  const count = sum(kinds.map(({ pairIds }) => pairIds.length));
  const columns: Column<KindToTakeProps>[] = [
    { name: 'Pair', kind: 'heading', cell: (kind) => <KindName kind={kind} /> },
    ...(purpose === 'give'
      ? []
      : [
          {
            name: 'Price',
            kind: 'number' as const,
            cell: (kind: KindToTakeProps) => (kind.listCents === null ? '–' : formatCents(kind.listCents, currency)),
          },
        ]),
    { name: 'Finished', kind: 'number', cell: (kind) => String(kind.pairIds.length) },
    {
      name: 'Taken along',
      kind: 'number',
      cell: (kind) => (
        <CellField name={`take-${kind.key}`} label={`${kind.words}: taken along`} values={values} problems={problems} />
      ),
    },
  ];
  return (
    <Page
      title={count === 0 ? 'No finished pair to take along' : `${countOf(count, 'pair', 'pairs')} to take along`}
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
      {count === 0 ? (
        <EmptyState action={{ href: '/batch/stock', words: 'Finished pairs' }}>
          Finished pairs that are nobody’s order and in no shop can come along. Mark a pair finished, or add pairs that
          were there before.
        </EmptyState>
      ) : (
        <form method="post" action={`/fair/days/${day.id}/pairs`}>
          <input type="hidden" name="version" value={values.version ?? ''} />
          <p>
            Every finished pair that is nobody’s order and in no shop. Write a smaller number, or 0, for what stays.
          </p>
          <DataTable caption="What comes along" isCaptionHidden columns={columns} rows={kinds} />
          <Actions>
            <Button>Take these along</Button>
            <LinkButton href={`/fair/days/${day.id}`} kind="quiet">
              Back to the day
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};
