import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatCount, formatDay } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import { More, type OrderToPost, Owed, type OwedOrder, ToPost } from '#views/pages/home/owed-and-post.tsx';
import { MissingYarn, type ShortLot } from '#views/pages/shelf/short-pairs.tsx';

export type TodayOrder = {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  readonly dueDay: Day | null;
  readonly pairsLeft: number;
  readonly doneDay: Day | null;
  readonly daysLate: number | null;
  readonly isLate: boolean;
  readonly help: string | null;
  readonly promiseDay: Day | null;
};

export type TodayPageProps = {
  readonly today: Day;
  readonly currency: string;
  readonly purpose: 'sell' | 'order' | 'give';
  readonly hasOrders: boolean;
  readonly pairsToMake: number;
  readonly pairsInHand: number;
  readonly lastDay: Day | null;
  readonly dueCount: number;
  readonly duePairs: number;
  /** The first of them, as in every list here. */
  readonly dueThisWeek: readonly TodayOrder[];
  readonly lateCount: number;
  readonly late: readonly TodayOrder[];
  readonly yarn: readonly {
    readonly supplierId: number;
    readonly name: string;
    readonly cents: number;
    readonly grams: number;
    readonly orderByDay: Day | null;
  }[];
  readonly uncovered: readonly string[];
  /** Lots that lack yarn for begun pairs. */
  readonly short: readonly ShortLot[];
  readonly parcels: readonly {
    readonly purchaseId: number;
    readonly shop: string;
    readonly expectedDay: Day;
    readonly isOverdue: boolean;
  }[];
  readonly money: {
    readonly netCents: number;
    readonly outlayCents: number | null;
    readonly hourWorthCents: number | null;
    readonly withoutPrice: number;
  };
  readonly quotes: {
    readonly count: number;
    readonly soon: readonly { readonly id: number; readonly name: string; readonly validUntilDay: Day }[];
  };
  readonly owedCount: number;
  readonly owedCents: number;
  readonly owed: readonly OwedOrder[];
  readonly toPostCount: number;
  readonly toPost: readonly OrderToPost[];
  readonly cautions: readonly {
    readonly title: string;
    readonly sentence: string;
    readonly href: string;
    readonly words: string;
  }[];
  readonly next: { readonly href: string; readonly words: string };
};

function titleOf({ hasOrders, lateCount, duePairs, pairsToMake }: TodayPageProps): string {
  if (!hasOrders) return 'Ready for the first order';
  if (lateCount > 0) return `${countOf(lateCount, 'order', 'orders')} late as planned`;
  if (duePairs > 0) return `${countOf(duePairs, 'pair', 'pairs')} due within a week`;
  return pairsToMake > 0 ? 'Nothing is due this week' : 'Nothing to knit just now';
}

function makeWords({ pairsToMake, pairsInHand, lastDay }: TodayPageProps): string {
  const inHand = pairsInHand > 0 ? `${formatCount(pairsInHand)} of them in hand` : 'none in hand yet';
  if (pairsToMake === 0) return 'to make';
  return `to make, ${inHand}; ${lastDay ? `the last is done ${formatDayShort(lastDay)}` : 'some have nobody to knit them'}`;
}

function figuresOf(props: TodayPageProps): FigureEntry[] {
  const { pairsToMake, lateCount, money, currency, purpose, yarn, uncovered } = props;
  const figures: FigureEntry[] = [
    {
      value: countOf(pairsToMake, 'pair', 'pairs'),
      words: makeWords(props),
      href: '/batch',
    },
    lateCount > 0
      ? { value: countOf(lateCount, 'order', 'orders'), words: 'late as planned', tone: 'late', href: '#late' }
      : { value: 'None', words: 'late as planned', tone: 'done' },
  ];
  const yarnCents = yarn.reduce((sum, each) => sum + each.cents, 0);
  if (purpose !== 'give') {
    figures.push({
      value: yarn.length === 0 && uncovered.length > 0 ? 'Not known yet' : formatCents(yarnCents, currency),
      words:
        uncovered.length === 0
          ? 'of yarn to buy, postage with it'
          : yarn.length === 0
            ? 'what the yarn to buy costs'
            : 'of yarn to buy, postage with it, and colours without a shop',
      href: '/buying',
    });
  } else {
    const grams = yarn.reduce((sum, each) => sum + each.grams, 0);
    figures.push({ value: formatMass(grams), words: 'of yarn to find', href: '/buying' });
  }
  if (purpose !== 'give' && money.hourWorthCents !== null) {
    const isEarning = money.hourWorthCents >= 0;
    figures.push({
      value: formatCents(money.hourWorthCents, currency),
      words: isEarning ? 'earned in an hour at these prices' : 'an hour: the prices do not get the money back',
      href: '/pricing',
      ...(isEarning ? {} : { tone: 'late' as const }),
    });
  }
  return figures;
}

