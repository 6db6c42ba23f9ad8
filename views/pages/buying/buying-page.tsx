import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatNumber } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { MassRange } from '#views/components/range.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass, formatYarnLength } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { countInWords, listInWords, upperFirst } from '#views/pages/batch/count-words.ts';
import { BuyingLinks, type OnWay } from '#views/pages/buying/buying-links.tsx';
import { type BuyingColour, ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';
import { SearchProgress } from '#views/pages/buying/list-search.tsx';
import { ShoppingListView } from '#views/pages/buying/shopping-list.tsx';
import { MissingYarn, missingWords, type ShortLot } from '#views/pages/shelf/short-pairs.tsx';

type Amount = { readonly grams: number; readonly metres: number; readonly balls: number };

export type NeedRow = {
  readonly colour: BuyingColour;
  readonly likely: Amount;
  readonly safe: Amount;
  readonly sdG: number;
  readonly shelfG: number;
  readonly heldG: number;
  readonly onWayG: number;
  readonly toBuyLikelyG: number;
  readonly toBuySafeG: number;
  /** Written down for begun pairs that wait for it, where it is more than they likely take; 0 else. */
  readonly writtenDownG: number;
  readonly nearMiss: {
    readonly likelyG: number;
    readonly pairG: number;
    readonly dyeLot: string;
    readonly isHere: boolean;
    readonly leftG: number;
  } | null;
};

export type ListLine = {
  readonly offer: {
    readonly id: number;
    readonly ballMg: number;
    readonly ballsPerPack: number;
    readonly priceCents: number;
  };
  readonly colour: BuyingColour;
  readonly packs: number;
  readonly goodsCents: number;
  readonly forSafetyG: number;
  readonly spare: { readonly grams: number; readonly reason: 'price' | 'postage' | 'minimum' } | null;
};

export type ListBasket = {
  readonly shop: { readonly id: number; readonly name: string };
  readonly lines: readonly ListLine[];
  readonly goodsCents: number;
  readonly offCents: number;
  readonly shippingCents: number;
  readonly arrivesDay: Day;
  readonly orderByDay: Day | null;
};

export type ListView = {
  readonly name: 'likely' | 'safe';
  readonly isChosen: boolean;
  readonly baskets: readonly ListBasket[];
  readonly totalCents: number;
  readonly savingCents: number;
};

/** A search for a cheaper list: under way, or how it ended without a proof. */
export type SearchView = {
  readonly state: 'looking' | 'outOfTime' | 'stopped' | 'failed';
  readonly totalCents: number;
  readonly boundCents: number;
};

export type BuyingPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  /** "9 times in 10". */
  readonly confidenceWords: string;
  readonly today: Day;
  readonly needs: readonly NeedRow[];
  readonly moreForLotsG: number;
  readonly lists: readonly ListView[];
  readonly hasShops: boolean;
  readonly missing: readonly {
    readonly colour: BuyingColour;
    readonly needG: number;
    readonly balls: number;
    readonly isSold: boolean;
  }[];
  readonly left: readonly { readonly colour: BuyingColour; readonly boughtG: number; readonly usedG: number }[];
  readonly oneShop: {
    readonly shop: { readonly name: string };
    readonly totalCents: number;
    readonly moreCents: number;
  } | null;
  readonly cheaperButLate: {
    readonly totalCents: number;
    readonly savesCents: number;
    readonly shops: readonly string[];
  } | null;
  /** What is known of the searches for cheaper lists; null where there is nothing to look for. */
  readonly searches: Readonly<Record<'likely' | 'safe', SearchView | null>>;
  /** Lots that lack yarn for begun pairs. */
  readonly short: readonly ShortLot[];
  /** Parcels that were ordered and are not all here. */
  readonly onWay: OnWay;
  /** What just came home; null otherwise. */
  readonly arrived: string | null;
};

