import { countOf, currencySign, formatCents } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, type SelectOption, TextField, UnitsField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatLength, unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairColours, type PairProps } from '#views/pages/pricing/price-words.tsx';

type MemberProps = {
  readonly lineId: number;
  readonly size: string;
  readonly colours: PairProps['colours'];
  readonly costCents: number;
  readonly hourWorthCents: number | null;
  readonly isBelowWage: boolean;
  readonly isBelowMoneyBack: boolean;
};

export type GroupProps = {
  readonly group: {
    readonly id: number;
    readonly version: number;
    readonly name: string;
    readonly fromMm: number;
    readonly toMm: number;
    readonly priceCents: number;
  };
  readonly outlet: { readonly name: string } | null;
  readonly styleName: string;
  /** The one whose hour earns least first. */
  readonly members: readonly MemberProps[];
};

/** "an hour earns €8.10", in the tone that it deserves. */
export const Hour = ({ member, currency }: { readonly member: MemberProps; readonly currency: string }) => {
  if (member.isBelowMoneyBack) return <span class="tone-late">nothing, it is a loss</span>;
  const hour = member.hourWorthCents === null ? '–' : formatCents(member.hourWorthCents, currency);
  return member.isBelowWage ? <span class="tone-caution">{hour}, below your wage</span> : <span>{hour}</span>;
};

export type GroupsPageProps = {
  readonly groups: readonly GroupProps[];
  readonly currency: string;
  readonly purpose: Purpose;
};

/** One price for several sizes: each group with the size that earns least at it. */
export const GroupsPage = ({ groups, currency, purpose }: GroupsPageProps) => (
  <Page
    title={groups.length > 1 ? `${groups.length} prices for several sizes each` : 'One price for several sizes'}
    where={<a href="/pricing">Costs and prices</a>}
    current="pricing"
    purpose={purpose}
  >
    {groups.length === 0 ? (
      <EmptyState action={{ href: '/pricing/groups/new', words: 'Set a price for several sizes' }}>
        A stall is easier with few prices. Give a run of sizes one price, and see which size earns least at it.
      </EmptyState>
    ) : (
      <>
        <DataTable
          caption="Prices for several sizes"
          isCaptionHidden
          columns={[
            {
              name: 'Group',
              kind: 'heading',
              cell: ({ group }) => <a href={`/pricing/groups/${group.id}`}>{group.name}</a>,
            },
            { name: 'At', cell: ({ outlet }) => outlet?.name ?? '–' },
            { name: 'Price', kind: 'number', cell: ({ group }) => formatCents(group.priceCents, currency) },
            {
              name: 'Feet',
              cell: ({ group }) => `${formatLength(group.fromMm)} to ${formatLength(group.toMm)}`,
            },
            {
              name: 'Earns least',
              kind: 'wide',
              cell: ({ members }) => {
                const least = members[0];
                if (!least) return 'no pair on order is in it';
                return (
                  <>
                    <a href={`/pricing/pair/${least.lineId}`}>{least.size}</a>: an hour earns{' '}
                    <Hour member={least} currency={currency} />
                  </>
                );
              },
            },
          ]}
          rows={groups}
        />
        <p class="soft">
          A group goes by the length of the foot, whoever’s it is: a child’s EU 35 ({formatLength(216)}) is in a group
          for women from {formatLength(210)} too. Where two fit, the one for fewer sizes counts, so that a group of
          their own keeps children’s apart. A pair in no group has the outlet’s own price.
        </p>
        <Actions>
          <LinkButton href="/pricing/groups/new" kind="quiet">
            Set another
          </LinkButton>
        </Actions>
      </>
    )}
  </Page>
);

export type GroupPageProps = {
  /** Null for a new one. */
  readonly shown: GroupProps | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly outlets: readonly SelectOption[];
  readonly styles: readonly SelectOption[];
  readonly bands: readonly SelectOption[];
  readonly currency: string;
  readonly purpose: Purpose;
};