const OrderLink = ({ order }: { readonly order: TodayOrder }) => (
  <a href={`/orders/${order.id}`}>
    {order.name} <small>order {order.number}</small>
  </a>
);

function lateWords(order: TodayOrder): string {
  if (order.daysLate === null) return 'has nobody to knit it';
  return `${countOf(order.daysLate, 'day', 'days')} late`;
}

type ListProps = { readonly orders: readonly TodayOrder[]; readonly count: number };

const Late = ({ orders, count }: ListProps) => (
  <section id="late">
    <h2>Late, and what would help</h2>
    <ul class="plain-list spaced">
      {orders.map((order) => (
        <li>
          <strong class="late-words">{lateWords(order)}:</strong> <OrderLink order={order} />
          {order.dueDay ? `, due ${formatDayShort(order.dueDay)}` : null}
          {order.help ? <p class="soft">{order.help}</p> : null}
          {order.promiseDay ? (
            <p class="soft">Or promise {formatDayShort(order.promiseDay)}: by then it is done as planned.</p>
          ) : null}
        </li>
      ))}
      <More shown={orders.length} count={count} href="/batch/late" />
    </ul>
  </section>
);

const DueTable = ({ orders, count }: ListProps) => (
  <>
    <DataTable
      caption="Due within a week"
      columns={[
        { name: 'Order', kind: 'heading', cell: (order) => <OrderLink order={order} /> },
        { name: 'Due', cell: (order) => (order.dueDay ? formatDayShort(order.dueDay) : '–') },
        { name: 'Pairs left', kind: 'number', cell: (order) => order.pairsLeft },
        { name: 'Done as planned', cell: (order) => (order.doneDay ? formatDayShort(order.doneDay) : 'not planned') },
        { name: 'So', cell: (order) => (order.isLate ? lateWords(order) : 'in time') },
      ]}
      rows={orders}
      rowId={(order) => `order-${order.id}`}
    />
    {count > orders.length ? (
      <ul class="plain-list">
        <More shown={orders.length} count={count} href="/orders" />
      </ul>
    ) : null}
  </>
);

const Parcels = ({ parcels, today }: Pick<TodayPageProps, 'parcels' | 'today'>) =>
  parcels.length === 0 ? null : (
    <section id="parcels">
      <h2>Parcels</h2>
      <ul class="plain-list spaced">
        {parcels.map(({ purchaseId, shop, expectedDay, isOverdue }) => (
          <li>
            <a href={`/buying/purchases/${purchaseId}`}>Yarn from {shop}</a>
            {isOverdue ? (
              <strong class="late-words">, overdue since {formatDayShort(expectedDay)}</strong>
            ) : expectedDay === today ? (
              ', due today'
            ) : (
              `, due ${formatDayShort(expectedDay)}`
            )}
          </li>
        ))}
      </ul>
    </section>
  );

const Yarn = ({ yarn, uncovered, short, today, currency, purpose }: TodayPageProps) => (
  <section>
    <h2>Yarn to order</h2>
    <MissingYarn short={short} />
    {yarn.length === 0 && uncovered.length === 0 && short.length === 0 ? (
      <p>Nothing to order: what is here or on the way is enough.</p>
    ) : null}
    <ul class="plain-list spaced">
      {yarn.map((each) => (
        <li>
          <a href="/buying">{each.name}</a>: {formatMass(each.grams)}
          {purpose === 'give' ? null : `, ${formatCents(each.cents, currency)}`}
          {each.orderByDay === null ? null : each.orderByDay <= today ? (
            <strong class="late-words">, order it now</strong>
          ) : (
            `, order by ${formatDayShort(each.orderByDay)}`
          )}
        </li>
      ))}
      {uncovered.length > 0 ? (
        <li>
          No shop is known for {uncovered.join(', ')}. <a href="/buying">Add where to buy it</a>
        </li>
      ) : null}
    </ul>
  </section>
);

