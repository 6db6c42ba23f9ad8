import { countOf } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import {
  ChoiceField,
  FieldRow,
  SelectField,
  type SelectGroup,
  type SelectOption,
  TextField,
} from '#views/components/field.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { OrderLink, PairName } from '#views/pages/batch/pair-parts.tsx';
import { PairSteps } from '#views/pages/batch/started-page.tsx';
import type { PairView } from '#views/pages/batch/types.ts';

export type StockFormProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly styles: readonly SelectOption[];
  readonly systems: readonly string[];
  readonly roles: readonly { readonly name: string; readonly words: string }[];
  readonly colours: readonly SelectGroup[];
};

export type StockPageProps = StockFormProps & {
  readonly purpose: Purpose;
  readonly paging: Paging;
  readonly pageHref: PageHref;
  readonly free: readonly PairView[];
  readonly forOrders: readonly PairView[];
  readonly seconds: readonly PairView[];
  readonly inShops: readonly { readonly outletId: number; readonly name: string; readonly count: number }[];
};

const leaveSteps = [
  { step: 'leave sold', words: 'Sold' },
  { step: 'leave given', words: 'Given' },
  { step: 'leave lost', words: 'Lost' },
];

function columnsFor(
  steps: (pair: PairView) => Parameters<typeof PairSteps>[0]['steps'],
  back: string,
): readonly Column<PairView>[] {
  return [
    { name: 'Pair', kind: 'heading', cell: (pair) => <PairName pair={pair} /> },
    { name: 'Cuff', cell: (pair) => (pair.cuffStitches === null ? 'none' : 'with a cuff') },
    { name: 'For', kind: 'wide', cell: (pair) => (pair.order ? <OrderLink order={pair.order} /> : 'free') },
    {
      name: 'Note',
      kind: 'wide',
      cell: (pair) => <PairSteps pair={pair} back={back} steps={steps(pair)} />,
    },
  ];
}

const StockTable = ({
  title,
  pairs,
  steps,
  back,
}: {
  readonly title: string;
  readonly pairs: readonly PairView[];
  readonly steps: Parameters<typeof columnsFor>[0];
  readonly back: string;
}) =>
  pairs.length === 0 ? null : (
    <section>
      <h2>{title}</h2>
      <DataTable
        caption={title}
        isCaptionHidden
        columns={columnsFor(steps, back)}
        rows={pairs}
        rowId={(pair) => `pair-${pair.id}`}
      />
    </section>
  );

const StockForm = ({ values, problems, styles, systems, roles, colours }: StockFormProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  return (
    <form method="post" action="/batch/stock">
      {styles.length > 1 ? (
        <SelectField {...field('style')} label="Style" options={styles} required />
      ) : (
        <input type="hidden" name="style" value={styles[0]?.value ?? ''} />
      )}
      <ChoiceField
        {...field('person')}
        label="Whose size"
        layout="row"
        options={[
          { value: 'woman', words: 'woman' },
          { value: 'man', words: 'man' },
          { value: 'child', words: 'child' },
          { value: 'unknown', words: 'not known' },
        ]}
      />
      <FieldRow>
        <SelectField
          {...field('system')}
          label="System"
          width="short"
          options={systems.map((system) => ({ value: system, words: system }))}
        />
        <TextField {...field('label')} label="Size" hint="Like 38" width="short" maxlength={20} required />
        <TextField {...field('quantity')} label="How many" inputmode="numeric" unit="pairs" width="short" required />
      </FieldRow>
      <FieldRow>
        {roles.map(({ name, words }, index) => (
          <SelectField
            {...field(`colour-${name}`)}
            label={`Colour of the ${words.toLowerCase()}`}
            options={colours}
            blank={index === 0 ? 'Choose a colour' : `As the ${roles[0]!.words.toLowerCase()}`}
            required={index === 0}
          />
        ))}
      </FieldRow>
      <FieldRow>
        <SelectField
          {...field('cuff')}
          label="Cuff"
          options={[
            { value: 'short', words: 'the usual short cuff' },
            { value: 'none', words: 'none' },
          ]}
        />
        <SelectField
          {...field('fit')}
          label="Fit"
          options={[
            { value: 'snug', words: 'snug' },
            { value: 'usual', words: 'usual' },
            { value: 'roomy', words: 'roomy' },
          ]}
        />
        <SelectField
          {...field('quality')}
          label="Quality"
          options={[
            { value: 'good', words: 'good' },
            { value: 'second', words: 'with a flaw' },
          ]}
        />
      </FieldRow>
      <Actions>
        <Button>Add them</Button>
        <LinkButton href="/batch" kind="quiet">
          Back to the batch
        </LinkButton>
      </Actions>
    </form>
  );
};

/** Finished pairs that have not left: free, made for an order, or flawed; and pairs that were there before. */
export const StockPage = (props: StockPageProps) => {
  const { purpose, paging, pageHref, free, forOrders, seconds, problems, colours, styles } = props;
  const { count } = paging;
  const back = pageHref(paging);
  const canAdd = colours.length > 0 && styles.length > 0;
  return (
    <Page
      title={count === 0 ? 'Finished pairs' : `${countOf(count, 'finished pair', 'finished pairs')} here`}
      where={<a href="/batch">Batch</a>}
      current="batch"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {count === 0 ? (
        <EmptyState action={canAdd ? undefined : { href: '/shelf/yarns/new', words: 'Add a yarn' }}>
          {canAdd
            ? 'No finished pair is here. Pairs you knitted before can be added below; orders that they fit then need no knitting.'
            : 'No finished pair is here. To add some, the shelf needs the yarn they are knitted in.'}
        </EmptyState>
      ) : (
        <p class="no-print">
          <a href="/pricing/tags?pairs=stock">Tags and care cards for them</a>
        </p>
      )}
      <Pager paging={paging} noun="Pairs" href={pageHref} />
      <StockTable
        back={back}
        title="Free for any order they fit"
        pairs={free}
        steps={() => [...leaveSteps, { step: 'second', words: 'Has a flaw' }]}
      />
      <StockTable
        back={back}
        title="Made for an order"
        pairs={forOrders}
        steps={() => [
          { step: 'leave handed over', words: 'Handed over' },
          { step: 'let go', words: 'Free for others' },
          { step: 'second', words: 'Has a flaw' },
        ]}
      />
      <StockTable
        back={back}
        title="With a flaw"
        pairs={seconds}
        steps={() => [...leaveSteps, { step: 'good', words: 'Good after all' }]}
      />
      <Pager paging={paging} noun="Pairs" href={pageHref} isBelow />
      {props.inShops.map(({ outletId, name, count: pairsThere }) => (
        <p class="soft">
          {countOf(pairsThere, 'pair stands', 'pairs stand')} in <a href={`/pricing/shops/${outletId}`}>{name}</a>:
          counted back there.
        </p>
      ))}
      {canAdd ? (
        <Card title="Pairs that were there before">
          <StockForm {...props} />
        </Card>
      ) : null}
    </Page>
  );
};
