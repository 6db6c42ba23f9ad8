import type { Day } from '#core/shared/calendar.ts';
import { countOf } from '#core/shared/format.ts';
import { type Paging, rowsOn } from '#core/shared/paging.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { type BuyingColour, ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';
import { MissingYarn, type ShortLot } from '#views/pages/shelf/short-pairs.tsx';
import { type LotName, lotWords } from '#views/pages/shelf/yarn-words.ts';

export type LotUseProps = {
  readonly lot: {
    readonly id: number;
    readonly name: LotName | null;
    readonly place: string | null;
    readonly fromDay: Day | null;
    readonly href: string | null;
  } | null;
  readonly freeG: number;
  readonly usedG: number;
  readonly pairs: readonly {
    readonly orderId: number | null;
    readonly name: string;
    readonly number: number | null;
    readonly sizeWords: string;
    readonly pairs: number;
    readonly grams: number;
  }[];
  readonly nextPairG: number | null;
  readonly shortG: number | null;
};

export type DyeLotsPageProps = {
  readonly purpose: Purpose;
  readonly mixLotsInGifts: boolean;
  readonly colours: readonly {
    readonly colour: BuyingColour;
    readonly lots: readonly LotUseProps[];
    readonly mixing: number;
    readonly short: readonly ShortLot[];
  }[];
};

const LotOfColour = ({ lot }: Pick<LotUseProps, 'lot'>) => {
  if (lot === null) return <>a new lot, to buy</>;
  if (lot.fromDay !== null) return <>on the way, here {formatDayShort(lot.fromDay)}</>;
  const words = lotWords(lot.name);
  return (
    <>
      {lot.href ? <a href={lot.href}>{words}</a> : words}
      {lot.place ? (
        <>
          <br />
          <small>{lot.place}</small>
        </>
      ) : null}
    </>
  );
};

/** Orders named beside a lot; all of them have a page of their own. Our own choice. */
const mostNamed = 20;

const PairsList = ({ pairs }: Pick<LotUseProps, 'pairs'>) => (
  <ul class="plain-list">
    {pairs.map(({ orderId, name, number, sizeWords, pairs: count, grams }) => (
      <li>
        {orderId === null ? name : <a href={`/orders/${orderId}`}>{`${name}, order ${number}`}</a>}: {sizeWords}
        {count > 1 ? `, ${countOf(count, 'pair', 'pairs')}` : ''} <small>{formatMass(grams)}</small>
      </li>
    ))}
  </ul>
);

const Pairs = ({ pairs, allHref }: { readonly pairs: LotUseProps['pairs']; readonly allHref: string }) => {
  if (pairs.length === 0) return <>no pair</>;
  const rest = pairs.slice(mostNamed).reduce((sum, each) => sum + each.pairs, 0);
  return (
    <>
      <PairsList pairs={pairs.slice(0, mostNamed)} />
      {rest > 0 ? <a href={allHref}>and {countOf(rest, 'more pair', 'more pairs')}</a> : null}
    </>
  );
};

const lotHref = (colourId: number, { lot }: LotUseProps) => `/buying/dye-lots/${colourId}/${lot?.id ?? 'new'}`;

function shortWords({ lot, nextPairG, shortG, freeG, usedG }: LotUseProps): string {
  if (lot === null) return '–';
  if (shortG === null || nextPairG === null) return `${formatMass(freeG - usedG)} left over`;
  return shortG === 0
    ? `${formatMass(freeG - usedG)} left over`
    : `${formatMass(freeG - usedG)} left, ${formatMass(shortG)} short of one pair more, which takes ${formatMass(nextPairG)}`;
}

/** Which pairs take each colour from which dye lot, and what a lot lacks for one pair more. */
export const DyeLotsPage = ({ purpose, mixLotsInGifts, colours }: DyeLotsPageProps) => (
  <Page
    title="Which dye lot for which pair"
    where={<a href="/buying">Yarn to buy</a>}
    current="buying"
    purpose={purpose}
  >
    {colours.length === 0 ? (
      <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>No pairs are planned.</EmptyState>
    ) : (
      <>
        <p>
          Each pair takes a colour from one lot, so that its slippers match. Pairs to give{' '}
          {mixLotsInGifts ? 'may mix what is left of several lots' : 'match too'}{' '}
          <a class="no-print" href="/settings#field-mixLotsInGifts">
            (a setting)
          </a>
          . Each pair counts with what is enough for it alone, as safely as you buy.
        </p>
        {colours.map(({ colour, lots, mixing, short }) => (
          <section id={`colour-${colour.id}`}>
            <h2>
              <ColourAndYarn colour={colour} />
            </h2>
            <MissingYarn short={short} />
            {lots.length === 0 && short.length === 0 ? <p>The knitters have it in hand already.</p> : null}
            {mixing > 0 ? <p>{countOf(mixing, 'pair to give mixes', 'pairs to give mix')} lots.</p> : null}
            {lots.length === 0 ? null : (
              <DataTable
                caption={`Lots of ${colour.name}`}
                isCaptionHidden
                columns={[
                  { name: 'Lot', kind: 'heading', cell: (use) => <LotOfColour lot={use.lot} /> },
                  {
                    name: 'Pairs',
                    kind: 'wide',
                    cell: (use) => <Pairs pairs={use.pairs} allHref={lotHref(colour.id, use)} />,
                  },
                  { name: 'Used', kind: 'number', cell: (use) => formatMass(use.usedG) },
                  { name: 'Then', kind: 'wide', cell: shortWords },
                ]}
                rows={lots}
              />
            )}
          </section>
        ))}
      </>
    )}
  </Page>
);

export type LotPairsPageProps = {
  readonly purpose: Purpose;
  readonly colour: BuyingColour;
  readonly use: LotUseProps;
  readonly paging: Paging;
  readonly pageHref: PageHref;
};

/** Every pair that takes a colour from one dye lot. */
export const LotPairsPage = ({ purpose, colour, use, paging, pageHref }: LotPairsPageProps) => {
  const pairCount = use.pairs.reduce((sum, { pairs }) => sum + pairs, 0);
  return (
    <Page
      title={`Pairs in ${colour.name}, ${colour.yarn.name}`}
      where={<a href="/buying/dye-lots">Which dye lot for which pair</a>}
      current="buying"
      purpose={purpose}
    >
      <p>
        From <LotOfColour lot={use.lot} />: {countOf(pairCount, 'pair takes', 'pairs take')} {formatMass(use.usedG)}.
      </p>
      <Pager paging={paging} noun="Orders and sizes" href={pageHref} />
      <PairsList pairs={rowsOn(use.pairs, paging)} />
      <Pager paging={paging} noun="Orders and sizes" href={pageHref} isBelow />
    </Page>
  );
};
