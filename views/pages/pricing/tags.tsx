import { countOf, formatCount } from '#core/shared/format.ts';
import { type Paging, pagingOf, rowsOn } from '#core/shared/paging.ts';
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

/** Orders offered in the list; any other is chosen on its own page. Our own choice. */
const mostOrders = 200;

function ordersOffered({ orders, values }: TagsPageProps) {
  return orders.filter(({ id }, index) => index < mostOrders || values.pairs === `order-${id}`);
}

function pairOptions(props: TagsPageProps) {
  const { stockCount, nextCount, batches, orders } = props;
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
      group: orders.length > mostOrders ? 'Orders due first; the page of an order leads here too' : 'Orders',
      options: ordersOffered(props).map(({ id, number, customer, outlet, count }) => ({
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

const kindsOnPage = 200;

/** The other pages of a long list of kinds: presses of the form, so that what was entered goes along. */
const KindPages = ({ paging: { page, pages, from, to, count } }: { readonly paging: Paging }) => {
  const press = { kind: 'quiet', name: 'kinds', formaction: '/pricing/tags', formnovalidate: true } as const;
  return (
    <div class="filter">
      <span>{`Kinds ${formatCount(from)} to ${formatCount(to)} of ${formatCount(count)}, the smallest foot first`}</span>
      {page > 1 ? (
        <Button {...press} value={String(page - 1)}>
          Previous kinds
        </Button>
      ) : null}
      {page < pages ? (
        <Button {...press} value={String(page + 1)}>
          Next kinds
        </Button>
      ) : null}
    </div>
  );
};

const Kinds = ({ kinds, values, problems = [] }: TagsPageProps) => {
  // A fault is shown where it is.
  const faulty = kinds.findIndex(({ lineId }) => problems.some(({ path }) => path === `count-${lineId}`));
  const asked = Number(/^[1-9]\d{0,6}$/.exec(values.kinds ?? '')?.[0] ?? 1);
  const page = faulty < 0 ? asked : Math.floor(faulty / kindsOnPage) + 1;
  const paging = pagingOf(kinds.length, { page, size: kindsOnPage });
  const shown = rowsOn(kinds, paging);
  const elsewhere = kinds.filter((kind) => !shown.includes(kind) && (values[`count-${kind.lineId}`] ?? '') !== '');
  return (
    <details class="tag-kinds" open={values.pairs === 'kinds' || asked > 1}>
      <summary>How many of each kind</summary>
      {elsewhere.map(({ lineId }) => (
        <input type="hidden" name={`count-${lineId}`} value={values[`count-${lineId}`]} />
      ))}
      {paging.pages > 1 ? <KindPages paging={paging} /> : null}
      <div class="tag-kind-list">
        {shown.map(({ lineId, words, colours }) => (
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
};

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
