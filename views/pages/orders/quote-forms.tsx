import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { Page } from '#views/layout.tsx';
import type { FieldsProps } from '#views/pages/orders/fields.tsx';
import { type Difference, LineCards, OthersChange } from '#views/pages/orders/new.tsx';
import { QuoteFields, type QuoteFieldsProps } from '#views/pages/orders/quote-fields.tsx';

/** Something of the order that a form was filled in from. */
type Also = { readonly id: number; readonly words: string; readonly isTicked: boolean };

export type NewQuotePageProps = FieldsProps &
  QuoteFieldsProps & {
    /** The order that the form was filled in from; its first line is in the form. */
    readonly likeOrder: { readonly id: number; readonly title: string } | null;
    /** Its further lines, taken along while they are ticked. */
    readonly alsoLines: readonly Also[];
    /** Its extras, likewise. */
    readonly alsoExtras: readonly Also[];
  };

const AlsoFields = ({
  title,
  name,
  also,
}: {
  readonly title: string;
  readonly name: string;
  readonly also: readonly Also[];
}) =>
  also.length === 0 ? null : (
    <Card title={title}>
      <fieldset class="field choices choices-column">
        <legend class="visually-hidden">{title}</legend>
        <div class="choice-list">
          {also.map(({ id, words, isTicked }) => (
            <label class="choice">
              <input type="checkbox" name={name} value={String(id)} checked={isTicked} />
              <span>{words}</span>
            </label>
          ))}
        </div>
      </fieldset>
    </Card>
  );

/** A new quote: a pair, then for whom and by when. */
export const NewQuotePage = (props: NewQuotePageProps) => {
  const { names, problems, likeOrder, alsoLines } = props;
  return (
    <Page
      title="New quote"
      where={likeOrder === null ? 'Orders' : `The same as ${likeOrder.title}`}
      current="orders"
      purpose={names.purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {names.colours.length === 0 ? (
        <EmptyState action={{ href: '/shelf', words: 'Put a yarn on the shelf' }}>
          A quote names the colours of its yarn, and there is no yarn yet.
        </EmptyState>
      ) : (
        <form method="post" action="/orders/quotes" class="order-form">
          {likeOrder === null ? null : <input type="hidden" name="likeOrder" value={likeOrder.id} />}
          <LineCards {...props} />
          <AlsoFields title="And these pairs too" name="also" also={alsoLines} />
          <AlsoFields title="And these extras" name="alsoExtra" also={props.alsoExtras} />
          <Card title="For whom and when">
            <QuoteFields {...props} />
          </Card>
          <Actions>
            <Button>Show price and day</Button>
            <Button kind="quiet" name="next" value="another">
              Save it, and another pair
            </Button>
            <LinkButton href="/orders/quotes" kind="quiet">
              Leave it
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};

export type EditQuotePageProps = QuoteFieldsProps & {
  readonly orderId: number;
  readonly title: string;
  readonly version: number;
  readonly differences?: readonly Difference[] | null;
};

/** All of a quote but its pairs. */
export const EditQuotePage = (props: EditQuotePageProps) => {
  const { names, problems, orderId, title, version, differences = null } = props;
  return (
    <Page
      title={`Change ${title.replace(/^Quote/, 'quote')}`}
      where="Orders"
      current="orders"
      purpose={names.purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <OthersChange differences={differences} />
      <form method="post" action={`/orders/${orderId}/quote`} class="order-form">
        <input type="hidden" name="version" value={version} />
        <Card>
          <QuoteFields {...props} />
        </Card>
        <Actions>
          <Button>Save the quote</Button>
          <LinkButton href={`/orders/${orderId}/quote`} kind="quiet">
            Leave it
          </LinkButton>
        </Actions>
      </form>
    </Page>
  );
};
