import type { CostParts } from '#core/pricing/outlet.ts';
import { countOf, formatCents, formatMinutes, formatPercent } from '#core/shared/format.ts';
import { type Paging, rowsOn } from '#core/shared/paging.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';
import { type GroupProps, Hour } from '#views/pages/pricing/groups.tsx';
import {
  costWords,
  NoWage,
  notKnownYet,
  type OutletProps,
  PairColours,
  type PairProps,
  shortWorth,
  toneClass,
  worthTone,
} from '#views/pages/pricing/price-words.tsx';

import { OthersAsk, type SeenRangeProps } from '#views/pages/pricing/seen.tsx';

export type SizeProps = { readonly size: string; readonly pairs: readonly PairProps[] };

export type MaterialProps = {
  readonly useId: number;
  readonly name: string;
  readonly styleName: string;
  readonly eachCents: number;
  readonly perPair: number;
};

export type PricesPageProps = {
  readonly sizes: readonly SizeProps[];
  /** Which sizes and which pairs of all of them are shown. */
  readonly sizePaging: Paging;
  readonly sizeHref: PageHref;
  readonly pairPaging: Paging;
  readonly pairHref: PageHref;
  readonly outlets: readonly OutletProps[];
  readonly closed: readonly OutletProps[];
  readonly materials: readonly MaterialProps[];
  /** The first colour whose yarn has no price yet. */
  readonly unpricedColourId: number | null;
  readonly currency: string;
  readonly purpose: 'sell' | 'order' | 'give';
  readonly wageCents: number;
  readonly runningCentsPerHour: number;
  readonly referenceName: string;
  readonly hasGrip: boolean;
  readonly groups: readonly GroupProps[];
  readonly othersAsk: SeenRangeProps | null;
};

/** Each price for several sizes, and which of them earns least at it. */
const Groups = ({ groups, currency }: { readonly groups: readonly GroupProps[]; readonly currency: string }) => (
  <>
    {groups.map(({ group, outlet, members: [least] }) => (
      <p class="soft">
        <a href={`/pricing/groups/${group.id}`}>
          {group.name}, {formatCents(group.priceCents, currency)}
        </a>{' '}
        at {outlet?.name}
        {least ? (
          <>
            {' '}
            for all of its sizes. {least.size} earns least: an hour earns <Hour member={least} currency={currency} />.
          </>
        ) : (
          ': no pair on order is in it.'
        )}
      </p>
    ))}
  </>
);

/** Where the rest about prices is. */
const More = ({ isGiving }: { readonly isGiving: boolean }) => (
  <nav aria-label="More about costs and prices">
    <ul class="plain-list">
      <li>
        <a href="/pricing/gifts">Gifts</a>: what was given, and of whose yarn
      </li>
      <li>
        <a href="/pricing/what-if">Before and after</a>: another wage, other costs, dearer yarn
      </li>
      {isGiving ? null : (
        <>
          <li>
            <a href="/pricing/books">Books</a>: what came in and went out, by month, outlet and style
          </li>
          <li>
            <a href="/pricing/groups">One price for several sizes</a>
          </li>
          <li>
            <a href="/pricing/shops">Shops</a>: what stands there, what they owe
          </li>
          <li>
            <a href="/pricing/seen">What others ask</a>
          </li>
          <li>
            <a href="/pricing/extras">Usual extras</a> and <a href="/pricing/postage">what the post asks</a>
          </li>
        </>
      )}
    </ul>
  </nav>
);

/** "€26.73 to €63.94", or one amount. */
function rangeOf(amounts: readonly number[], currency: string): string {
  const sorted = [...amounts].sort((a, b) => a - b);
  const [least, most] = [sorted[0] ?? 0, sorted.at(-1) ?? 0];
  return least === most
    ? formatCents(least, currency)
    : `${formatCents(least, currency)} to ${formatCents(most, currency)}`;
}

function titleOf(pairs: readonly PairProps[], currency: string): string {
  if (pairs.length === 0) return 'Costs and prices';
  const amounts = pairs.filter((pair) => !pair.isCostUnknown).map((pair) => pair.cost.totalCents);
  if (amounts.length === 0) return 'What a pair costs is not known yet';
  return `A pair costs me ${rangeOf(amounts, currency)}`;
}

const enterPriceHref = ({ unpricedColourId }: PricesPageProps) =>
  unpricedColourId === null ? '/buying' : `/buying/prices?colour=${unpricedColourId}`;

