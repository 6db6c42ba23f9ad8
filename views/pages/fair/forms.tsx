import { currencySign, formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import type { DayProps, FairProps, Values } from '#views/pages/fair/types.ts';

type FormProps = {
  readonly values: Values;
  readonly problems: readonly Problem[];
  readonly currency: string;
  readonly purpose: Purpose;
};

const FairFields = ({
  values,
  problems,
  currency,
  outlets,
  purpose,
}: FormProps & { readonly outlets: readonly SelectOption[] }) => (
  <FieldRow>
    <TextField
      name="name"
      label="Fair or market"
      hint="Like Autumn market"
      value={values.name}
      problems={problems}
      maxlength={80}
      required
    />
    <SelectField
      name="outlet"
      label="Outlet"
      hint="Its prices and fees count"
      options={outlets}
      value={values.outlet}
      problems={problems}
    />
    {purpose === 'give' ? null : (
      <TextField
        name="fee"
        label="Table fee"
        hint="For all its days; not as a running cost too"
        value={values.fee}
        problems={problems}
        inputmode="decimal"
        width="short"
        unit={currencySign(currency)}
      />
    )}
  </FieldRow>
);

const DayFields = ({ values, problems, currency, purpose }: FormProps) => (
  <FieldRow>
    <TextField name="day" type="date" label="Day" value={values.day} problems={problems} required />
    <TextField
      name="hours"
      label="Hours open"
      value={values.hours}
      problems={problems}
      inputmode="decimal"
      width="short"
      unit="h"
    />
    {purpose === 'give' ? null : (
      <TextField
        name="float"
        label="Float"
        hint="Change in the box in the morning"
        value={values.float}
        problems={problems}
        inputmode="decimal"
        width="short"
        unit={currencySign(currency)}
      />
    )}
  </FieldRow>
);

const fairLink = <a href="/fair">Fair</a>;

/** A new fair with its first day. */
export const NewFairPage = (props: FormProps & { readonly outlets: readonly SelectOption[] }) => (
  <Page title="A fair to go to" where={fairLink} current="fair" purpose={props.purpose} problems={props.problems}>
    <ErrorSummary problems={props.problems} />
    {props.outlets.length === 0 ? (
      <EmptyState action={{ href: '/pricing/outlets/new', words: 'Add an outlet' }}>
        A fair needs an outlet first: it says how prices are made there and what a card takes of them.
      </EmptyState>
    ) : (
      <form method="post" action="/fair">
        <Card title="The fair">
          <FairFields {...props} />
        </Card>
        <Card title="Its first day">
          <DayFields {...props} />
        </Card>
        <Actions>
          <Button>Save, then choose the pairs</Button>
        </Actions>
      </form>
    )}
  </Page>
);

export type FairPageProps = FormProps & {
  readonly fair: FairProps;
  readonly outlets: readonly SelectOption[];
  readonly days: readonly DayProps[];
  /** What was typed for another day. */
  readonly dayValues: Values;
};

/** A fair: what it is called and costs, and its days. */
export const FairPage = (props: FairPageProps) => (
  <Page title={props.fair.name} where={fairLink} current="fair" purpose={props.purpose} problems={props.problems}>
    <ErrorSummary problems={props.problems} />
    <section>
      <h2>Its days</h2>
      <ul class="plain-list spaced">
        {props.days.map(({ id, day }) => (
          <li>
            <a href={`/fair/days/${id}`}>{formatDay(day)}</a>
          </li>
        ))}
      </ul>
    </section>
    <Card title="Another day">
      <form method="post" action={`/fair/${props.fair.id}/days`}>
        <DayFields {...props} values={props.dayValues} />
        <Actions>
          <Button kind="quiet">Add the day</Button>
        </Actions>
      </form>
    </Card>
    <Card title="Change the fair">
      <form method="post" action={`/fair/${props.fair.id}`}>
        <input type="hidden" name="version" value={props.values.version ?? ''} />
        <FairFields {...props} />
        <Actions>
          <Button>Save</Button>
        </Actions>
      </form>
    </Card>
  </Page>
);

export type DayEditProps = FormProps & { readonly fair: FairProps; readonly day: DayProps; readonly hasSales: boolean };

/** A day's date, hours and float. */
export const DayEditPage = (props: DayEditProps) => (
  <Page
    title={`${props.fair.name}, ${formatDay(props.day.day)}`}
    where={
      <>
        {fairLink}, <a href={`/fair/days/${props.day.id}`}>the day</a>
      </>
    }
    current="fair"
    purpose={props.purpose}
    problems={props.problems}
  >
    <ErrorSummary problems={props.problems} />
    <form method="post" action={`/fair/days/${props.day.id}`}>
      <input type="hidden" name="version" value={props.values.version ?? ''} />
      <Card>
        <DayFields {...props} />
      </Card>
      <Actions>
        <Button>Save</Button>
        <LinkButton href={`/fair/${props.fair.id}`} kind="quiet">
          Name, outlet and table fee
        </LinkButton>
      </Actions>
    </form>
    {props.hasSales ? null : (
      <form method="post" action={`/fair/days/${props.day.id}/remove`}>
        <input type="hidden" name="version" value={props.values.version ?? ''} />
        <Button kind="remove">Take this day away</Button>
      </form>
    )}
  </Page>
);
