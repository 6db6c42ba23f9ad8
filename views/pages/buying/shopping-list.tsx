import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatDayShort, formatGrams } from '#core/shared/format.ts';
import { DataTable } from '#views/components/table.tsx';
import type { BuyingPageProps, ListBasket, ListLine, ListView } from '#views/pages/buying/buying-page.tsx';
import { ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';

export function packWords(offer: { readonly ballMg: number; readonly ballsPerPack: number }): string {
  const ball = formatGrams(offer.ballMg / 1000);
  return offer.ballsPerPack === 1 ? `ball of ${ball}` : `pack of ${offer.ballsPerPack} balls of ${ball}`;
}

function countPacks({ packs, offer }: ListLine): string {
  const ball = formatGrams(offer.ballMg / 1000);
  return offer.ballsPerPack === 1
    ? `${countOf(packs, 'ball', 'balls')} of ${ball}`
    : `${countOf(packs, 'pack', 'packs')} of ${offer.ballsPerPack} balls of ${ball}`;
}

function orderByWords(orderByDay: Day | null, today: Day): string {
  if (orderByDay === null) return 'no hurry to order';
  if (orderByDay < today) return 'order today: it was due earlier';
  return orderByDay === today ? 'order today' : `order by ${formatDayShort(orderByDay)}`;
}

const BasketView = ({
  basket,
  listName,
  currency,
  today,
}: { readonly basket: ListBasket; readonly listName: string } & Pick<BuyingPageProps, 'currency' | 'today'>) => (
  <div class="basket">
    <h4>{basket.shop.name}</h4>
    <p class="soft">
      {orderByWords(basket.orderByDay, today)}; ordered today it is here on {formatDayShort(basket.arrivesDay)}
    </p>
    <DataTable
      caption={`${basket.shop.name}, ${listName} list`}
      isCaptionHidden
      columns={[
        { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
        {
          name: 'Buy',
          kind: 'wide',
          cell: (line) => (
            <span>
              {countPacks(line)}
              {line.forSafetyG > 0 ? <small> {`(${formatGrams(line.forSafetyG)} of it to be safe)`}</small> : null}
            </span>
          ),
        },
        { name: 'Cost', kind: 'number', cell: ({ goodsCents }) => formatCents(goodsCents, currency) },
      ]}
      rows={basket.lines}
      footer={[
        'Together',
        <small>
          {basket.shippingCents === 0 ? 'no postage' : `with ${formatCents(basket.shippingCents, currency)} postage`}
        </small>,
        formatCents(basket.goodsCents + basket.shippingCents, currency),
      ]}
    />
  </div>
);

function proofWords({ savingCents }: ListView, currency: string): string {
  return savingCents === 0
    ? 'From these shops it cannot be cheaper.'
    : `At most ${formatCents(savingCents, currency)} could still be saved.`;
}

/** One of the two lists: its baskets, and how sure it is that they are cheapest. */
export const ShoppingListView = ({
  list,
  currency,
  today,
  confidenceWords,
}: BuyingPageProps & { readonly list: ListView }) => (
  <section id={`list-${list.name}`}>
    <h2>{list.name === 'likely' ? 'The likely list' : 'The safe list'}</h2>
    <p>
      <strong>{formatCents(list.totalCents, currency)}</strong>,{' '}
      {list.name === 'likely' ? 'enough as likely as not' : `enough ${confidenceWords}`}. {proofWords(list, currency)}
      {list.isChosen ? ' The plan and prices use this one.' : ''}
    </p>
    {list.baskets.map((basket) => (
      <BasketView basket={basket} listName={list.name} currency={currency} today={today} />
    ))}
  </section>
);
