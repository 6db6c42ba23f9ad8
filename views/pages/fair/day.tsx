import type { DayAccount } from '#core/fair/day-account.ts';
import {
  countOf,
  currencySign,
  formatCents,
  formatCentsForInput,
  formatDay,
  formatMinutes,
} from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, TextField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Working } from '#views/components/working.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { KindName } from '#views/pages/fair/kind-name.tsx';
import { ToSettleNotice } from '#views/pages/fair/list.tsx';
import {
  type DayViewProps,
  howWords,
  type KindProps,
  type SaleProps,
  sum,
  type Values,
} from '#views/pages/fair/types.ts';

export type DayPageProps = {
  readonly view: DayViewProps;
  readonly toSettle: number;
  readonly values: Values;
  readonly problems: readonly Problem[];
  readonly token: string;
  readonly purpose: Purpose;
  readonly currency: string;
};

type Money = (cents: number) => string;

function boxWords({ differenceCents }: DayAccount, money: Money): Pick<FigureEntry, 'value' | 'words' | 'tone'> {
  if (differenceCents === null) return { value: 'Not counted', words: 'the cash box' };
  if (differenceCents === 0) return { value: 'Right', words: 'the cash box, to the penny', tone: 'done' };
  const words = differenceCents > 0 ? 'too much in the cash box' : 'too little in the cash box';
  return { value: money(Math.abs(differenceCents)), words, tone: 'caution' };
}

function figuresOf({ account, takenCount }: DayViewProps, money: Money, isGiving: boolean): FigureEntry[] {
  const taken: FigureEntry = { value: countOf(takenCount, 'pair', 'pairs'), words: 'taken along' };
  if (isGiving) return [taken, { value: countOf(account.pairs, 'pair', 'pairs'), words: 'went out' }];
  if (account.pairs === 0) {
    return [taken, { value: money(account.tableFeeCents), words: 'the table costs this day' }];
  }
  return [
    {
      value: money(account.takingsCents),
      words: `takings: ${countOf(account.pairs, 'pair', 'pairs')} of ${takenCount}`,
    },
    boxWords(account, money),
    {
      value: money(account.earnedCents),
      words: 'the day earned, yarn and fees paid',
      tone: account.earnedCents < 0 ? 'late' : undefined,
    },
    account.tableHourCents === null
      ? { value: 'Not said', words: 'the hours it was open' }
      : { value: money(account.tableHourCents), words: 'an hour at the table earned' },
  ];
}

const Missing = ({ view, values, problems, token, currency }: DayPageProps) => {
  const missing = view.kinds.filter((kind) => kind.missing > 0);
  if (missing.length === 0) return null;
  const money = (cents: number) => formatCents(cents, currency);
  const count = sum(missing.map((kind) => kind.missing));
  const worth = missing.every(({ listCents }) => listCents !== null)
    ? sum(missing.map((kind) => kind.missing * (kind.listCents ?? 0)))
    : null;
  const { differenceCents } = view.account;
  return (
    <Card title={`${countOf(count, 'pair is', 'pairs are')} neither sold nor home`}>
      <p>
        Taken along, not noted as sold, and not come home: a sale that nobody noted, or a loss.
        {worth === null ? '' : ` At the prices of the list they come to ${money(worth)}.`}
        {differenceCents !== null && differenceCents > 0
          ? ` The cash box holds ${money(differenceCents)} more than is noted.`
          : ''}
      </p>
      <form method="post" action={`/fair/days/${view.day.id}/missing`}>
        <input type="hidden" name="token" value={token} />
        {missing.map((kind) => {
          const [became, price] = [`became-${kind.key}`, `missed-price-${kind.key}`];
          const list = kind.listCents === null ? '' : formatCentsForInput(kind.listCents, currency);
          return (
            <FieldRow>
              <SelectField
                name={became}
                label={`${countOf(kind.missing, 'pair', 'pairs')}: ${kind.words}`}
                blank="Leave open"
                value={values[became] ?? 'cash'}
                problems={problems}
                options={[
                  { value: 'cash', words: 'sold in cash' },
                  { value: 'card', words: 'sold by card' },
                  { value: 'other', words: 'sold, not known how' },
                  { value: 'lost', words: 'lost' },
                ]}
              />
              <TextField
                name={price}
                label="One at"
                value={values[price] ?? list}
                problems={problems}
                inputmode="decimal"
                width="short"
                unit={currencySign(currency)}
              />
            </FieldRow>
          );
        })}
        <Actions>
          <Button>Book these</Button>
        </Actions>
      </form>
    </Card>
  );
};