/** To the next tenth of a ball, so that it is never too little; the page says so. */
const ballsOf = (balls: number) => `${formatNumber(Math.ceil(balls * 10 - 1e-9) / 10, 1)} balls`;

const AmountCell = ({
  amount,
  href,
  sdG,
}: {
  readonly amount: Amount;
  readonly href?: string;
  readonly sdG?: number;
}) => (
  <span>
    {href ? <a href={href}>{formatMass(amount.grams)}</a> : formatMass(amount.grams)}
    {sdG === undefined ? null : <MassRange sdG={sdG} />}
    <br />
    <small>
      {formatYarnLength(amount.metres)}, {ballsOf(amount.balls)}
    </small>
  </span>
);

/** "a pair likely takes 77 g, and 92 g to be safe; lot A7 has 90 g left, 2 g short". */
function nearMissWords({ likelyG, pairG, dyeLot, isHere, leftG }: NonNullable<NeedRow['nearMiss']>): string {
  const lot = isHere ? (dyeLot === '' ? 'a lot without a number' : `lot ${dyeLot}`) : 'what is on the way';
  return `a pair likely takes ${formatMass(likelyG)}, and ${formatMass(pairG)} to be safe; ${lot} has ${formatMass(leftG)} left, ${formatMass(pairG - leftG)} short`;
}

const isFolded = () => true;

