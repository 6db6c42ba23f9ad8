import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import { currencySign, formatCents } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { SeenSettings } from '#views/pages/settings/setting-field.tsx';

export type BeforeAfterProps = {
  readonly size: string;
  readonly lineId: number;
  readonly beforeCents: number;
  readonly afterCents: number;
  readonly before: PriceSheetRow & { readonly groupName: string | null };
  readonly after: PriceSheetRow & { readonly groupName: string | null };
  readonly hourAtOldPriceCents: number | null;
};

export type WhatIfPageProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  /** Null while nothing was tried. */
  readonly rows: readonly BeforeAfterProps[] | null;
  readonly outlets: readonly SelectOption[];
  readonly outletName: string;
  /** The outlet whose fees or tax were tried; null when they stay. */
  readonly outletId: number | null;
  readonly isEmpty: boolean;
  readonly isChanged: boolean;
  readonly isYarnChanged: boolean;
  readonly seen: string;
  readonly currency: string;
  readonly purpose: Purpose;
};

const TrialForm = ({ values, problems, outlets, currency }: WhatIfPageProps) => {
  const sign = currencySign(currency);
  const box = (name: string, unit: string) => ({
    name,
    value: values[name],
    problems,
    inputmode: 'decimal' as const,
    width: 'short' as const,
    unit,
  });
  return (
    <Card title="What changes">
      <form method="get" action="/pricing/what-if">
        <FieldRow>
          <TextField {...box('wageCentsPerHour', sign)} label="Wage for an hour" />
          <TextField {...box('runningCostsCentsPerMonth', sign)} label="Running costs in a month" />
          <TextField {...box('plannedHoursPerMonth', 'hours')} label="Hours in a month" />
        </FieldRow>
        <FieldRow>
          <TextField
            {...box('yarn', '%')}
            label="What shops ask for yarn"
            hint="10 for a tenth more, -10 for a tenth less."
          />
          <SelectField name="at" label="Prices at" options={outlets} value={values.at} problems={problems} />
        </FieldRow>
        <FieldRow>
          <TextField {...box('fee', '%')} label="Fee there" hint="Empty: as now." />
          <TextField {...box('tax', '%')} label="Tax there" hint="Empty: as now." />
        </FieldRow>
        <Actions>
          <Button>Show before and after</Button>
        </Actions>
      </form>
    </Card>
  );
};

const Save = ({ values, seen }: WhatIfPageProps) => (
  <form method="post" action="/pricing/what-if">
    <SeenSettings seen={seen} />
    {['wageCentsPerHour', 'runningCostsCentsPerMonth', 'plannedHoursPerMonth'].map((name) => (
      <input type="hidden" name={name} value={values[name] ?? ''} />
    ))}
    <Actions>
      <Button kind="quiet">Keep this wage and these running costs</Button>
    </Actions>
  </form>
);

/** What another wage, other running costs or dearer yarn would do to costs and prices; nothing is kept until saved. */
export const WhatIfPage = (props: WhatIfPageProps) => {
  const { rows, problems, currency, purpose, outletName, isEmpty, isChanged, isYarnChanged } = props;
  const money = (cents: number | null) => (cents === null ? '–' : formatCents(cents, currency));
  return (
    <Page
      title="Before and after"
      where={<a href="/pricing">Costs and prices</a>}
      current="pricing"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <p>Try another wage, other running costs or another price of yarn. Nothing is kept until you say so.</p>
      <TrialForm {...props} />
      {isEmpty ? (
        <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
          With the first order its sizes are compared here.
        </EmptyState>
      ) : null}
      {rows && rows.length > 0 ? (
        <>
          <DataTable
            caption={`Costs, and prices at ${outletName}`}
            columns={[
              { name: 'Size', kind: 'heading', cell: (row) => <a href={`/pricing/pair/${row.lineId}`}>{row.size}</a> },
              { name: 'Cost before', kind: 'number', cell: (row) => money(row.beforeCents) },
              { name: 'Cost after', kind: 'number', cell: (row) => <strong>{money(row.afterCents)}</strong> },
              { name: 'Price before', kind: 'number', cell: (row) => money(row.before.priceCents) },
              { name: 'Price after', kind: 'number', cell: (row) => <strong>{money(row.after.priceCents)}</strong> },
              {
                name: 'An hour earns',
                kind: 'number',
                cell: (row) => money(row.hourAtOldPriceCents),
              },
            ]}
            rows={rows}
          />
          <p class="soft">
            Each size at its dearest colours. An hour earns so much at the price before. A fixed price, and one for
            several sizes, stays until you change it.
            {isYarnChanged ? ' Yarn on the shelf costs what it cost; only yarn to buy gets dearer or cheaper.' : ''}
          </p>
          {isChanged ? <Save {...props} /> : null}
          {props.outletId === null ? null : (
            <p class="soft">
              Fees and tax are kept with the outlet:{' '}
              <a href={`/pricing/outlets/${props.outletId}`}>change them there</a>.
            </p>
          )}
          {isYarnChanged ? (
            <p class="soft">
              Prices of yarn are kept shop by shop: <a href="/buying/prices">change them there</a>.
            </p>
          ) : null}
        </>
      ) : null}
    </Page>
  );
};
