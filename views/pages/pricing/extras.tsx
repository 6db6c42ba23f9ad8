import { currencySign, formatCents, formatMinutes } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { TextField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';

type ExtraRow = {
  readonly id: number;
  readonly name: string;
  readonly cents: number;
  readonly minutes: number;
  readonly materialCents: number;
};

type FormProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
};

const Fields = ({ values, problems, currency }: FormProps) => {
  const money = {
    inputmode: 'decimal',
    width: 'short',
    maxlength: 20,
    unit: currencySign(currency),
    problems,
  } as const;
  return (
    <div class="stack">
      <TextField
        name="name"
        label="What it is"
        hint="Gift wrap, a card, grip soles, in a hurry."
        value={values.name}
        problems={problems}
        maxlength={80}
        required
      />
      <TextField name="price" label="Costs the customer" value={values.price} {...money} />
      <TextField
        name="minutes"
        label="Takes"
        hint="Counted in what an hour of the order earns."
        value={values.minutes}
        problems={problems}
        inputmode="numeric"
        width="short"
        maxlength={8}
        unit="min"
      />
      <TextField name="material" label="Material costs me" value={values.material} {...money} />
    </div>
  );
};

const ExtraTable = ({ extras, currency }: { readonly extras: readonly ExtraRow[]; readonly currency: string }) => (
  <DataTable
    caption="Usual extras"
    isCaptionHidden
    columns={[
      { name: 'Extra', kind: 'heading', cell: (row) => <a href={`/pricing/extras/${row.id}`}>{row.name}</a> },
      { name: 'Costs the customer', kind: 'number', cell: (row) => formatCents(row.cents, currency) },
      { name: 'Takes', kind: 'number', cell: (row) => (row.minutes > 0 ? formatMinutes(row.minutes) : '–') },
      {
        name: 'Material costs me',
        kind: 'number',
        cell: (row) => (row.materialCents > 0 ? formatCents(row.materialCents, currency) : '–'),
      },
    ]}
    rows={extras}
  />
);

/** What may be added to an order with one press, and a form for one more. */
export const ExtrasPage = (props: FormProps & { readonly extras: readonly ExtraRow[] }) => (
  <Page
    title="Usual extras"
    where={<a href="/pricing">Costs and prices</a>}
    current="pricing"
    problems={props.problems}
  >
    <ErrorSummary problems={props.problems} />
    {props.extras.length === 0 ? (
      <EmptyState>
        What you often add to an order, like a wrap or a card, can stand here with its price, the minutes it takes and
        its material. On the page of an order it is then added with one press.
      </EmptyState>
    ) : (
      <ExtraTable extras={props.extras} currency={props.currency} />
    )}
    <form method="post" action="/pricing/extras">
      <Card title="Add one">
        <Fields {...props} />
        <Actions>
          <Button>Add the extra</Button>
        </Actions>
      </Card>
    </form>
    <p class="soft">Orders keep what they were given: a price changed here holds for what is added from now on.</p>
  </Page>
);

/** One usual extra, to change or to take away. */
export const ExtraPage = (props: FormProps & { readonly extra: ExtraRow }) => (
  <Page
    title={props.extra.name}
    where={<a href="/pricing/extras">Usual extras</a>}
    current="pricing"
    problems={props.problems}
  >
    <ErrorSummary problems={props.problems} />
    <form method="post" action={`/pricing/extras/${props.extra.id}`}>
      <input type="hidden" name="version" value={props.values.version ?? ''} />
      <Card>
        <Fields {...props} />
      </Card>
      <Actions>
        <Button>Save the extra</Button>
        <Button kind="remove" formaction={`/pricing/extras/${props.extra.id}/remove`} formnovalidate>
          Take it away
        </Button>
        <LinkButton kind="quiet" href="/pricing/extras">
          Leave it
        </LinkButton>
      </Actions>
    </form>
  </Page>
);