function figuresOf(props: PricesPageProps, pairs: readonly PairProps[]): FigureEntry[] {
  const { currency, wageCents, runningCentsPerHour } = props;
  const known = pairs.filter((pair) => !pair.isCostUnknown);
  const outlay = known.map((pair) => pair.cost.totalCents - pair.cost.labourCents);
  return [
    outlay.length === 0
      ? {
          value: 'Not known yet',
          words: 'what gets the money of a pair back: enter what the yarn costs',
          href: enterPriceHref(props),
        }
      : { value: rangeOf(outlay, currency), words: 'gets the money of a pair back: all but your time' },
    wageCents > 0
      ? { value: formatCents(wageCents, currency), words: 'wage for an hour', href: '/pricing/hour' }
      : { value: 'Not said', words: 'what an hour is worth', tone: 'caution', href: '/pricing/hour' },
    {
      value: formatCents(runningCentsPerHour, currency),
      words: 'running costs in an hour',
      href: '/pricing/hour',
    },
  ];
}

const restOf = ({ openedBallCents = 0, sparesCents = 0 }: CostParts) => openedBallCents + sparesCents;

/** What the yarn of a pair costs, with what is missing of it. */
function yarnWords({ cost, isYarnPriceUnknown }: PairProps, currency: string): string {
  if (!isYarnPriceUnknown) return formatCents(cost.yarnCents, currency);
  return cost.yarnCents === 0 ? notKnownYet : `${formatCents(cost.yarnCents, currency)}, in part`;
}

const CostTable = ({
  pairs,
  currency,
  wageCents,
}: {
  pairs: readonly PairProps[];
  currency: string;
  wageCents: number;
}) => {
  const money = (cents: number) => formatCents(cents, currency);
  const part = { kind: 'number' as const, isFolded: () => true };
  const columns: Column<PairProps>[] = [
    {
      name: 'Pair',
      kind: 'heading',
      cell: (pair) => (
        <span class="pair-name">
          <a href={`/pricing/pair/${pair.lineId}`}>{pair.size}</a>
          <PairColours colours={pair.colours} />
        </span>
      ),
    },
    {
      name: 'Yarn',
      kind: 'number',
      isFolded: (pair) => !pair.isYarnPriceUnknown,
      cell: (pair) => yarnWords(pair, currency),
    },
    { name: 'Other materials', ...part, cell: (pair) => money(pair.cost.materialsCents) },
    ...(wageCents > 0 ? [{ name: 'Work', ...part, cell: (pair: PairProps) => money(pair.cost.labourCents) }] : []),
    { name: 'Running costs', ...part, cell: (pair) => money(pair.cost.overheadCents) },
    ...(pairs.some(({ cost }) => restOf(cost) > 0)
      ? [{ name: 'Opened balls, spares', ...part, cell: (pair: PairProps) => money(restOf(pair.cost)) }]
      : []),
    { name: 'Time', ...part, cell: (pair) => formatMinutes(pair.minutes) },
    {
      name: 'Costs me',
      ...part,
      cell: (pair) => (
        <a href={`/working/pricing/cost/${pair.lineId}`}>
          <strong>{costWords(pair, currency)}</strong>
        </a>
      ),
    },
  ];
  const fold = {
    rowName: ({ size, colours }: PairProps) => `${size}, ${colours.map(({ name }) => name).join(', ')}`,
    words: (pair: PairProps) => costWords(pair, currency),
  };
  return <DataTable caption="What a pair costs me" columns={columns} rows={pairs} fold={fold} />;
};

/** The dearest pair of a size: a price that pays for it pays for every colour of the size. */
function dearestOf(size: SizeProps): PairProps {
  return size.pairs.reduce((most, pair) => (pair.cost.totalCents > most.cost.totalCents ? pair : most));
}

const PriceTable = ({ sizes, sizePaging, outlets, currency, wageCents }: PricesPageProps) => (
  <DataTable
    caption="What to charge, and what an hour earns at it"
    isDense
    columns={[
      {
        name: 'Size',
        kind: 'heading',
        cell: (size) => <a href={`/pricing/pair/${dearestOf(size).lineId}`}>{size.size}</a>,
      },
      ...outlets
        .filter((outlet) => outlet.kind !== 'gift')
        .map((outlet) => ({
          name: outlet.name,
          kind: 'number' as const,
          cell: (size: SizeProps) => {
            const pair = dearestOf(size);
            const row = pair.prices.find((price) => price.outlet.id === outlet.id)?.row;
            if (!row) return '–';
            return (
              <span class="price">
                {row.priceCents !== null ? formatCents(row.priceCents, currency) : pair.isCostUnknown ? null : '–'}
                <small class={toneClass(worthTone(row, wageCents))}>
                  {shortWorth(row, pair.cost, wageCents, currency)}
                </small>
              </span>
            );
          },
        })),
    ]}
    rows={rowsOn(sizes, sizePaging)}
  />
);

