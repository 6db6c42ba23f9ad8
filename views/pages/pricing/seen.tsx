import type { Day } from '#core/shared/calendar.ts';
import { countOf, currencySign, formatCents, formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

export type SeenRangeProps = { readonly leastCents: number; readonly mostCents: number; readonly count: number };

/** "€35.00 to €52.00", or one amount. */
export function seenRangeWords({ leastCents, mostCents }: SeenRangeProps, currency: string): string {
  const least = formatCents(leastCents, currency);
  return leastCents === mostCents ? least : `${least} to ${formatCents(mostCents, currency)}`;
}

/** What others ask, beside a price; it is no part of it. */
export const OthersAsk = ({
  range,
  currency,
}: {
  readonly range: SeenRangeProps | null;
  readonly currency: string;
}) => (
  <p class="soft">
    {range === null ? (
      <a href="/pricing/seen">Note what others ask</a>
    ) : (
      <>
        Others ask <a href="/pricing/seen">{seenRangeWords(range, currency)}</a>, by{' '}
        {countOf(range.count, 'note', 'notes')}. No price is made of it.
      </>
    )}
  </p>
);

export type SeenPageProps = {
  readonly seen: readonly {
    readonly id: number;
    readonly version: number;
    readonly day: Day;
    readonly place: string;
    readonly what: string;
    readonly cents: number;
  }[];
  readonly range: SeenRangeProps | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
  readonly purpose: Purpose;
};

/** Prices seen elsewhere: a note to look at, no part of any price. */
export const SeenPage = ({ seen, range, values, problems, currency, purpose }: SeenPageProps) => (
  <Page
    title={range ? `Others ask ${seenRangeWords(range, currency)}` : 'What others ask'}
    where={<a href="/pricing">Costs and prices</a>}
    current="pricing"
    purpose={purpose}
    problems={problems}
  >
    <ErrorSummary problems={problems} />
    <p class="soft">A note beside your prices. Nothing is reckoned from it.</p>
    {seen.length > 0 ? (
      <DataTable
        caption="Prices seen elsewhere"
        isCaptionHidden
        columns={[
          { name: 'What', kind: 'heading', cell: (row) => row.what },
          { name: 'Where', kind: 'wide', cell: (row) => row.place },
          { name: 'Seen on', cell: (row) => formatDay(row.day) },
          { name: 'Price', kind: 'number', cell: (row) => formatCents(row.cents, currency) },
          {
            name: 'Take away',
            kind: 'action',
            cell: (row) => (
              <form method="post" action={`/pricing/seen/${row.id}/remove`} class="inline-form">
                <input type="hidden" name="version" value={String(row.version)} />
                <Button kind="remove">
                  Take away
                  <span class="visually-hidden">
                    {' '}
                    {row.what}, {row.place}
                  </span>
                </Button>
              </form>
            ),
          },
        ]}
        rows={seen}
      />
    ) : null}
    <Card title="Note a price">
      <form method="post" action="/pricing/seen">
        <FieldRow>
          <TextField name="what" label="What" value={values.what} problems={problems} maxlength={120} />
          <TextField name="place" label="Where" value={values.place} problems={problems} maxlength={120} />
        </FieldRow>
        <FieldRow>
          <TextField
            name="price"
            label="Price"
            value={values.price}
            problems={problems}
            inputmode="decimal"
            width="short"
            unit={currencySign(currency)}
          />
          <TextField name="day" type="date" label="Seen on" value={values.day} problems={problems} />
        </FieldRow>
        <Actions>
          <Button>Note it</Button>
        </Actions>
      </form>
    </Card>
  </Page>
);
