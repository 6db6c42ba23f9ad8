import { countOf, currencySign, formatCents } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { TextField, UnitsField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatMass, unitsOfForm } from '#views/format.ts';
import { Page } from '#views/layout.tsx';

type BandRow = {
  readonly id: number;
  readonly name: string;
  readonly upToG: number;
  readonly cents: number;
  readonly days: number;
};

type FormProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
  /** Where parcels go already. */
  readonly names: readonly string[];
};

const Fields = ({ values, problems, currency, names }: FormProps) => {
  const units = unitsOfForm(values);
  return (
    <div class="stack">
      <UnitsField units={units} />
      <TextField
        name="name"
        label="Where it goes"
        hint="Your own words: Inland, Neighbours, Overseas."
        value={values.name}
        problems={problems}
        suggestions={names}
        maxlength={80}
        required
      />
      <TextField
        name="upTo"
        label="Up to"
        hint="The parcel with its packing."
        value={values.upTo}
        problems={problems}
        inputmode="decimal"
        width="short"
        maxlength={12}
        unit={units === 'imperial' ? 'oz' : 'g'}
      />
      <TextField
        name="price"
        label="The post asks"
        value={values.price}
        problems={problems}
        inputmode="decimal"
        width="short"
        maxlength={20}
        unit={currencySign(currency)}
      />
      <TextField
        name="days"
        label="Days in the post"
        hint="Days of the calendar, Sundays too: the last day to post a parcel is counted back by them."
        value={values.days}
        problems={problems}
        inputmode="numeric"
        width="short"
        maxlength={4}
      />
    </div>
  );
};

const BandTable = ({ bands, currency }: { readonly bands: readonly BandRow[]; readonly currency: string }) => (
  <DataTable
    caption="What the post asks"
    isCaptionHidden
    columns={[
      {
        name: 'Parcel',
        kind: 'heading',
        cell: (row) => (
          <a href={`/pricing/postage/${row.id}`}>
            {row.name}, up to {formatMass(row.upToG)}
          </a>
        ),
      },
      { name: 'Costs', kind: 'number', cell: (row) => formatCents(row.cents, currency) },
      { name: 'Takes', kind: 'number', cell: (row) => countOf(row.days, 'day', 'days') },
    ]}
    rows={bands}
  />
);

/** What the post asks, by where a parcel goes and what it weighs, and a form for one more. */
export const PostagePage = (props: FormProps & { readonly bands: readonly BandRow[]; readonly packingG: number }) => (
  <Page
    title="What the post asks"
    where={<a href="/pricing">Costs and prices</a>}
    current="pricing"
    problems={props.problems}
  >
    <ErrorSummary problems={props.problems} />
    {props.bands.length === 0 ? (
      <EmptyState>
        Copy the prices of your post here, by weight and by where it goes. The page of an order then weighs its parcel
        and finds the price.
      </EmptyState>
    ) : (
      <BandTable bands={props.bands} currency={props.currency} />
    )}
    <form method="post" action="/pricing/postage">
      <Card title="Add a price">
        <Fields {...props} />
        <Actions>
          <Button>Add the price</Button>
        </Actions>
      </Card>
    </form>
    <p class="soft">
      A parcel is its pairs and {formatMass(props.packingG)} of packing, which stands in the{' '}
      <a href="/settings">settings</a>. It goes at the lightest of these that takes it. Postage is passed on as it is:
      no price of a pair has it in it. Orders keep the postage they were given.
    </p>
  </Page>
);

/** One price of the post, to change or to take away. */
export const BandPage = (props: FormProps & { readonly band: BandRow }) => (
  <Page
    title={`${props.band.name}, up to ${formatMass(props.band.upToG)}`}
    where={<a href="/pricing/postage">What the post asks</a>}
    current="pricing"
    problems={props.problems}
  >
    <ErrorSummary problems={props.problems} />
    <form method="post" action={`/pricing/postage/${props.band.id}`}>
      <input type="hidden" name="version" value={props.values.version ?? ''} />
      <Card>
        <Fields {...props} />
      </Card>
      <Actions>
        <Button>Save the price</Button>
        <Button kind="remove" formaction={`/pricing/postage/${props.band.id}/remove`} formnovalidate>
          Take it away
        </Button>
        <LinkButton kind="quiet" href="/pricing/postage">
          Leave it
        </LinkButton>
      </Actions>
    </form>
  </Page>
);
