import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { listInWords, upperFirst } from '#views/pages/batch/count-words.ts';
import { ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';
import { type PurchaseProps, stateWords } from '#views/pages/buying/purchase-words.ts';
import { countPacks } from '#views/pages/buying/shopping-list.tsx';

export type PurchasesPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly today: Day;
  readonly onTheirWay: readonly PurchaseProps[];
  readonly closed: readonly PurchaseProps[];
  /** What just happened; null otherwise. */
  readonly notice: string | null;
};

type WaitingOrder = PurchaseProps['waitingOrders'][number];

/** As many orders of one name are linked; of more the list is not read. */
const mostOrders = 3;

/** "Mara Linden, order 4", or "By order, orders 3, 4, 8 and 23 more". */
const OrdersOf = ({ name, orders }: { readonly name: string; readonly orders: readonly WaitingOrder[] }) => {
  const shown = orders.length === mostOrders + 1 ? orders : orders.slice(0, mostOrders);
  const more = orders.length - shown.length;
  return (
    <>
      {name}, {orders.length === 1 ? 'order' : 'orders'}{' '}
      {shown.map(({ id, number }, i) => (
        <>
          {i === 0 ? '' : i === shown.length - 1 && more === 0 ? ' and ' : ', '}
          <a href={`/orders/${id}`}>{number}</a>
        </>
      ))}
      {more > 0 ? ` and ${more} more` : ''}
    </>
  );
};

/** Who waits for a purchase, and whom it makes late. */
export const Waiting = ({ view }: { readonly view: PurchaseProps }) => {
  const { waitingPairs, waitingOrders } = view;
  if (waitingPairs === 0) return <p class="soft">No pair waits for it.</p>;
  const late = waitingOrders.filter(({ isLate }) => isLate);
  const names = [...new Set(waitingOrders.map(({ name }) => name))];
  return (
    <p>
      {countOf(waitingPairs, 'pair waits', 'pairs wait')} for it
      {names.map((name, i) => (
        <>
          {i === 0 ? ': ' : '; '}
          <OrdersOf name={name} orders={waitingOrders.filter((order) => order.name === name)} />
        </>
      ))}
      .{' '}
      {late.length > 0 ? (
        <strong class="late-words">
          {late.length === 1 ? 'Order' : 'Orders'} {listInWords(late.map(({ number }) => String(number)))}{' '}
          {late.length === 1 ? 'is' : 'are'} late as planned.
        </strong>
      ) : null}
    </p>
  );
};

const PurchaseEntry = ({
  view,
  currency,
  today,
}: { readonly view: PurchaseProps } & Pick<PurchasesPageProps, 'currency' | 'today'>) => {
  const { purchase, shop, lines, totalCents, daysOverdue } = view;
  const isOpen = purchase.state === 'ordered';
  const words = upperFirst(stateWords(view, today));
  return (
    <section class="card" id={`purchase-${purchase.id}`}>
      <h3>
        <a href={`/buying/purchases/${purchase.id}`}>{shop.name}</a> <small>{formatCents(totalCents, currency)}</small>
      </h3>
      <p>{daysOverdue > 0 ? <strong class="late-words">{words}</strong> : words}.</p>
      <ul class="plain-list">
        {lines.map(({ line, colour, missing }) => (
          <li>
            <ColourAndYarn colour={colour} /> {countPacks({ packs: line.packs, offer: line })}
            {isOpen && line.arrivedPacks > 0 ? (missing === 0 ? ', here' : `, ${missing} to come`) : ''}
          </li>
        ))}
      </ul>
      {isOpen ? <Waiting view={view} /> : null}
      {isOpen ? (
        <Actions>
          <LinkButton href={`/buying/purchases/${purchase.id}`} kind="quiet">
            It is here, or a part of it
            <span class="visually-hidden">: {shop.name}</span>
          </LinkButton>
        </Actions>
      ) : null}
    </section>
  );
};

function titleOf({ onTheirWay }: PurchasesPageProps): string {
  const overdue = onTheirWay.filter(({ daysOverdue }) => daysOverdue > 0).length;
  if (overdue > 0) return `${countOf(overdue, 'parcel is', 'parcels are')} overdue`;
  return onTheirWay.length > 0
    ? `${countOf(onTheirWay.length, 'parcel', 'parcels')} on the way`
    : 'Nothing is on its way';
}

/** What was ordered, what of it is here, and who waits for the rest. */
export const PurchasesPage = (props: PurchasesPageProps) => {
  const { purpose, onTheirWay, closed, notice } = props;
  return (
    <Page title={titleOf(props)} where={<a href="/buying">Yarn to buy</a>} current="buying" purpose={purpose}>
      {notice ? (
        <p class="notice" role="status">
          {notice}
        </p>
      ) : null}
      {onTheirWay.length === 0 && closed.length === 0 ? (
        <EmptyState action={{ href: '/buying/purchases/new', words: 'I ordered something' }}>
          Write down what you order: its yarn then counts as shelf from the day it should be here, and is not bought
          twice.
        </EmptyState>
      ) : (
        <Actions>
          <LinkButton href="/buying/purchases/new">I ordered something</LinkButton>
          <LinkButton href="/buying/elsewhere" kind="quiet">
            I bought it elsewhere
          </LinkButton>
        </Actions>
      )}
      {onTheirWay.length > 0 ? (
        <section>
          <h2>On the way</h2>
          <div class="stack">
            {onTheirWay.map((view) => (
              <PurchaseEntry {...props} view={view} />
            ))}
          </div>
        </section>
      ) : null}
      {closed.length > 0 ? (
        <FoldOnPhone summary={`Earlier: ${countOf(closed.length, 'purchase', 'purchases')}`}>
          <section>
            <h2>Earlier</h2>
            <div class="stack">
              {closed.slice(0, 50).map((view) => (
                <PurchaseEntry {...props} view={view} />
              ))}
            </div>
          </section>
        </FoldOnPhone>
      ) : null}
    </Page>
  );
};
