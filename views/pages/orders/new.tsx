import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { Page } from '#views/layout.tsx';
import {
  ColourFields,
  type FieldsProps,
  MoreFields,
  OrderFields,
  PostFields,
  QuantityField,
  StyleField,
} from '#views/pages/orders/fields.tsx';
import { SizeFields } from '#views/pages/orders/size-fields.tsx';

export type Difference = { readonly name: string; readonly theirs: string; readonly yours: string };

type OthersChangeProps = {
  readonly differences: readonly Difference[] | null;
  /** The order was cancelled meanwhile. */
  readonly isCancelled?: boolean;
};

/** What somebody else has saved since this form was opened. */
export const OthersChange = ({ differences, isCancelled = false }: OthersChangeProps) => {
  if (differences === null) return null;
  const title = isCancelled
    ? 'This order was cancelled while you had it open'
    : 'Somebody else changed this while you had it open';
  const isSame = differences.length === 0;
  return (
    <Caution title={title}>
      {isCancelled
        ? 'What you typed is still below. Saving again keeps it with the order, which stays cancelled until that is taken back on its page. '
        : isSame
          ? 'What is stored now is just what you typed. Save again to keep it.'
          : 'This is stored now; what you typed is still below. Saving again puts yours in its place.'}
      {isSame ? null : (
        <dl class="differences">
          {differences.map(({ name, theirs, yours }) => (
            <div>
              <dt>{name}</dt>
              <dd>
                now “{theirs}”, yours “{yours}”
              </dd>
            </div>
          ))}
        </dl>
      )}
    </Caution>
  );
};

/** The line that the form was filled in from, so that what it cannot show is kept. */
type LikeProps = { readonly likeId?: number | null | undefined };

/** Everything that says one pair. */
export const LineCards = (props: FieldsProps) => (
  <div class="columns">
    <Card title="Size">
      <SizeFields {...props} />
    </Card>
    <Card title={props.names.styles.length > 1 ? 'Style and colours' : 'Colours'}>
      <StyleField {...props} />
      <ColourFields {...props} />
      <QuantityField {...props} />
      <MoreFields {...props} />
    </Card>
  </div>
);

/** A new order: its first line, then where it goes. */
export const NewOrderPage = (props: FieldsProps & LikeProps) => {
  const { names, problems, likeId = null } = props;
  return (
    <Page title="New order" where="Orders" current="orders" purpose={names.purpose} problems={problems}>
      <ErrorSummary problems={problems} />
      {names.colours.length === 0 ? (
        <EmptyState action={{ href: '/shelf', words: 'Put a yarn on the shelf' }}>
          An order names the colours of its yarn, and there is no yarn yet.
        </EmptyState>
      ) : (
        <form method="post" action="/orders" class="order-form">
          {likeId === null ? null : <input type="hidden" name="like" value={likeId} />}
          <LineCards {...props} />
          <Card title="For whom and when">
            <div class="order-details">
              <OrderFields {...props} />
            </div>
            <PostFields {...props} />
          </Card>
          <Actions>
            <Button>Save the order</Button>
            <LinkButton href="/orders" kind="quiet">
              Leave it
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};

export type LinePageProps = FieldsProps &
  LikeProps & {
    readonly title: string;
    readonly where: string;
    readonly action: string;
    readonly backHref: string;
    readonly version?: number | undefined;
    readonly saveWords: string;
    readonly differences?: readonly Difference[] | null;
    /** Takes the line away, where it may be. */
    readonly removeAction?: string | null;
  };

/** The form of one line, new or there already. */
export const LineFormPage = (props: LinePageProps) => {
  const { names, problems, title, where, action, backHref, version, saveWords } = props;
  const { differences = null, likeId = null, removeAction = null } = props;
  return (
    <Page title={title} where={where} current="orders" purpose={names.purpose} problems={problems}>
      <ErrorSummary problems={problems} />
      <OthersChange differences={differences} />
      <form method="post" action={action} class="order-form">
        {version === undefined ? null : <input type="hidden" name="version" value={version} />}
        {likeId === null ? null : <input type="hidden" name="like" value={likeId} />}
        <LineCards {...props} />
        <Actions>
          <Button>{saveWords}</Button>
          <LinkButton href={backHref} kind="quiet">
            Leave it
          </LinkButton>
          {removeAction === null ? null : (
            <Button kind="remove" formaction={removeAction} formnovalidate>
              Take it out
            </Button>
          )}
        </Actions>
      </form>
    </Page>
  );
};

export type EditOrderPageProps = FieldsProps & {
  readonly orderId: number;
  readonly title: string;
  readonly version: number;
  readonly differences?: readonly Difference[] | null;
  readonly isCancelled?: boolean;
};

/** Customer, outlet, day, reference and state of an order. */
export const EditOrderPage = (props: EditOrderPageProps) => {
  const { names, problems, orderId, title, version, differences = null, isCancelled = false } = props;
  return (
    <Page
      title={`Change ${title.replace(/^Order/, 'order')}`}
      where="Orders"
      current="orders"
      purpose={names.purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <OthersChange differences={differences} isCancelled={isCancelled} />
      <form method="post" action={`/orders/${orderId}`} class="order-form">
        <input type="hidden" name="version" value={version} />
        <Card>
          <div class="order-details">
            <OrderFields {...props} />
          </div>
          <PostFields {...props} />
        </Card>
        <Actions>
          <Button>Save the order</Button>
          <LinkButton href={`/orders/${orderId}`} kind="quiet">
            Leave it
          </LinkButton>
        </Actions>
      </form>
    </Page>
  );
};
