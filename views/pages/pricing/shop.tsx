import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import type { ShopAccount } from '#core/pricing/shop-account.ts';
import type { Day } from '#core/shared/calendar.ts';
import { countOf, currencySign, formatCents, formatDay, formatPercent } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { CheckField, ChoiceField, FieldRow, TextField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairName } from '#views/pages/batch/pair-parts.tsx';
import type { RoleColours } from '#views/pages/batch/types.ts';
import { owedWords, type ShopProps, termsWords } from '#views/pages/pricing/shops.tsx';

type ShopPairProps = {
  readonly pairId: number;
  readonly version: number;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly quality: 'good' | 'second';
};

export type PlacementProps = ShopPairProps & {
  readonly placementId: number;
  readonly placementVersion: number;
  readonly placedDay: Day;
  readonly soldDay: Day | null;
  readonly backDay: Day | null;
  readonly priceCents: number;
  readonly shopCents: number;
  readonly oursCents: number;
};

export type ShopPageProps = {
  readonly shop: ShopProps;
  readonly account: ShopAccount;
  readonly standing: readonly PlacementProps[];
  readonly counted: readonly PlacementProps[];
  readonly payments: readonly {
    readonly id: number;
    readonly version: number;
    readonly day: Day;
    readonly cents: number;
  }[];
  readonly toPlace: readonly (ShopPairProps & {
    readonly priceCents: number | null;
    readonly orderNumber: number | null;
  })[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
  readonly purpose: Purpose;
};

const NamedPair = ({ pair }: { readonly pair: ShopPairProps }) => (
  <PairName pair={pair.quality === 'second' ? { ...pair, sizeWords: `${pair.sizeWords}, with a flaw` } : pair} />
);

const Standing = ({ shop, standing, values, problems, currency }: ShopPageProps) => {
  const money = (cents: number) => formatCents(cents, currency);
  if (standing.length === 0) return null;
  return (
    <section id="standing">
      <h2>What stands there</h2>
      <form method="post" action={`/pricing/shops/${shop.id}/count`}>
        <DataTable
          caption="Pairs in the shop"
          isCaptionHidden
          columns={[
            { name: 'Pair', kind: 'heading', cell: (pair) => <NamedPair pair={pair} /> },
            { name: 'Since', cell: (pair) => formatDayShort(pair.placedDay) },
            { name: 'Price', kind: 'number', cell: (pair) => money(pair.priceCents) },
            { name: 'Ours of it', kind: 'number', cell: (pair) => money(pair.oursCents) },
            {
              name: 'Counted',
              kind: 'wide',
              cell: (pair) => (
                <>
                  <input type="hidden" name={`version-${pair.placementId}`} value={String(pair.placementVersion)} />
                  <ChoiceField
                    name={`what-${pair.placementId}`}
                    label={<span class="visually-hidden">What became of {pair.sizeWords}</span>}
                    layout="row"
                    options={[
                      { value: 'still', words: 'still there' },
                      { value: 'sold', words: 'sold' },
                      { value: 'back', words: 'came back' },
                    ]}
                    value={values[`what-${pair.placementId}`] ?? 'still'}
                    problems={problems}
                  />
                </>
              ),
            },
          ]}
          rows={standing}
        />
        <TextField name="countDay" type="date" label="Counted on" value={values.countDay} problems={problems} />
        <Actions>
          <Button>Note the count</Button>
        </Actions>
      </form>
    </section>
  );
};

const Place = ({ shop, toPlace, values, problems, currency }: ShopPageProps) => (
  <section id="place">
    <h2>Place pairs in the shop</h2>
    {toPlace.length === 0 ? (
      <p>
        No finished pair is free for this shop. <a href="/batch/stock">Finished pairs</a>
      </p>
    ) : (
      <form method="post" action={`/pricing/shops/${shop.id}/place`}>
        <p class="soft">
          Price and share are kept as they are on that day: the shop keeps {formatPercent(shop.shopShareRatio)}.
        </p>
        <DataTable
          caption="Finished pairs that may go there"
          isCaptionHidden
          columns={[
            {
              name: 'Pair',
              kind: 'heading',
              cell: (pair) => (
                <>
                  <input type="hidden" name={`version-${pair.pairId}`} value={String(pair.version)} />
                  <CheckField
                    name={`place-${pair.pairId}`}
                    label={<NamedPair pair={pair} />}
                    isChecked={values[`place-${pair.pairId}`] === 'yes'}
                    problems={problems}
                  />
                </>
              ),
            },
            {
              name: 'Made for',
              cell: (pair) => (pair.orderNumber === null ? 'no order' : `order ${pair.orderNumber}`),
            },
            {
              name: 'Price in the shop',
              kind: 'wide',
              cell: (pair) => (
                <TextField
                  name={`price-${pair.pairId}`}
                  label={<span class="visually-hidden">Price of {pair.sizeWords}</span>}
                  value={values[`price-${pair.pairId}`]}
                  problems={problems}
                  inputmode="decimal"
                  width="short"
                  unit={currencySign(currency)}
                />
              ),
            },
          ]}
          rows={toPlace}
        />
        <TextField name="day" type="date" label="Placed on" value={values.day} problems={problems} />
        <Actions>
          <Button kind="quiet">Place them</Button>
        </Actions>
      </form>
    )}
  </section>
);

const Payments = ({ shop, account, payments, values, problems, currency }: ShopPageProps) => {
  const money = (cents: number) => formatCents(cents, currency);
  return (
    <section id="paid">
      <h2>What the shop paid</h2>
      <p>
        Sold for {money(account.soldCents)}, of which the shop keeps {money(account.shopCents)} and{' '}
        {money(account.oursCents)} {account.oursCents === 1 ? 'is' : 'are'} yours; paid {money(account.paidCents)}.
      </p>
      {payments.length > 0 ? (
        <DataTable
          caption="Payments"
          isCaptionHidden
          columns={[
            { name: 'Paid on', kind: 'heading', cell: (row) => formatDay(row.day) },
            { name: 'Amount', kind: 'number', cell: (row) => money(row.cents) },
            {
              name: 'Take away',
              kind: 'action',
              cell: (row) => (
                <form method="post" action={`/pricing/shops/${shop.id}/payments/${row.id}/remove`} class="inline-form">
                  <input type="hidden" name="version" value={String(row.version)} />
                  <Button kind="remove">
                    Take away<span class="visually-hidden"> what was paid on {formatDay(row.day)}</span>
                  </Button>
                </form>
              ),
            },
          ]}
          rows={payments}
        />
      ) : null}
      <form method="post" action={`/pricing/shops/${shop.id}/payments`}>
        <FieldRow>
          <TextField
            name="paid"
            label="The shop paid"
            value={values.paid}
            problems={problems}
            inputmode="decimal"
            width="short"
            unit={currencySign(currency)}
          />
          <TextField name="paidDay" type="date" label="on" value={values.paidDay} problems={problems} />
        </FieldRow>
        <Actions>
          <Button kind="quiet">Note the payment</Button>
        </Actions>
      </form>
    </section>
  );
};

const Counted = ({ shop, counted, currency }: ShopPageProps) =>
  counted.length === 0 ? null : (
    <FoldOnPhone summary={`Counted before: ${countOf(counted.length, 'pair', 'pairs')}`}>
      <DataTable
        caption="Counted before"
        columns={[
          { name: 'Pair', kind: 'heading', cell: (pair) => <NamedPair pair={pair} /> },
          {
            name: 'What became of it',
            cell: (pair) =>
              pair.soldDay
                ? `sold, ${formatDayShort(pair.soldDay)}`
                : `came back, ${formatDayShort(pair.backDay ?? '')}`,
          },
          { name: 'Price', kind: 'number', cell: (pair) => formatCents(pair.priceCents, currency) },
          {
            name: 'Yours',
            kind: 'number',
            cell: (pair) => (pair.soldDay ? formatCents(pair.oursCents, currency) : '–'),
          },
          {
            name: 'A slip?',
            kind: 'action',
            cell: (pair) => (
              <form
                method="post"
                action={`/pricing/shops/${shop.id}/placements/${pair.placementId}/uncount`}
                class="inline-form"
              >
                <input type="hidden" name="version" value={String(pair.placementVersion)} />
                <Button kind="quiet">
                  It still stands there<span class="visually-hidden">: {pair.sizeWords}</span>
                </Button>
              </form>
            ),
          },
        ]}
        rows={counted}
      />
    </FoldOnPhone>
  );

function figuresOf({ account, currency, standing }: ShopPageProps): FigureEntry[] {
  return [
    {
      value: owedWords(account.owedCents, currency),
      words: account.owedCents > 0 ? 'the shop owes you' : 'owed for what was sold',
      ...(account.owedCents > 0 ? { tone: 'caution' as const } : {}),
    },
    {
      value: countOf(standing.length, 'pair', 'pairs'),
      words: `stand there, ${formatCents(account.standingOursCents, currency)} yours when all is sold`,
    },
    { value: countOf(account.sold, 'pair', 'pairs'), words: 'sold there so far' },
  ];
}

const titleOf = ({ shop, standing }: ShopPageProps) =>
  standing.length === 0 ? shop.name : `${countOf(standing.length, 'pair', 'pairs')} at ${shop.name}`;

/** A shop on sale or return: what stands there, count back, place, payments. */
export const ShopPage = (props: ShopPageProps) => {
  const { shop, problems, purpose } = props;
  return (
    <Page
      title={titleOf(props)}
      where={<a href="/pricing/shops">Shops</a>}
      current="pricing"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <p class="soft">
        {termsWords(shop)}. <a href={`/pricing/outlets/${shop.id}`}>Change the terms</a> ·{' '}
        <a href={`/pricing/sheet?outlet=${shop.id}`}>Price sheet for the shop</a>
      </p>
      <FigureRow figures={figuresOf(props)} />
      <Standing {...props} />
      <Place {...props} />
      <Payments {...props} />
      <Counted {...props} />
    </Page>
  );
};

export type WholesalePageProps = {
  readonly shop: ShopProps;
  readonly orders: readonly {
    readonly orderId: number;
    readonly number: number;
    readonly pairs: number;
    readonly short: number;
  }[];
  readonly sizes: readonly {
    readonly size: string;
    readonly lineId: number;
    readonly row: PriceSheetRow;
    readonly groupName: string | null;
    readonly suggestedCents: number | null;
  }[];
  readonly currency: string;
  readonly purpose: Purpose;
};

/** A shop that buys: its price for each size, what it may ask itself, and its orders against the least. */
export const WholesalePage = ({ shop, orders, sizes, currency, purpose }: WholesalePageProps) => {
  const money = (cents: number | null) => (cents === null ? '–' : formatCents(cents, currency));
  const short = orders.filter((order) => order.short > 0);
  return (
    <Page
      title={`${shop.name} buys from you`}
      where={<a href="/pricing/shops">Shops</a>}
      current="pricing"
      purpose={purpose}
    >
      <p class="soft">
        {termsWords(shop)}. <a href={`/pricing/outlets/${shop.id}`}>Change the terms</a> ·{' '}
        <a href={`/pricing/sheet?outlet=${shop.id}`}>Price sheet for the shop</a>
      </p>
      {short.map((order) => (
        <Caution title={`Order ${order.number} is too small`}>
          It has {countOf(order.pairs, 'pair', 'pairs')}, {order.short} fewer than agreed.{' '}
          <a href={`/orders/${order.orderId}`}>Look at the order</a>
        </Caution>
      ))}
      {sizes.length === 0 ? (
        <p>With the first order its sizes are priced here.</p>
      ) : (
        <DataTable
          caption="Wholesale prices"
          columns={[
            { name: 'Size', kind: 'heading', cell: (row) => <a href={`/pricing/pair/${row.lineId}`}>{row.size}</a> },
            { name: 'The shop pays', kind: 'number', cell: ({ row }) => money(row.priceCents) },
            { name: 'It may ask', kind: 'number', cell: (row) => money(row.suggestedCents) },
            {
              name: 'An hour earns',
              kind: 'number',
              cell: ({ row }) => (row.isBelowMoneyBack ? 'a loss' : money(row.hourWorthCents)),
            },
          ]}
          rows={sizes}
        />
      )}
      <p class="soft">
        What it may ask is twice what it pays, the trade’s rule of thumb. Each size at its dearest colours.
      </p>
      {orders.length > 0 ? (
        <DataTable
          caption="Its orders"
          columns={[
            {
              name: 'Order',
              kind: 'heading',
              cell: (order) => <a href={`/orders/${order.orderId}`}>Order {order.number}</a>,
            },
            { name: 'Pairs', kind: 'number', cell: (order) => String(order.pairs) },
            {
              name: 'Least',
              cell: (order) => (order.short > 0 ? <span class="tone-caution">{order.short} too few</span> : 'reached'),
            },
          ]}
          rows={orders}
        />
      ) : null}
    </Page>
  );
};

export type NoTermsPageProps = { readonly shop: ShopProps; readonly purpose: Purpose };

/** A shop whose terms nobody said yet. */
export const NoTermsPage = ({ shop, purpose }: NoTermsPageProps) => (
  <Page title={shop.name} where={<a href="/pricing/shops">Shops</a>} current="pricing" purpose={purpose}>
    <p>Say first how this shop deals: it buys from you, or it shows your pairs and pays for what it sold.</p>
    <Actions>
      <LinkButton href={`/pricing/outlets/${shop.id}`}>Say its terms</LinkButton>
    </Actions>
  </Page>
);