const kindWords = { fair: 'fair', order: 'by order', shop: 'shop', gift: 'gifts' };

function ruleWords(outlet: OutletProps, currency: string): string {
  if (outlet.kind === 'gift') return 'no price';
  if (outlet.priceRule === 'fixed') return `${formatCents(outlet.fixedPriceCents ?? 0, currency)} a pair`;
  if (outlet.priceRule === 'margin') return `${formatPercent(outlet.priceRatio)} of the price is margin`;
  return outlet.priceRatio === 0 ? 'what it costs' : `cost and ${formatPercent(outlet.priceRatio)} on top`;
}

function takenWords(outlet: OutletProps, currency: string): string {
  const fees = [
    outlet.feeRatio > 0 ? formatPercent(outlet.feeRatio) : '',
    outlet.feeFixedCents > 0 ? formatCents(outlet.feeFixedCents, currency) : '',
  ].filter(Boolean);
  const share =
    outlet.terms === 'sale or return' && outlet.shopShareRatio > 0
      ? `the shop keeps ${formatPercent(outlet.shopShareRatio)}`
      : '';
  const tax =
    outlet.taxRatio > 0 ? `tax ${formatPercent(outlet.taxRatio)} ${outlet.isTaxIncluded ? 'within' : 'added'}` : '';
  return [share, fees.length > 0 ? `fees ${fees.join(' and ')}` : '', tax].filter(Boolean).join(', ') || 'nothing';
}

const Outlets = ({ outlets, closed, currency }: PricesPageProps) => (
  <section id="outlets">
    <DataTable
      caption="Outlets"
      columns={[
        { name: 'Outlet', kind: 'heading', cell: (row) => <a href={`/pricing/outlets/${row.id}`}>{row.name}</a> },
        { name: 'Kind', cell: (row) => kindWords[row.kind] },
        { name: 'Price', cell: (row) => ruleWords(row, currency) },
        { name: 'Taken from it', cell: (row) => takenWords(row, currency) },
        {
          name: 'Deposit',
          kind: 'number',
          cell: (row) => (row.depositRatio > 0 ? formatPercent(row.depositRatio) : '–'),
        },
      ]}
      rows={outlets}
    />
    {closed.length > 0 ? (
      <p>
        Closed:{' '}
        {closed.map((outlet, index) => (
          <>
            {index > 0 ? ', ' : ''}
            <a href={`/pricing/outlets/${outlet.id}`}>{outlet.name}</a>
          </>
        ))}
      </p>
    ) : null}
    <Actions>
      <LinkButton href="/pricing/outlets/new" kind="quiet">
        Add an outlet
      </LinkButton>
    </Actions>
  </section>
);

const Materials = ({ materials, currency, hasGrip }: PricesPageProps) => (
  <section id="materials">
    <h2>Other materials</h2>
    {materials.length === 0 ? (
      <p>Nothing beside yarn goes into a pair yet.</p>
    ) : (
      <DataTable
        caption="Other materials of a pair"
        isCaptionHidden
        columns={[
          {
            name: 'Material',
            kind: 'heading',
            cell: (row) => <a href={`/pricing/materials/${row.useId}`}>{row.name}</a>,
          },
          { name: 'Style', cell: (row) => row.styleName },
          { name: 'One costs', kind: 'number', cell: (row) => formatCents(row.eachCents, currency) },
          { name: 'In a pair', kind: 'number', cell: (row) => String(row.perPair) },
          {
            name: 'Take away',
            kind: 'action',
            cell: (row) => (
              <form method="post" action={`/pricing/materials/${row.useId}/remove`} class="inline-form">
                <Button kind="remove">
                  Take away<span class="visually-hidden"> {row.name}</span>
                </Button>
              </form>
            ),
          },
        ]}
        rows={materials}
      />
    )}
    {hasGrip ? null : (
      <Caution title="Smooth knitted soles slip on hard floors">
        A grip line or sole for each pair makes them safer.{' '}
        <a href="/pricing/materials/new?grip=yes">Add a grip line to what a pair costs</a>
      </Caution>
    )}
    <Actions>
      <LinkButton href="/pricing/materials/new" kind="quiet">
        Add a material
      </LinkButton>
    </Actions>
  </section>
);