const Money = ({ money, currency }: TodayPageProps) => (
  <section>
    <h2>Money ahead</h2>
    <p>
      {money.netCents > 0 || money.withoutPrice === 0
        ? `The pairs to make bring in ${formatCents(money.netCents, currency)} after tax and fees. `
        : null}
      {money.outlayCents === null ? (
        <>
          What they cost is not known yet: <a href="/buying">enter what the yarn costs</a>, and{' '}
          <a href="/pricing/hour">what an hour is worth to you</a>, if it is to count.
        </>
      ) : (
        `They take ${formatCents(money.outlayCents, currency)} for yarn, materials and running costs.`
      )}
      {money.hourWorthCents === null
        ? null
        : money.hourWorthCents >= 0
          ? ` An hour on the pairs to sell earns ${formatCents(money.hourWorthCents, currency)}.`
          : ' At these prices the pairs to sell do not get their money back.'}
      {money.withoutPrice > 0 ? ` ${countOf(money.withoutPrice, 'pair has', 'pairs have')} no price yet.` : null}
    </p>
    <p class="no-print">
      <a href="/pricing">Costs and prices</a>
    </p>
  </section>
);

/** Quotes without an answer, and those that soon run out. */
const Quotes = ({ quotes: { count, soon } }: Pick<TodayPageProps, 'quotes'>) =>
  count === 0 ? null : (
    <p>
      <a href="/orders/quotes">{countOf(count, 'open quote', 'open quotes')}</a>
      {soon.length === 0
        ? ', none of which runs out within three days.'
        : soon.map(({ id, name, validUntilDay }, index) => (
            <>
              {index === 0 ? ': ' : ', '}
              <a href={`/orders/${id}/quote`}>{name}</a> runs out after {formatDayShort(validUntilDay)}
            </>
          ))}
      {soon.length === 0 ? null : '.'}
    </p>
  );

/** The page of the day. */
export const TodayPage = (props: TodayPageProps) => {
  const { today, purpose, dueThisWeek, late, cautions, next, pairsToMake, hasOrders } = props;
  return (
    <Page title={titleOf(props)} where={`Today, ${formatDay(today)}`} current="home" purpose={purpose}>
      {hasOrders ? <FigureRow figures={figuresOf(props)} /> : null}
      <Actions>
        <LinkButton href={next.href}>{next.words}</LinkButton>
        {next.href === '/orders/new' ? null : (
          <LinkButton href="/orders/new" kind="quiet">
            Add an order
          </LinkButton>
        )}
        <LinkButton href="/try" kind="quiet">
          Try one pair
        </LinkButton>
      </Actions>
      {cautions.map((caution) => (
        <Caution title={caution.title}>
          {caution.sentence} <a href={caution.href}>{caution.words}</a>
        </Caution>
      ))}
      {late.length > 0 ? <Late orders={late} count={props.lateCount} /> : null}
      {dueThisWeek.length > 0 ? (
        <DueTable orders={dueThisWeek} count={props.dueCount} />
      ) : !hasOrders ? (
        <EmptyState>
          An order says who or what for, the size and the colours. Out come{' '}
          {purpose === 'give'
            ? 'the yarn it takes, who knits it and the days.'
            : 'the yarn to buy, the days and the price.'}
        </EmptyState>
      ) : pairsToMake === 0 ? (
        <EmptyState>Everything ordered is done. A new order begins the next round.</EmptyState>
      ) : (
        <p>Nothing is due within a week.</p>
      )}
      {props.owed.length + props.toPost.length > 0 ? (
        <div class="columns">
          <ToPost {...props} />
          <Owed {...props} />
        </div>
      ) : null}
      <Quotes {...props} />
      {pairsToMake > 0 ? (
        <div class="columns">
          <Yarn {...props} />
          <Parcels {...props} />
          {purpose === 'give' ? null : <Money {...props} />}
        </div>
      ) : null}
    </Page>
  );
};