const count = (value: number | null) => (value === null || value === 0 ? '–' : String(value));

const Pairs = ({ kinds, isGiving }: { readonly kinds: readonly KindProps[]; readonly isGiving: boolean }) => {
  const isOther = !isGiving && kinds.some(({ soldBy }) => soldBy.other > 0);
  const home = kinds.every(({ counts }) => counts.home === null)
    ? null
    : sum(kinds.map((kind) => kind.counts.home ?? 0));
  const total = (pick: (kind: KindProps) => number) => count(sum(kinds.map(pick)));
  const columns: Column<KindProps>[] = [
    { name: 'Pair', kind: 'heading', cell: (kind) => <KindName kind={kind} /> },
    { name: 'Taken', kind: 'number', cell: ({ counts }) => count(counts.taken) },
    ...(isGiving
      ? [{ name: 'Went out', kind: 'number' as const, cell: ({ counts }: KindProps) => count(counts.sold) }]
      : []),
    ...(isGiving
      ? []
      : [
          { name: 'Cash', kind: 'number' as const, cell: ({ soldBy }: KindProps) => count(soldBy.cash) },
          { name: 'Card', kind: 'number' as const, cell: ({ soldBy }: KindProps) => count(soldBy.card) },
        ]),
    ...(isOther
      ? [{ name: 'Sold, not known how', kind: 'number' as const, cell: ({ soldBy }: KindProps) => count(soldBy.other) }]
      : []),
    {
      name: 'Came home',
      kind: 'number',
      cell: ({ counts }) => (counts.home === null ? 'not counted' : String(counts.home)),
    },
    { name: 'Missing', kind: 'number', cell: (kind) => count(kind.missing) },
  ];
  return (
    <DataTable
      caption="What became of the pairs"
      isDense
      columns={columns}
      rows={kinds}
      footer={[
        'All',
        total(({ counts }) => counts.taken),
        ...(isGiving
          ? [total(({ counts }) => counts.sold)]
          : [total(({ soldBy }) => soldBy.cash), total(({ soldBy }) => soldBy.card)]),
        ...(isOther ? [total(({ soldBy }) => soldBy.other)] : []),
        home === null ? '–' : String(home),
        total(({ missing }) => missing),
      ]}
    />
  );
};

type Line = { readonly what: string; readonly cents: number; readonly isSum?: boolean };

const AccountTable = ({ caption, lines, money }: { caption: string; lines: readonly Line[]; money: Money }) => (
  <DataTable
    caption={caption}
    columns={[
      { name: 'What', kind: 'heading', cell: ({ what, isSum }) => (isSum ? what : <span class="plain">{what}</span>) },
      {
        name: 'Amount',
        kind: 'number',
        cell: ({ cents, isSum }) => (isSum ? <strong>{money(cents)}</strong> : money(cents)),
      },
    ]}
    rows={lines}
  />
);

function accountLines({ account, dayNumber, dayCount, outlet }: DayViewProps): Line[] {
  const lines: (Line | null)[] = [
    { what: 'Cash', cents: account.cashCents },
    { what: 'Card', cents: account.cardCents },
    account.otherCents > 0 ? { what: 'Not known how', cents: account.otherCents } : null,
    { what: 'Takings', cents: account.takingsCents, isSum: true },
    outlet.taxRatio > 0 ? { what: 'Tax in it', cents: -account.taxCents } : null,
    account.cardFeeCents > 0 ? { what: `Card fee, as ${outlet.name} says`, cents: -account.cardFeeCents } : null,
    {
      what: dayCount > 1 ? `Table, day ${dayNumber} of ${dayCount}` : 'Table',
      cents: -account.tableFeeCents,
    },
    { what: 'Yarn of what was sold', cents: -account.yarnCents },
    { what: 'Other materials', cents: -account.materialsCents },
    { what: 'The day earned', cents: account.earnedCents, isSum: true },
  ];
  return lines.filter((line) => line !== null);
}