const WorthTable = ({ pairs, currency }: { readonly pairs: readonly PairProps[]; readonly currency: string }) => (
  <DataTable
    caption="What a gift costs and is worth"
    columns={[
      { name: 'Pair', kind: 'heading', cell: (pair) => <a href={`/pricing/pair/${pair.lineId}`}>{pair.size}</a> },
      { name: 'Colours', kind: 'wide', cell: (pair) => <PairColours colours={pair.colours} /> },
      {
        name: 'Costs',
        kind: 'number',
        cell: (pair) =>
          pair.isCostUnknown ? notKnownYet : formatCents(pair.cost.totalCents - pair.cost.labourCents, currency),
      },
      { name: 'Time given', kind: 'number', cell: (pair) => formatMinutes(pair.minutes) },
      { name: 'Worth', kind: 'number', cell: (pair) => costWords(pair, currency) },
    ]}
    rows={pairs}
  />
);

/** Costs and prices of every kind of pair in the open orders. */
export const PricesPage = (props: PricesPageProps) => {
  const { sizes, sizePaging, pairPaging, outlets, currency, wageCents, purpose, referenceName } = props;
  const pairs = sizes.flatMap((size) => size.pairs);
  const shown = rowsOn(pairs, pairPaging);
  const isGiving = purpose === 'give';
  return (
    <Page
      title={titleOf(pairs, currency)}
      where={pairs.length > 0 ? 'Costs and prices' : undefined}
      current="pricing"
      purpose={purpose}
    >
      {pairs.length > 0 ? <FigureRow figures={figuresOf(props, pairs)} /> : null}
      {wageCents === 0 ? <NoWage /> : null}
      {pairs.length === 0 ? (
        <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
          With the first order its pairs are priced here.
        </EmptyState>
      ) : (
        <>
          <Actions>
            {isGiving ? null : <LinkButton href="/pricing/sheet">Price sheet to print</LinkButton>}
            <LinkButton href="/pricing/tags" kind="quiet">
              Tags and care cards
            </LinkButton>
            <LinkButton href="/pricing/hour" kind="quiet">
              What an hour costs
            </LinkButton>
          </Actions>
          {pairs.some((pair) => pair.isYarnPriceUnknown) ? (
            <Caution title="Some yarn has no price">
              {pairs.every((pair) => pair.isCostUnknown)
                ? 'Costs and prices follow from it.'
                : 'Costs marked “in part” are too low.'}{' '}
              <a href={enterPriceHref(props)}>Enter what the yarn costs</a>
            </Caution>
          ) : null}
          {isGiving ? (
            <WorthTable pairs={shown} currency={currency} />
          ) : (
            <>
              <PriceTable {...props} />
              <Pager paging={sizePaging} noun="Sizes" href={props.sizeHref} />
            </>
          )}
          {isGiving ? null : (
            <p class="soft">
              For {countOf(sizes.length, 'size', 'sizes')} in {countOf(pairs.length, 'kind', 'kinds')} of pair. Each
              size at its dearest colours, as knitted by {referenceName}: a price does not depend on who happens to
              knit.
            </p>
          )}
          {isGiving ? null : (
            <>
              <Groups groups={props.groups} currency={currency} />
              <OthersAsk range={props.othersAsk} currency={currency} />
            </>
          )}
          <CostTable pairs={shown} currency={currency} wageCents={wageCents} />
          <Pager paging={pairPaging} noun="Pairs" href={props.pairHref} />
        </>
      )}
      {outlets.length === 0 && props.closed.length === 0 ? (
        <EmptyState action={{ href: '/pricing/outlets/new', words: 'Add an outlet' }}>
          An outlet is where pairs go: a fair, orders, a shop, gifts. Prices are made for each.
        </EmptyState>
      ) : (
        <FoldOnPhone summary={`Outlets: ${outlets.map(({ name }) => name).join(', ')}`}>
          <Outlets {...props} />
        </FoldOnPhone>
      )}
      {props.hasGrip ? (
        <FoldOnPhone summary={`Other materials: ${props.materials.map(({ name }) => name).join(', ')}`}>
          <Materials {...props} />
        </FoldOnPhone>
      ) : (
        <Materials {...props} />
      )}
      <More isGiving={isGiving} />
      <p class="soft">Tax rules are local: check yours, or ask someone licensed to advise.</p>
    </Page>
  );
};
