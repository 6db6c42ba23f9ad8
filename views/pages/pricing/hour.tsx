import type { Day } from '#core/shared/calendar.ts';
import { countOf, currencySign, formatCents, formatDay, formatMinutes } from '#core/shared/format.ts';
import type { Problem, Result } from '#core/shared/problem.ts';
import type { SettingName } from '#core/shared/settings.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';
import { SeenSettings, SettingField } from '#views/pages/settings/setting-field.tsx';

/** The settings of this page. */
export const hourSettings: readonly SettingName[] = [
  'wageCentsPerHour',
  'runningCostsCentsPerMonth',
  'plannedHoursPerMonth',
  'chargeOpenedBall',
  'taxNote',
];

export type ExpenseProps = {
  readonly id: number;
  readonly version: number;
  readonly day: Day;
  readonly kind: string;
  readonly cents: number;
};

export type HourPageProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly seen: string;
  readonly problems: readonly Problem[];
  readonly currency: string;
  readonly wageCents: number;
  readonly runningCentsPerHour: number;
  readonly expenses: readonly ExpenseProps[];
  readonly expensesAMonthCents: number;
  readonly expenseValues: Readonly<Record<string, string>>;
  readonly running: RunningProps;
};

export type RunningProps = {
  readonly periods: readonly {
    readonly words: string;
    readonly fromDay: Day;
    readonly paidCents: number;
    readonly pairs: number;
    readonly minutes: number;
    readonly carriedCents: number;
  }[];
  readonly breakEven: Result<{ readonly contributionCents: number; readonly pairs: number }> | null;
  readonly monthCents: number;
};

/** What is still open of what was paid, or earned beyond it. */
function openWords(paidCents: number, carried: number, currency: string): string {
  if (paidCents === 0) return 'nothing paid';
  if (carried >= paidCents) return 'earned back';
  return `${formatCents(paidCents - carried, currency)} open`;
}

const BreakEven = ({ running, currency }: { readonly running: RunningProps; readonly currency: string }) => {
  const { breakEven, monthCents } = running;
  if (!breakEven) return null;
  if (!breakEven.ok) {
    return (
      <Caution title="The pairs on order do not earn the running costs">
        When their work is paid they leave nothing for them. Raise a price, or look for a way to make them cheaper.
      </Caution>
    );
  }
  const { contributionCents, pairs } = breakEven.value;
  return (
    <p>
      With the work paid, a pair of those on order leaves {formatCents(contributionCents, currency)} on average: a usual
      month’s running costs of {formatCents(monthCents, currency)} take{' '}
      <strong>{countOf(pairs, 'such pair', 'such pairs')}</strong>.
    </p>
  );
};

const Running = ({ running, currency }: { readonly running: RunningProps; readonly currency: string }) => (
  <section id="earned-back">
    <h2>Are running costs earned back?</h2>
    <DataTable
      caption="Paid, and carried by pairs sold"
      isCaptionHidden
      columns={[
        { name: 'Time', kind: 'heading', cell: (row) => row.words },
        { name: 'Paid', kind: 'number', cell: (row) => formatCents(row.paidCents, currency) },
        { name: 'Pairs sold', kind: 'number', cell: (row) => String(row.pairs) },
        { name: 'Hours in them', kind: 'number', cell: (row) => formatMinutes(row.minutes) },
        { name: 'They carry', kind: 'number', cell: (row) => formatCents(row.carriedCents, currency) },
        { name: 'So', cell: (row) => openWords(row.paidCents, row.carriedCents, currency) },
      ]}
      rows={running.periods}
    />
    <p class="soft">
      A pair carries its hours at the running costs of an hour. It earns them only where its price pays its cost; pairs
      given away carry nothing.
    </p>
    <BreakEven running={running} currency={currency} />
  </section>
);

/** Wage, running costs, and what was paid that belongs to no pair. */
export const HourPage = (props: HourPageProps) => {
  const { values, seen, problems, currency, wageCents, runningCentsPerHour, expenses, expenseValues } = props;
  const money = (cents: number) => formatCents(cents, currency);
  return (
    <Page
      title={`An hour costs ${money(wageCents + runningCentsPerHour)}`}
      where={<a href="/pricing">Costs and prices</a>}
      current="pricing"
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <FigureRow
        figures={[
          wageCents > 0
            ? { value: money(wageCents), words: 'wage' }
            : { value: 'Not said', words: 'wage: your time is not counted', tone: 'caution' },
          { value: money(runningCentsPerHour), words: 'running costs', href: '/working/pricing/overhead/0' },
        ]}
      />
      <form method="post" action="/pricing/hour">
        <SeenSettings seen={seen} />
        <Card title="What an hour is reckoned at">
          <div class="stack">
            {hourSettings.map((name) => (
              <SettingField name={name} values={values} problems={problems} currency={currency} />
            ))}
          </div>
        </Card>
        <Actions>
          <Button>Save</Button>
        </Actions>
      </form>
      <p class="no-print">
        <a href="/pricing/what-if">What would another wage or other costs change?</a>
      </p>
      <Running running={props.running} currency={currency} />
      <section>
        <h2>What was paid</h2>
        <p>
          {expenses.length === 0
            ? 'Write down what you pay that belongs to no pair, and see what it comes to in a month.'
            : `Over the last year these come to ${money(props.expensesAMonthCents)} a month.`}
        </p>
        {expenses.length > 0 ? (
          <DataTable
            caption="Running costs paid"
            isCaptionHidden
            columns={[
              { name: 'For', kind: 'heading', cell: (row) => row.kind },
              { name: 'Paid on', cell: (row) => formatDay(row.day) },
              { name: 'Amount', kind: 'number', cell: (row) => money(row.cents) },
              {
                name: 'Take away',
                kind: 'action',
                cell: (row) => (
                  <form method="post" action={`/pricing/expenses/${row.id}/remove`} class="inline-form">
                    <input type="hidden" name="version" value={String(row.version)} />
                    <Button kind="remove">
                      Take away<span class="visually-hidden"> {row.kind}</span>
                    </Button>
                  </form>
                ),
              },
            ]}
            rows={expenses}
          />
        ) : null}
        <Card title="Add what was paid">
          <form method="post" action="/pricing/expenses">
            <FieldRow>
              <TextField name="what" label="For" value={expenseValues.what} problems={problems} maxlength={120} />
              <TextField name="day" type="date" label="Paid on" value={expenseValues.day} problems={problems} />
              <TextField
                name="amount"
                label="Amount"
                value={expenseValues.amount}
                problems={problems}
                inputmode="decimal"
                width="short"
                unit={currencySign(currency)}
              />
            </FieldRow>
            <Actions>
              <Button kind="quiet">Add it</Button>
            </Actions>
          </form>
        </Card>
      </section>
      <p class="soft">Tax rules are local: check yours, or ask someone licensed to advise.</p>
    </Page>
  );
};