const Needs = ({
  needs,
  moreForLotsG,
  confidenceWords,
}: Pick<BuyingPageProps, 'needs' | 'moreForLotsG' | 'confidenceWords'>) => (
  <section>
    <h2>Colour by colour</h2>
    <DataTable
      caption="Yarn needed, on the shelf and to buy, by colour"
      isCaptionHidden
      columns={[
        { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
        {
          name: 'Likely needed',
          kind: 'number',
          isFolded,
          cell: (need) => (
            <AmountCell amount={need.likely} sdG={need.sdG} href={`/working/yardage/need/${need.colour.id}`} />
          ),
        },
        {
          name: `Enough ${confidenceWords}`,
          kind: 'number',
          isFolded,
          cell: (need) => <AmountCell amount={need.safe} />,
        },
        {
          name: 'On the shelf',
          kind: 'number',
          isFolded,
          cell: ({ shelfG, heldG, onWayG }) => (
            <span>
              {formatMass(shelfG)}
              {heldG > 0 ? (
                <>
                  <br />
                  <small>{formatMass(heldG)} put aside</small>
                </>
              ) : null}
              {onWayG > 0 ? (
                <>
                  <br />
                  <small>{formatMass(onWayG)} on the way</small>
                </>
              ) : null}
            </span>
          ),
        },
        {
          name: 'To buy',
          kind: 'number',
          isFolded,
          cell: ({ colour, safe, shelfG, onWayG, toBuyLikelyG, toBuySafeG }) =>
            toBuySafeG === 0 ? (
              'nothing'
            ) : (
              <span>
                <a href={`/working/buying/list/${colour.id}`}>{formatMass(toBuySafeG)}</a>
                <br />
                <small>likely {formatMass(toBuyLikelyG)}</small>
                {shelfG + onWayG >= safe.grams ? (
                  <>
                    <br />
                    <small>
                      <a href={`/buying/dye-lots#colour-${colour.id}`}>
                        no lot has enough for a pair more
                        <span class="visually-hidden">: {colour.name}</span>
                      </a>
                    </small>
                  </>
                ) : null}
              </span>
            ),
        },
      ]}
      rows={needs}
      fold={{
        rowName: ({ colour }) => colour.name,
        words: ({ toBuySafeG }) => (toBuySafeG === 0 ? 'nothing to buy' : `${formatMass(toBuySafeG)} to buy`),
      }}
    />
    {moreForLotsG >= 1 ? (
      <p>
        What is to buy is {formatMass(moreForLotsG)} more than is enough for all these pairs together: each pair takes a
        colour from one lot, and must find enough in it.
      </p>
    ) : null}
    {needs.map(({ colour, nearMiss }) =>
      nearMiss ? (
        <p>
          {colour.name}: {nearMissWords(nearMiss)}.
        </p>
      ) : null,
    )}
    {needs.map(({ colour, writtenDownG }) =>
      writtenDownG > 0 ? (
        <p>
          {colour.name}: pairs that are begun get the {formatMass(writtenDownG)} that was written down for them to be
          safe, more than they likely take.
        </p>
      ) : null,
    )}
    <p class="hint">
      Balls are rounded up, to a tenth of one. Each weight is rounded by itself, so a column may miss the whole in its
      last digit.
    </p>
  </section>
);

const Missing = ({ missing, hasShops }: Pick<BuyingPageProps, 'missing' | 'hasShops'>) =>
  missing.length === 0 ? null : (
    <section>
      <h2>{hasShops ? 'Where to buy these?' : 'What to buy'}</h2>
      {hasShops ? null : (
        <p>
          No shop is entered yet, so this is without prices. With a shop and its ball sizes the list finds the cheapest
          whole balls.
        </p>
      )}
      <DataTable
        caption="Colours without a shop"
        isCaptionHidden
        columns={[
          { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
          { name: 'To buy', kind: 'number', cell: ({ needG }) => formatMass(needG) },
          {
            name: 'That is',
            cell: ({ balls, colour }) =>
              `${countOf(balls, 'ball', 'balls')} of ${formatMass(colour.yarn.ballMg / 1000)}, whole balls`,
          },
          {
            name: 'Shop',
            cell: ({ colour, isSold }) => (
              <span>
                <a
                  class="no-print"
                  href={hasShops ? `/buying/prices?colour=${colour.id}` : `/buying/shops/new?colour=${colour.id}`}
                >
                  {isSold ? 'No shop has enough: add another' : 'Add where you buy it'}
                  <span class="visually-hidden">: {colour.name}</span>
                </a>
                {isSold || hasShops ? (
                  <>
                    <br />
                    <a class="no-print" href={`/buying/instead/${colour.id}`}>
                      A like yarn instead<span class="visually-hidden"> of {colour.name}</span>
                    </a>
                  </>
                ) : null}
              </span>
            ),
          },
        ]}
        rows={missing}
      />
    </section>
  );

const Leftovers = ({ left }: Pick<BuyingPageProps, 'left'>) =>
  left.length === 0 ? null : (
    <section>
      <h2>What will likely be left</h2>
      <DataTable
        caption="Left of what is bought"
        isCaptionHidden
        columns={[
          { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
          { name: 'Bought', kind: 'number', isFolded, cell: ({ boughtG }) => formatMass(boughtG) },
          { name: 'Likely used', kind: 'number', isFolded, cell: ({ usedG }) => formatMass(usedG) },
          { name: 'Left', kind: 'number', isFolded, cell: ({ boughtG, usedG }) => formatMass(boughtG - usedG) },
        ]}
        rows={left}
        fold={{
          rowName: ({ colour }) => colour.name,
          words: ({ boughtG, usedG }) => `${formatMass(boughtG - usedG)} left`,
        }}
      />
    </section>
  );

const OtherWays = ({
  oneShop,
  cheaperButLate,
  currency,
}: Pick<BuyingPageProps, 'oneShop' | 'cheaperButLate' | 'currency'>) =>
  oneShop === null && cheaperButLate === null ? null : (
    <section>
      <h2>Other ways</h2>
      {oneShop ? (
        <p>
          Everything from {oneShop.shop.name} would be {formatCents(oneShop.totalCents, currency)}
          {oneShop.moreCents > 0
            ? `, ${formatCents(oneShop.moreCents, currency)} more.`
            : `, ${formatCents(-oneShop.moreCents, currency)} less, but not all of it comes in time.`}
        </p>
      ) : null}
      {cheaperButLate ? (
        <p>
          If time did not matter, {formatCents(cheaperButLate.totalCents, currency)} would do, from{' '}
          {listInWords(cheaperButLate.shops)}: {formatCents(cheaperButLate.savesCents, currency)} less than the safe
          list, but some of it would come after it is needed.
        </p>
      ) : null}
    </section>
  );

function packsOf(list: ListView): number {
  return list.baskets
    .flatMap((basket) => basket.lines)
    .reduce((sum, line) => sum + line.packs * line.offer.ballsPerPack, 0);
}

/** "The likely list: €136.10, one ball less". */
function foldedWords(list: ListView, chosen: ListView | undefined, currency: string): string {
  const balls = chosen ? packsOf(list) - packsOf(chosen) : 0;
  const words =
    balls === 0 ? 'as many balls' : `${countInWords(Math.abs(balls), 'ball', 'balls')} ${balls < 0 ? 'less' : 'more'}`;
  return `The ${list.name} list: ${formatCents(list.totalCents, currency)}, ${words}`;
}

const isToOrder = (list: ListView | undefined): list is ListView => list !== undefined && list.baskets.length > 0;

/** Whether two lists buy the same packs of the same shops. */
function isSame(one: ListView, other: ListView): boolean {
  const packs = ({ baskets }: ListView) =>
    baskets.flatMap(({ lines }) => lines.map(({ offer, packs: count }) => `${offer.id} ${count}`)).join();
  return one.totalCents === other.totalCents && packs(one) === packs(other);
}

/** "no shop is known for eight colours, and none has enough of one". */
function withoutShopWords(missing: BuyingPageProps['missing']): string {
  const short = missing.filter(({ isSold }) => isSold).length;
  const unsold = missing.length - short;
  const colours = (count: number) => countInWords(count, 'colour', 'colours');
  if (short === 0) return `no shop is known for ${colours(unsold)}`;
  if (unsold === 0) return `no shop has enough of ${colours(short)}`;
  return `no shop is known for ${colours(unsold)}, and none has enough of ${countInWords(short, 'more', 'more')}`;
}

function titleOf({ needs, missing, lists, currency, onWay, short }: BuyingPageProps): string {
  const chosen = lists.find((list) => list.isChosen);
  if (isToOrder(chosen)) {
    const balls = upperFirst(countInWords(packsOf(chosen), 'ball', 'balls'));
    const words = `${balls} to buy for ${formatCents(chosen.totalCents, currency)}`;
    return missing.length === 0 ? words : `${words}, a part of it: ${withoutShopWords(missing)}`;
  }
  const grams = missing.reduce((sum, each) => sum + each.needG, 0);
  if (grams > 0) return `About ${formatMass(grams)} of yarn to buy`;
  if (needs.length === 0) return 'Yarn to buy';
  if (short.length > 0) return missingWords(short);
  return onWay.parcels > 0 ? 'Nothing to buy: it is here or on the way' : 'Nothing to buy: the shelf has it all';
}

function orderFigure(lists: readonly ListView[], today: Day): FigureEntry[] {
  const days = (lists.find((list) => list.isChosen)?.baskets ?? []).flatMap((basket) => basket.orderByDay ?? []).sort();
  const first = days[0];
  if (first === undefined) return [];
  return first < today
    ? [{ value: 'today', words: 'order at once: it was due earlier', tone: 'late' }]
    : [
        {
          value: formatDayShort(first),
          words: 'order by then',
          ...(first === today ? { tone: 'caution' as const } : {}),
        },
      ];
}

function figuresOf(props: BuyingPageProps): FigureEntry[] {
  const { needs, lists, missing, currency, today, onWay, short } = props;
  const chosen = lists.find((list) => list.isChosen);
  const needG = needs.reduce((sum, need) => sum + need.likely.grams, 0);
  const isLikely = chosen?.name === 'likely';
  const toBuyG = needs.reduce((sum, need) => sum + (isLikely ? need.toBuyLikelyG : need.toBuySafeG), 0);
  const coloursToBuy = needs.filter((need) => need.toBuySafeG > 0).length;
  const part = missing.length === 0 ? '' : `, for ${coloursToBuy - missing.length} of ${coloursToBuy} colours`;
  return [
    { value: formatMass(needG), words: `likely needed, in ${countOf(needs.length, 'colour', 'colours')}` },
    {
      value: formatMass(toBuyG),
      words:
        toBuyG === 0
          ? onWay.parcels > 0 || short.length > 0
            ? 'to buy'
            : 'to buy: the shelf has it all'
          : isLikely
            ? 'to buy, by the likely list'
            : 'to buy, to be safe',
      ...(toBuyG === 0 && short.length === 0 ? { tone: 'done' as const } : {}),
    },
    ...(isToOrder(chosen)
      ? [{ value: formatCents(chosen.totalCents, currency), words: `the ${chosen.name} list with postage${part}` }]
      : []),
    ...orderFigure(lists, today),
  ];
}

/** What yarn to buy, where, and by when. */
export const BuyingPage = (props: BuyingPageProps) => {
  const { purpose, needs, lists, missing, arrived, hasShops } = props;
  const bought = lists.filter((list) => list.baskets.length > 0);
  const chosen = lists.filter((list) => list.isChosen);
  const others = lists.filter((list) => !list.isChosen);
  return (
    <Page title={titleOf(props)} where="Yarn to buy" current="buying" purpose={purpose}>
      {arrived ? (
        <p class="notice no-print" role="status">
          {arrived}
        </p>
      ) : null}
      {needs.length === 0 ? (
        <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
          No pairs are planned, so there is no yarn to buy.
        </EmptyState>
      ) : (
        <>
          <FigureRow figures={figuresOf(props)} />
          <MissingYarn short={props.short} />
          <Actions>
            {isToOrder(chosen[0]) ? (
              <>
                <LinkButton href={`/buying/purchases/new?list=${chosen[0].name}`}>I ordered it</LinkButton>
                <LinkButton href={`/buying/arrived?list=${chosen[0].name}`} kind="quiet">
                  It is here
                </LinkButton>
              </>
            ) : null}
            <LinkButton href="/buying/shops" kind={bought.length > 0 ? 'quiet' : 'main'}>
              {hasShops ? 'Shops and prices' : 'Add a shop'}
            </LinkButton>
          </Actions>
          <BuyingLinks onWay={props.onWay} hasNeeds />
          {props.onWay.parcels > 0 ? (
            <p class="no-print">
              When a parcel is here, <a href="/buying/purchases">tick off what came</a>: its yarn goes on the shelf, and
              pairs that wait for it get theirs.
            </p>
          ) : null}
          <SearchProgress {...props} />
          {bought.length > 0 ? (
            <div class="columns shopping-lists">
              {chosen.map((list) => (
                <ShoppingListView {...props} list={list} isBoth={others.some((other) => isSame(list, other))} />
              ))}
              {others
                .filter((list) => !chosen.some((one) => isSame(one, list)))
                .map((list) => (
                  <FoldOnPhone summary={foldedWords(list, chosen[0], props.currency)}>
                    <ShoppingListView {...props} list={list} isBoth={false} />
                  </FoldOnPhone>
                ))}
            </div>
          ) : null}
          <Missing missing={missing} hasShops={hasShops} />
          <Needs {...props} />
          <Leftovers left={props.left} />
          <OtherWays {...props} />
          {needs.some((need) => need.toBuySafeG > 0) ? (
            <Caution title="Before you order">
              The weights rest on gauge and yarn as entered. A weighed square makes them surer; ask each shop for one
              dye lot of a colour, whatever the size of the ball.
            </Caution>
          ) : null}
        </>
      )}
      {needs.length === 0 ? (
        <>
          <p class="no-print">
            <a href="/buying/shops">Shops and prices</a>
          </p>
          <BuyingLinks onWay={props.onWay} hasNeeds={false} />
        </>
      ) : null}
    </Page>
  );
};
