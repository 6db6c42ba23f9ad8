import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, FieldRow, fieldId, SelectField, TextField } from '#views/components/field.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairColours } from '#views/pages/batch/pair-parts.tsx';
import type { RoleColours } from '#views/pages/batch/types.ts';

export type TagsPageProps = {
  readonly stockCount: number;
  readonly nextCount: number;
  readonly batches: readonly { readonly id: number; readonly name: string; readonly count: number }[];
  readonly orders: readonly {
    readonly id: number;
    readonly number: number;
    readonly customer: string | null;
    readonly outlet: string;
    readonly count: number;
  }[];
  readonly kinds: readonly {
    readonly lineId: number;
    readonly words: string;
    readonly colours: readonly RoleColours[];
  }[];
  readonly outlets: readonly { readonly id: number; readonly name: string }[];
  readonly systems: readonly string[];
  readonly values: Readonly<Record<string, string>>;
  readonly purpose: Purpose;
  readonly problems?: readonly Problem[];
};

const pairsWords = (count: number) => countOf(count, 'pair', 'pairs');

function pairOptions({ stockCount, nextCount, batches, orders }: TagsPageProps) {
  const here = stockCount > 0 ? [{ value: 'stock', words: `Finished pairs that are here: ${stockCount}` }] : [];
  const next = nextCount > 0 ? [{ value: 'next', words: `Not started yet: ${pairsWords(nextCount)}` }] : [];
  const started = batches.map(({ id, name, count }) => ({
    value: `batch-${id}`,
    words: `${name}: ${pairsWords(count)}`,
  }));
  return [
    ...here,
    { value: 'kinds', words: 'So many of each kind, as entered below' },
    ...(started.length + next.length > 0 ? [{ group: 'Batches', options: [...started, ...next] }] : []),
    {
      group: 'Orders',
      options: orders.map(({ id, number, customer, outlet, count }) => ({
        value: `order-${id}`,
        words: `Order ${number}, ${customer ?? outlet}: ${pairsWords(count)}`,
      })),
    },
  ];
}

const Systems = ({ systems, values }: Pick<TagsPageProps, 'systems' | 'values'>) => (
  <fieldset class="field choices choices-row">
    <legend>Sizes on the tag</legend>
    <p class="hint">The length of the foot stands on it anyway.</p>
    <div class="choice-list">
      {systems.map((system) => (
        <label class="choice">
          <input
            type="checkbox"
            id={fieldId(`system-${system}`)}
            name={`system-${system}`}
            value="yes"
            checked={values[`system-${system}`] === 'yes'}
          />
          <span>{system}</span>
        </label>
      ))}
    </div>
  </fieldset>
);

const Kinds = ({ kinds, values, problems }: TagsPageProps) => (
  <details class="tag-kinds" open={values.pairs === 'kinds'}>
    <summary>How many of each kind</summary>
    <div class="tag-kind-list">
      {kinds.map(({ lineId, words, colours }) => (
        <TextField
          name={`count-${lineId}`}
          label={
            <span class="pair-name">
              <span>{words}</span>
              <PairColours colours={colours} />
            </span>
          }
          value={values[`count-${lineId}`]}
          inputmode="numeric"
          width="short"
          unit="pairs"
          problems={problems}
        />
      ))}
    </div>
  </details>
);

/** *Tags and care cards*: for which pairs, what on them, on which paper. */
export const TagsPage = (props: TagsPageProps) => {
  const { kinds, stockCount, batches, outlets, systems, values, purpose, problems = [] } = props;
  const isGiving = purpose === 'give';
  return (
    <Page
      title="Tags and care cards"
      where={<a href="/pricing">Costs and prices</a>}
      current="pricing"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {kinds.length === 0 && stockCount === 0 && batches.length === 0 ? (
        <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
          A tag says size, colours and price, a care card what a pair is made of and how to wash it. There is no pair
          yet to make them for.
        </EmptyState>
      ) : (
        <form method="get" action="/pricing/tags/print">
          <SelectField
            name="pairs"
            label="For which pairs"
            options={pairOptions(props)}
            value={values.pairs}
            problems={problems}
            width="long"
          />
          {kinds.length > 0 ? <Kinds {...props} /> : null}
          <ChoiceField
            name="shows"
            label="Print"
            layout="row"
            value={values.shows}
            problems={problems}
            options={[
              { value: 'both', words: 'Tag and care card, to fold' },
              { value: 'tag', words: 'Tags' },
              { value: 'care', words: 'Care cards' },
            ]}
          />
          <FieldRow>
            <TextField
              name="copies"
              label="Of each pair"
              value={values.copies}
              inputmode="numeric"
              width="short"
              problems={problems}
              required
            />
            {isGiving ? null : (
              <SelectField
                name="outlet"
                label="Price"
                blank="No price"
                options={outlets.map(({ id, name }) => ({ value: String(id), words: `as at ${name}` }))}
                value={values.outlet}
                problems={problems}
                width="medium"
              />
            )}
            <ChoiceField
              name="paper"
              label="Paper"
              layout="row"
              value={values.paper}
              problems={problems}
              options={[
                { value: 'a4', words: 'A4' },
                { value: 'letter', words: 'US letter' },
              ]}
            />
          </FieldRow>
          <FieldRow>
            <TextField
              name="name"
              label="Name of the workshop"
              hint="Printed at the top; leave it empty for none."
              value={values.name}
              maxlength={60}
              problems={problems}
            />
            <Systems systems={systems} values={values} />
          </FieldRow>
          <Actions>
            <Button>Show them to print</Button>
          </Actions>
        </form>
      )}
    </Page>
  );
};
