import { countOf, formatCents, formatMinutes } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairName } from '#views/pages/batch/pair-parts.tsx';
import type { ColourName, RoleColours } from '#views/pages/batch/types.ts';
import { PeriodForm, type PeriodProps, periodHref, periodWords } from '#views/pages/books/period.tsx';
import { YarnChip } from '#views/pages/shelf/yarn-chip.tsx';

export type GiftSumsProps = {
  readonly pairs: number;
  readonly grams: number;
  readonly minutes: number;
  readonly costCents: number;
  readonly worthCents: number;
};
export type GiftKindProps = GiftSumsProps & { readonly size: string; readonly colours: readonly RoleColours[] };

export type GiftsPageProps = {
  readonly period: PeriodProps;
  /** Of this donor's yarn alone. */
  readonly donor: string | null;
  readonly kinds: readonly GiftKindProps[];
  readonly colours: readonly { readonly colour: ColourName; readonly grams: number; readonly pairs: number }[];
  readonly donors: readonly {
    readonly donor: string;
    readonly grams: number;
    readonly pairs: number;
    readonly worthCents: number;
  }[];
  readonly sums: GiftSumsProps;
  readonly withMoney: boolean;
  readonly hasWage: boolean;
  readonly purpose: Purpose;
  readonly currency: string;
};

const pairsOf = (count: number) => countOf(count, 'pair', 'pairs');

function titleOf({ sums, donor }: GiftsPageProps): string {
  if (sums.pairs === 0) return 'Gifts';
  return donor === null ? `${pairsOf(sums.pairs)} given` : `${pairsOf(sums.pairs)} of the yarn that ${donor} gave`;
}

function figuresOf({ sums, withMoney, currency, donor }: GiftsPageProps): FigureEntry[] {
  const figures: FigureEntry[] = [
    { value: pairsOf(sums.pairs), words: 'given' },
    { value: formatMass(sums.grams), words: donor === null ? 'of yarn' : 'of your yarn' },
    { value: formatMinutes(sums.minutes), words: 'of knitting' },
  ];
  if (withMoney) figures.push({ value: formatCents(sums.worthCents, currency), words: 'worth, time and yarn in it' });
  return figures;
}

function moneyColumns(currency: string): Column<GiftKindProps>[] {
  return [
    { name: 'Cost', kind: 'number', cell: (row) => formatCents(row.costCents, currency) },
    { name: 'Worth', kind: 'number', cell: (row) => formatCents(row.worthCents, currency) },
  ];
}

const Kinds = ({ kinds, sums, withMoney, currency, donor }: GiftsPageProps) => (
  <DataTable
    caption="What was given"
    isDense
    columns={[
      {
        name: 'Pair',
        kind: 'heading',
        cell: (kind) => <PairName pair={{ sizeWords: kind.size, colours: kind.colours }} />,
      },
      { name: 'Pairs', kind: 'number', cell: (kind) => String(kind.pairs) },
      { name: donor === null ? 'Yarn' : 'Your yarn', kind: 'number', cell: (kind) => formatMass(kind.grams) },
      { name: 'Hours', kind: 'number', cell: (kind) => formatMinutes(kind.minutes) },
      ...(withMoney ? moneyColumns(currency) : []),
    ]}
    rows={kinds}
    footer={[
      'All',
      String(sums.pairs),
      formatMass(sums.grams),
      formatMinutes(sums.minutes),
      ...(withMoney ? [formatCents(sums.costCents, currency), formatCents(sums.worthCents, currency)] : []),
    ]}
  />
);

const Colours = ({ colours }: Pick<GiftsPageProps, 'colours'>) => (
  <DataTable
    caption="In these colours"
    columns={[
      {
        name: 'Colour',
        kind: 'heading',
        cell: ({ colour }) => <YarnChip colour={colour} />,
      },
      { name: 'In pairs', kind: 'number', cell: ({ pairs }) => String(pairs) },
      { name: 'Yarn', kind: 'number', cell: ({ grams }) => formatMass(grams) },
    ]}
    rows={colours}
  />
);

const Donors = ({ donors, period, withMoney, currency }: GiftsPageProps) =>
  donors.length === 0 ? null : (
    <DataTable
      caption="Whose yarn it was"
      columns={[
        {
          name: 'Given by',
          kind: 'heading',
          cell: ({ donor }) => (
            <a href={periodHref('/pricing/gifts', period, { donor, ...(withMoney ? { money: 'yes' } : {}) })}>
              {donor}
            </a>
          ),
        },
        { name: 'Pairs', kind: 'number' as const, cell: ({ pairs }) => String(pairs) },
        { name: 'Yarn', kind: 'number' as const, cell: ({ grams }) => formatMass(grams) },
        ...(withMoney
          ? [
              {
                name: 'Worth of the yarn',
                kind: 'number' as const,
                cell: ({ worthCents }: GiftsPageProps['donors'][number]) => formatCents(worthCents, currency),
              },
            ]
          : []),
      ]}
      rows={donors}
    />
  );

/** *Gifts*: what was given in a period, and for a donor what was made of her yarn; with money only when it is wished. */
export const GiftsPage = (props: GiftsPageProps) => {
  const { period, donor, sums, withMoney, hasWage, purpose } = props;
  const whose: Record<string, string> = donor === null ? {} : { donor };
  const money: Record<string, string> = withMoney ? {} : { money: 'yes' };
  return (
    <Page
      title={titleOf(props)}
      where={
        <>
          <span class="no-print">
            {purpose === 'give' ? null : (
              <>
                <a href="/pricing">Costs and prices</a>,{' '}
              </>
            )}
            {donor === null ? 'gifts, ' : <a href={periodHref('/pricing/gifts', period)}>all gifts</a>}
            {donor === null ? '' : ', '}
          </span>
          {periodWords(period)}
        </>
      }
      current="pricing"
      purpose={purpose}
      problems={period.problems}
    >
      <ErrorSummary problems={period.problems} />
      {sums.pairs > 0 ? <FigureRow figures={figuresOf(props)} /> : null}
      <PeriodForm {...period} />
      {sums.pairs === 0 ? (
        <EmptyState action={{ href: '/batch/stock', words: 'Finished pairs' }}>
          No pair was given in this time. Mark a finished pair as given, or hand over an order that is a gift.
        </EmptyState>
      ) : (
        <>
          <Actions>
            <LinkButton href={periodHref('/pricing/gifts', period, { ...whose, ...money })} kind="quiet">
              {withMoney ? 'Without money' : 'With cost and worth'}
            </LinkButton>
            {purpose === 'give' ? (
              <LinkButton href="/pricing" kind="quiet">
                What a pair costs
              </LinkButton>
            ) : null}
          </Actions>
          <p class="soft no-print">Print this page from the menu of your browser; buttons stay off the paper.</p>
          <Kinds {...props} />
          <Colours colours={props.colours} />
          {donor === null ? <Donors {...props} /> : null}
          {withMoney ? (
            <p class="soft">
              Cost: what was paid for yarn and other materials. Worth: given yarn at what it would have cost
              {hasWage ? ', and the time at your wage' : '; your time is not counted until you name a wage'}. Whether a
              gift lessens a tax is a local rule: ask someone licensed to advise.
            </p>
          ) : null}
        </>
      )}
    </Page>
  );
};