const Fields = ({ shown, values, problems, outlets, styles, bands, currency }: GroupPageProps) => {
  const units = unitsOfForm(values);
  const box = (name: string) => ({ name, value: values[name], problems, inputmode: 'decimal' as const });
  return (
    <Card>
      <div class="stack">
        <UnitsField units={units} />
        <TextField
          name="name"
          label="Name"
          hint="As you would say it: women, small children"
          value={values.name}
          problems={problems}
          required
          maxlength={80}
        />
        <FieldRow>
          <SelectField name="outletId" label="At" options={outlets} value={values.outletId} problems={problems} />
          {styles.length > 1 ? (
            <SelectField name="styleId" label="Style" options={styles} value={values.styleId} problems={problems} />
          ) : (
            <input type="hidden" name="styleId" value={styles[0]?.value ?? ''} />
          )}
        </FieldRow>
        <FieldRow>
          <SelectField
            name="fromBand"
            label="From size"
            options={bands}
            blank="by foot length"
            value={values.fromBand}
            problems={problems}
          />
          <SelectField
            name="toBand"
            label="to size"
            options={bands}
            blank="by foot length"
            value={values.toBand}
            problems={problems}
          />
        </FieldRow>
        <FieldRow>
          <TextField
            {...box('from')}
            label="or feet from"
            unit={unitOf('lengthMm', units)}
            width="short"
            hint={shown ? undefined : 'Only where no size is chosen above.'}
          />
          <TextField {...box('to')} label="to" unit={unitOf('lengthMm', units)} width="short" />
        </FieldRow>
        <TextField {...box('price')} label="Price of a pair" unit={currencySign(currency)} width="short" required />
      </div>
    </Card>
  );
};

/** A group of sizes to price, and what each of its pairs on order earns. */
export const GroupPage = (props: GroupPageProps) => {
  const { shown, values, problems, currency, purpose } = props;
  const least = shown?.members[0];
  return (
    <Page
      title={
        shown
          ? `${shown.group.name}: ${formatCents(shown.group.priceCents, currency)} a pair`
          : 'One price for several sizes'
      }
      where={<a href="/pricing/groups">Prices for several sizes</a>}
      current="pricing"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {least && shown ? (
        <p>
          <a href={`/pricing/pair/${least.lineId}`}>{least.size}</a> earns least of{' '}
          {countOf(shown.members.length, 'pair', 'kinds of pair')} on order: an hour earns{' '}
          <strong>
            <Hour member={least} currency={currency} />
          </strong>
          .
        </p>
      ) : null}
      <form method="post" action={shown ? `/pricing/groups/${shown.group.id}` : '/pricing/groups'}>
        {shown ? <input type="hidden" name="version" value={values.version ?? ''} /> : null}
        <Fields {...props} />
        <Actions>
          <Button>{shown ? 'Save the price' : 'Set the price'}</Button>
        </Actions>
      </form>
      {shown && shown.members.length > 0 ? (
        <DataTable
          caption="Pairs on order in this group"
          columns={[
            { name: 'Pair', kind: 'heading', cell: (row) => <a href={`/pricing/pair/${row.lineId}`}>{row.size}</a> },
            { name: 'Colours', kind: 'wide', cell: (row) => <PairColours colours={row.colours} /> },
            { name: 'Costs me', kind: 'number', cell: (row) => formatCents(row.costCents, currency) },
            { name: 'An hour earns', kind: 'number', cell: (row) => <Hour member={row} currency={currency} /> },
          ]}
          rows={shown.members}
        />
      ) : null}
      {shown ? (
        <form method="post" action={`/pricing/groups/${shown.group.id}/remove`}>
          <input type="hidden" name="version" value={String(shown.group.version)} />
          <p class="soft">Without it each of these sizes has the outlet’s own price again.</p>
          <Actions>
            <Button kind="remove">Take this price away</Button>
          </Actions>
        </form>
      ) : null}
    </Page>
  );
};
