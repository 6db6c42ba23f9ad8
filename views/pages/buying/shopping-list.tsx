import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents } from '#core/shared/format.ts';
import { formatDayShort, formatMass } from '#views/format.ts';
import { upperFirst } from '#views/pages/batch/count-words.ts';
import type { BuyingPageProps, ListBasket, ListLine, ListView, SearchView } from '#views/pages/buying/buying-page.tsx';
import { ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';
import { LookLonger } from '#views/pages/buying/list-search.tsx';

type Pack = { readonly ballMg: number; readonly ballsPerPack: number };

export function packWords(offer: Pack): string {
  const ball = formatMass(offer.ballMg / 1000);
  return offer.ballsPerPack === 1 ? `ball of ${ball}` : `pack of ${offer.ballsPerPack} balls of ${ball}`;
}

/** "2 packs of 5 balls of 100 g". */
export function countPacks({ packs, offer }: Pick<ListLine, 'packs'> & { readonly offer: Pack }): string {
  const ball = formatMass(offer.ballMg / 1000);
  return offer.ballsPerPack === 1
    ? `${countOf(packs, 'ball', 'balls')} of ${ball}`
    : `${countOf(packs, 'pack', 'packs')} of ${offer.ballsPerPack} balls of ${ball}`;
}

function orderByWords(orderByDay: Day | null, today: Day): string {
  if (orderByDay === null) return 'no hurry to order';
  if (orderByDay < today) return `order at once: best was by ${formatDayShort(orderByDay)}`;
  return orderByDay === today ? 'order today' : `order by ${formatDayShort(orderByDay)}`;
}

type BasketProps = { readonly basket: ListBasket; readonly listName: string } & Pick<
  BuyingPageProps,
  'currency' | 'today'
>;

const spareWords = {
  price: 'to reach the lower price',
  postage: 'to reach free postage',
  minimum: 'to reach the least order',
} as const;

// Three short columns fit half a page and a phone alike, so this table stays a table.
const BasketView = ({ basket, listName, currency, today }: BasketProps) => (
  <div class="basket">
    <h3>{basket.shop.name}</h3>
    <p class="soft">
      {upperFirst(orderByWords(basket.orderByDay, today))}; ordered today it is here on{' '}
      {formatDayShort(basket.arrivesDay)}.{' '}
      <a class="no-print" href={`/buying/purchases/new?shop=${basket.shop.id}&list=${listName}`}>
        I ordered this<span class="visually-hidden"> at {basket.shop.name}</span>
      </a>
    </p>
    <table>
      <caption class="visually-hidden">{`${basket.shop.name}, ${listName} list`}</caption>
      <thead class="visually-hidden">
        <tr>
          <th scope="col">Colour</th>
          <th scope="col">Buy</th>
          <th scope="col">Cost</th>
        </tr>
      </thead>
      <tbody>
        {basket.lines.map((line) => (
          <tr>
            <th scope="row">
              <ColourAndYarn colour={line.colour} />
            </th>
            <td>
              {countPacks(line)}
              {line.goodsCents < line.packs * line.offer.priceCents ? (
                <small> {`at ${formatCents(line.goodsCents / line.packs, currency)} each`}</small>
              ) : null}
              {line.forSafetyG > 0 ? <small> {`${formatMass(line.forSafetyG)} of it to be safe`}</small> : null}
              {line.spare ? (
                <small> {`${formatMass(line.spare.grams)} of it ${spareWords[line.spare.reason]}`}</small>
              ) : null}
            </td>
            <td class="number">{formatCents(line.goodsCents, currency)}</td>
          </tr>
        ))}
        {basket.offCents === 0 ? null : (
          <tr>
            <th scope="row" colspan={2}>
              Off the basket
            </th>
            <td class="number">{formatCents(-basket.offCents, currency)}</td>
          </tr>
        )}
        <tr>
          <th scope="row" colspan={2}>
            Postage
          </th>
          <td class="number">{basket.shippingCents === 0 ? 'none' : formatCents(basket.shippingCents, currency)}</td>
        </tr>
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colspan={2}>
            Together
          </th>
          <td class="number">{formatCents(basket.goodsCents - basket.offCents + basket.shippingCents, currency)}</td>
        </tr>
      </tfoot>
    </table>
  </div>
);

const endings = {
  outOfTime: 'The search for a cheaper one ran out of time',
  stopped: 'The search was stopped',
  failed: 'The search broke off',
} as const;

function proofWords(
  { savingCents }: ListView,
  search: SearchView | null,
  { currency, cheaperButLate }: Pick<BuyingPageProps, 'currency' | 'cheaperButLate'>,
): string {
  if (savingCents === 0) {
    return cheaperButLate === null
      ? 'From these shops it cannot be cheaper.'
      : 'Of what comes in time from these shops, it cannot be cheaper.';
  }
  const saving = `at most ${formatCents(savingCents, currency)} could be saved`;
  if (search === null || search.state === 'looking') return `${upperFirst(saving)}.`;
  return `${endings[search.state]}; this list covers everything, and ${saving}.`;
}

/** One of the two lists, or both where they are the same: its baskets, and how sure it is that they are cheapest. */
export const ShoppingListView = ({
  list,
  isBoth,
  currency,
  today,
  confidenceWords,
  searches,
  cheaperButLate,
}: BuyingPageProps & { readonly list: ListView; readonly isBoth: boolean }) => (
  <section id={`list-${list.name}`}>
    <h2>{isBoth ? 'What to buy' : list.name === 'likely' ? 'The likely list' : 'The safe list'}</h2>
    <p>
      <strong>{formatCents(list.totalCents, currency)}</strong>,{' '}
      {list.name === 'likely' && !isBoth ? 'enough as likely as not' : `enough ${confidenceWords}`}.{' '}
      {proofWords(list, searches[list.name], { currency, cheaperButLate })}
      {isBoth
        ? ' The likely list and the safe list are the same.'
        : list.isChosen
          ? ' The plan and prices use this one.'
          : ''}
    </p>
    <LookLonger name={list.name} search={searches[list.name]} />
    {list.baskets.map((basket) => (
      <BasketView basket={basket} listName={list.name} currency={currency} today={today} />
    ))}
  </section>
);
