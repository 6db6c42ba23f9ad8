import { currencySign } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { BillFields } from '#views/pages/buying/basket-fields.tsx';
import { OfferEntries, type OfferEntry } from '#views/pages/buying/offer-entries.tsx';
import { packWords } from '#views/pages/buying/shopping-list.tsx';
import type { ShopEntry } from '#views/pages/buying/shops-page.tsx';

export type OrderedPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly list: 'likely' | 'safe';
  /** Where it was ordered; null while that is to be chosen. */
  readonly shop: Pick<ShopEntry['supplier'], 'id' | 'name' | 'deliveryDays'> | null;
  readonly offers: ShopEntry['offers'];
  /** To choose from. */
  readonly shops: readonly { readonly id: number; readonly name: string }[];
  readonly showsAll: boolean;
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

const OfferFields = ({
  entry,
  currency,
  values,
  problems = [],
}: Pick<OrderedPageProps, 'currency' | 'values' | 'problems'> & { readonly entry: OfferEntry }) => {
  const { offer } = entry;
  const field = (name: string) => ({ name: `${name}-${offer.id}`, value: values[`${name}-${offer.id}`], problems });
  return (
    <FieldRow>
      <TextField {...field('packs')} label="Ordered" inputmode="numeric" unit={`× ${packWords(offer)}`} width="short" />
      <TextField
        {...field('price')}
        label="One costs"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
      />
    </FieldRow>
  );
};

/** Writes down what was ordered at a shop, from the list's basket. */
export const OrderedPage = (props: OrderedPageProps) => {
  const { purpose, currency, list, shop, offers, shops, showsAll, values, problems = [] } = props;
  const field = (name: string) => ({ name, value: values[name], problems });
  return (
    <Page
      title={shop ? `Ordered at ${shop.name}` : 'Ordered: where?'}
      where={<a href="/buying">Yarn to buy</a>}
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      {shop === null ? (
        shops.length === 0 ? (
          <EmptyState action={{ href: '/buying/shops/new', words: 'Add a shop' }}>No shop is entered yet.</EmptyState>
        ) : (
          <ul class="plain-list spaced">
            {shops.map(({ id, name }) => (
              <li>
                <a href={`/buying/purchases/new?shop=${id}&list=${list}`}>{name}</a>
              </li>
            ))}
          </ul>
        )
      ) : offers.length === 0 ? (
        <EmptyState action={{ href: `/buying/prices?shop=${shop.id}`, words: 'Enter a price' }}>
          {shop.name} has no prices yet, so nothing can be ordered there.
        </EmptyState>
      ) : (
        <form method="post" action="/buying/purchases/new">
          <ErrorSummary problems={problems} />
          <input type="hidden" name="shop" value={String(shop.id)} />
          <input type="hidden" name="list" value={list} />
          <input type="hidden" name="all" value={showsAll ? 'yes' : ''} />
          <OfferEntries
            {...{ shop, offers, values, problems }}
            hint="The list buys nothing here. Open what you ordered."
            fields={(entry) => <OfferFields entry={entry} currency={currency} values={values} problems={problems} />}
          />
          <BillFields {...{ currency, values, problems }} />
          <FieldRow>
            <TextField {...field('orderedDay')} label="Ordered on" type="date" required />
            <TextField {...field('expectedDay')} label="Here by" hint="Pairs may begin then" type="date" />
          </FieldRow>
          <Actions>
            <Button>It is ordered</Button>
            <LinkButton href="/buying" kind="quiet">
              Back to yarn to buy
            </LinkButton>
          </Actions>
          {showsAll ? null : (
            <p>
              Ordered something else too?{' '}
              <a href={`/buying/purchases/new?shop=${shop.id}&list=${list}&all=yes`}>Show all that {shop.name} sells</a>
            </p>
          )}
        </form>
      )}
    </Page>
  );
};