function boxLines({ account, day }: DayViewProps): Line[] {
  const lines: Line[] = [
    { what: 'Float in the morning', cents: day.floatCents },
    { what: 'Sold in cash', cents: account.cashCents },
    { what: 'Should be in it', cents: account.boxCents, isSum: true },
  ];
  if (day.cashCents === null || account.differenceCents === null) return lines;
  const difference = account.differenceCents;
  const words =
    difference === 0 ? 'Nothing too much or too little' : difference > 0 ? 'Too much in it' : 'Too little in it';
  return [
    ...lines,
    { what: 'Counted', cents: day.cashCents },
    { what: words, cents: Math.abs(difference), isSum: true },
  ];
}

const Hours = ({ view, money }: { readonly view: DayViewProps; readonly money: Money }) => {
  const { account, day } = view;
  if (day.openMinutes === null || account.tableHourCents === null || account.workHourCents === null) {
    return (
      <p>
        <a href={`/fair/days/${day.id}/edit`}>Say how many hours it was open</a>, and what an hour earned stands here.
      </p>
    );
  }
  return (
    <>
      <p>
        Open {formatMinutes(day.openMinutes)}: an hour at the table earned {money(account.tableHourCents)}. With the{' '}
        {formatMinutes(account.knittingMinutes)} of knitting in what was sold, an hour earned{' '}
        <strong>{money(account.workHourCents)}</strong>.
      </p>
      <Working
        summary="How an hour’s earning comes about"
        lines={[
          {
            term: 'At the table',
            value: `${money(account.earnedCents)} / ${formatMinutes(day.openMinutes)} = ${money(account.tableHourCents)}`,
          },
          {
            term: 'With the knitting',
            value: `(${money(account.earnedCents)} less the running costs of ${formatMinutes(account.knittingMinutes)}) / (${formatMinutes(day.openMinutes)} + ${formatMinutes(account.knittingMinutes)}) = ${money(account.workHourCents)}`,
          },
        ]}
      />
    </>
  );
};

const Sales = ({ sales, takenBack, money }: { sales: readonly SaleProps[]; takenBack: number; money: Money }) =>
  sales.length === 0 ? null : (
    <section id="sales">
      <DataTable
        caption={countOf(sales.length, 'sale noted', 'sales noted')}
        columns={[
          {
            name: 'What',
            kind: 'heading',
            cell: ({ lines }) => (
              <span class="plain">
                {lines.map(({ what }) => what).join('; ')}
                {lines.every(({ isPairKnown }) => isPairKnown) ? null : <small> to be settled</small>}
              </span>
            ),
          },
          { name: 'Price', kind: 'number', cell: ({ lines }) => money(sum(lines.map(({ priceCents }) => priceCents))) },
          { name: 'Paid', cell: ({ how }) => howWords[how] },
          {
            name: 'Typed wrongly?',
            kind: 'action',
            cell: ({ id, lines }) => (
              <form method="post" action={`/fair/sales/${id}/back`} class="inline-form">
                <Button kind="remove">
                  Take back<span class="visually-hidden"> {lines.map(({ what }) => what).join('; ')}</span>
                </Button>
              </form>
            ),
          },
        ]}
        rows={sales}
        rowId={({ id }) => `sale-${id}`}
      />
      {takenBack > 0 ? <p class="soft">{countOf(takenBack, 'sale was', 'sales were')} taken back.</p> : null}
    </section>
  );

