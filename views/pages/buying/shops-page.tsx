import { countOf, formatCents, formatCount, formatPercent } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { priceMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { packWords } from '#views/pages/buying/shopping-list.tsx';
import { hexesOf } from '#views/pages/shelf/yarn-words.ts';

export type ShopEntry = {
  readonly supplier: {
    readonly id: number;
    readonly name: string;
    readonly shippingCents: number;
    readonly freeFromCents: number | null;
    readonly minimumCents: number;
    readonly deliveryDays: number;
    readonly breaks: readonly { readonly fromCents: number; readonly offRatio: number }[];
  };
  readonly offers: readonly {
    readonly offer: {
      readonly id: number;
      readonly ballMg: number;
      readonly ballsPerPack: number;
      readonly priceCents: number;
      readonly stockPacks: number | null;
      readonly breaks: readonly { readonly fromPacks: number; readonly priceCents: number }[];
    };
    readonly colour: { readonly name: string; readonly swatchHex: string };
    readonly yarn: { readonly name: string };
  }[];
};

export type ShopsPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly shops: readonly ShopEntry[];
  /** Whether there is a colour that a price could be for. */
  readonly hasColours: boolean;
};

/** What a shop asks beside its prices, in one line. */
function termsOf({ supplier }: ShopEntry, currency: string): string {
  const { shippingCents, freeFromCents, minimumCents, deliveryDays, breaks } = supplier;
  const postage = shippingCents === 0 ? 'no postage' : `${formatCents(shippingCents, currency)} postage`;
  return [
    freeFromCents === null || shippingCents === 0
      ? postage
      : `${postage}, none from ${formatCents(freeFromCents, currency)} on`,
    ...breaks.map(
      ({ fromCents, offRatio }) => `${formatPercent(offRatio)} off from ${formatCents(fromCents, currency)} on`,
    ),
    minimumCents > 0 ? `orders from ${formatCents(minimumCents, currency)}` : null,
    deliveryDays === 0 ? 'here the same day' : `here in ${countOf(deliveryDays, 'day', 'days')}`,
  ]
    .filter(Boolean)
    .join('; ');
}

const isFolded = () => true;

const ShopSection = ({ shop, currency }: { readonly shop: ShopEntry; readonly currency: string }) => (
  <section id={`shop-${shop.supplier.id}`}>
    <h2>{shop.supplier.name}</h2>
    <p class="soft">{termsOf(shop, currency)}</p>
    {shop.offers.length === 0 ? (
      <p>No prices yet.</p>
    ) : (
      <DataTable
        caption={`Prices of ${shop.supplier.name}`}
        isCaptionHidden
        columns={[
          {
            name: 'Colour',
            kind: 'heading',
            cell: ({ colour, yarn }) => (
              <>
                <Chip colours={hexesOf(colour.swatchHex)} name={colour.name} /> <small>{yarn.name}</small>
              </>
            ),
          },
          { name: 'Sold as', kind: 'wide', cell: ({ offer }) => packWords(offer) },
          {
            name: 'Price',
            kind: 'number',
            isFolded,
            cell: ({ offer, colour }) => (
              <>
                <a href={`/buying/offers/${offer.id}`} title={`Change the price of ${colour.name}`}>
                  {formatCents(offer.priceCents, currency)}
                </a>
                {offer.breaks.map(({ fromPacks, priceCents }) => (
                  <>
                    <br />
                    <small>
                      from {formatCount(fromPacks)} on {formatCents(priceCents, currency)}
                    </small>
                  </>
                ))}
              </>
            ),
          },
          {
            name: `For ${priceMass().words}`,
            kind: 'number',
            isFolded,
            cell: ({ offer }) =>
              formatCents(
                (offer.priceCents * priceMass().grams * 1000) / (offer.ballMg * offer.ballsPerPack),
                currency,
              ),
          },
          {
            name: 'In stock',
            kind: 'number',
            isFolded,
            cell: ({ offer }) => (offer.stockPacks === null ? 'not said' : countOf(offer.stockPacks, 'pack', 'packs')),
          },
        ]}
        rows={shop.offers}
        fold={{
          rowName: ({ colour, offer }) => `${colour.name}, ${packWords(offer)}`,
          words: ({ offer }) => formatCents(offer.priceCents, currency),
        }}
      />
    )}
    <p class="no-print">
      <a href={`/buying/shops/${shop.supplier.id}`}>Change {shop.supplier.name}</a> or{' '}
      <a href={`/buying/prices?shop=${shop.supplier.id}`}>enter a price</a>
    </p>
  </section>
);

/** Where yarn is bought, and what it costs there. */
export const ShopsPage = ({ purpose, currency, shops, hasColours }: ShopsPageProps) => (
  <Page
    title={shops.length === 0 ? 'Shops' : `${countOf(shops.length, 'shop', 'shops')} to buy yarn from`}
    where={<a href="/buying">Yarn to buy</a>}
    current="buying"
    purpose={purpose}
  >
    {shops.length === 0 ? (
      <EmptyState action={{ href: '/buying/shops/new', words: 'Add a shop' }}>
        No shop is entered yet. With shops and their prices the list finds the cheapest whole balls.
      </EmptyState>
    ) : (
      <Actions>
        {hasColours ? <LinkButton href="/buying/prices">Enter a price</LinkButton> : null}
        {hasColours ? (
          <LinkButton href="/buying/prices/import" kind="quiet">
            Import a table of prices
          </LinkButton>
        ) : null}
        <LinkButton href="/buying/shops/new" kind="quiet">
          Add a shop
        </LinkButton>
        {hasColours ? null : (
          <LinkButton href="/shelf/yarns/new" kind="quiet">
            Add a yarn
          </LinkButton>
        )}
      </Actions>
    )}
    {shops.map((shop) => (
      <ShopSection shop={shop} currency={currency} />
    ))}
  </Page>
);