const Asked = ({ asked }: Pick<DayViewProps, 'asked'>) =>
  asked.length === 0 ? null : (
    <DataTable
      caption="Asked for in vain"
      columns={[
        {
          name: 'What',
          kind: 'heading',
          cell: ({ size, colour }) => <span class="plain">{[size, colour].filter(Boolean).join(', ')}</span>,
        },
        { name: 'How often', kind: 'number', cell: ({ count: often }) => String(often) },
      ]}
      rows={asked}
    />
  );

const Gone = ({ gone, dayId }: { readonly gone: DayViewProps['gone']; readonly dayId: number }) =>
  gone.length === 0 ? null : (
    <DataTable
      caption="Lost or given away"
      columns={[
        { name: 'Pair', kind: 'heading', cell: ({ words }) => <span class="plain">{words}</span> },
        { name: 'What became of it', cell: ({ left }) => left },
        {
          name: 'Here after all?',
          kind: 'wide',
          cell: ({ pairId, words }) => (
            <form method="post" action={`/fair/days/${dayId}/found/${pairId}`} class="inline-form">
              <Button kind="quiet">
                It is here<span class="visually-hidden">: {words}</span>
              </Button>
            </form>
          ),
        },
      ]}
      rows={gone}
    />
  );

/** A day at a table: what to do before it, what became of the pairs, and what it earned. */
export const DayPage = (props: DayPageProps) => {
  const { view, purpose, currency, problems } = props;
  const { fair, day, kinds, account } = view;
  const money: Money = (cents) => formatCents(cents, currency);
  const isGiving = purpose === 'give';
  const isSaleless = view.sales.length === 0;
  const at = `/fair/days/${day.id}`;
  return (
    <Page
      title={`${fair.name}, ${formatDay(day.day)}`}
      where={<a href="/fair">Fair</a>}
      current="fair"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <FigureRow figures={figuresOf(view, money, isGiving)} />
      <Actions>
        {view.takenCount === 0 ? (
          <LinkButton href={`${at}/pairs`}>Choose what comes along</LinkButton>
        ) : (
          <LinkButton href={`${at}/tally`}>{isSaleless ? 'Type in the day' : 'Type in more'}</LinkButton>
        )}
        {view.takenCount === 0 ? null : (
          <>
            <LinkButton href={`${at}/sheet`} kind="quiet">
              Tally sheet to print
            </LinkButton>
            <LinkButton href={`${at}/pairs`} kind="quiet">
              What comes along
            </LinkButton>
          </>
        )}
        <LinkButton href={`${at}/edit`} kind="quiet">
          {isGiving ? 'Day and hours' : 'Day, hours and float'}
        </LinkButton>
      </Actions>
      <ToSettleNotice count={props.toSettle} />
      {isGiving ? null : <Missing {...props} />}
      {kinds.length === 0 ? (
        <EmptyState>Nothing is on the list of this day yet.</EmptyState>
      ) : (
        <Pairs kinds={kinds} isGiving={isGiving} />
      )}
      {isGiving || isSaleless ? null : (
        <>
          <div class="columns">
            <AccountTable caption="What the day earned" lines={accountLines(view)} money={money} />
            <AccountTable caption="The cash box" lines={boxLines(view)} money={money} />
          </div>
          <section>
            <h2>What an hour earned</h2>
            <Hours view={view} money={money} />
            <p class="soft">
              Yarn at what its own lot cost, or costs now where no lot is known; what was sold without a known pair has
              no cost here.
              {account.cardFeeCents > 0 ? ' The fee is taken of what was paid by card.' : ''} Tax rules are local: check
              yours, or ask someone licensed to advise.
            </p>
          </section>
        </>
      )}
      <Asked asked={view.asked} />
      <Gone gone={view.gone} dayId={day.id} />
      {isGiving || isSaleless ? null : (
        <FoldOnPhone summary={countOf(view.sales.length, 'sale noted', 'sales noted')}>
          <Sales sales={view.sales} takenBack={view.takenBack} money={money} />
        </FoldOnPhone>
      )}
    </Page>
  );
};
