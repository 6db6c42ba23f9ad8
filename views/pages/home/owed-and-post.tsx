import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents } from '#core/shared/format.ts';
import { formatDayShort } from '#views/format.ts';

export type OwedOrder = {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  /** Below 0 when it is to go back to the customer. */
  readonly cents: number;
  readonly why: 'ready' | 'deposit' | 'back';
};

export type OrderToPost = {
  readonly id: number;
  readonly number: number;
  readonly name: string;
  readonly postByDay: Day | null;
  readonly isPast: boolean;
  readonly arriveByDay: Day | null;
  readonly isReady: boolean;
  /** The day it is done as planned, when that is too late for the post. */
  readonly tooLateDay: Day | null;
};

const mostOwed = 8;
const whyWords = { ready: 'the pairs are done', deposit: 'deposit', back: 'to give back' } as const;

function titleOf(owed: readonly OwedOrder[], currency: string): string {
  const cents = owed.reduce((sum, order) => sum + Math.max(0, order.cents), 0);
  return cents > 0 ? `Owed: ${formatCents(cents, currency)}` : 'To give back';
}

/** What should be paid now, order by order. */
export const Owed = ({ owed, currency }: { readonly owed: readonly OwedOrder[]; readonly currency: string }) =>
  owed.length === 0 ? null : (
    <section id="owed">
      <h2>{titleOf(owed, currency)}</h2>
      <ul class="plain-list spaced">
        {owed.slice(0, mostOwed).map(({ id, number, name, cents, why }) => (
          <li>
            <a href={`/orders/${id}#money`}>
              {name} <small>order {number}</small>
            </a>
            : {formatCents(Math.abs(cents), currency)}, {whyWords[why]}
          </li>
        ))}
        {owed.length > mostOwed ? (
          <li>
            <a href="/orders">and {countOf(owed.length - mostOwed, 'more order', 'more orders')}</a>
          </li>
        ) : null}
      </ul>
    </section>
  );

function whenWords({ postByDay, isPast, arriveByDay, isReady, tooLateDay }: OrderToPost): string {
  const by = postByDay === null ? 'as soon as you can' : `by ${formatDayShort(postByDay)}`;
  const there = arriveByDay === null ? '' : `, to be there ${formatDayShort(arriveByDay)}`;
  const state = isReady
    ? 'finished'
    : tooLateDay === null
      ? 'still to knit'
      : `planned to be done ${formatDayShort(tooLateDay)}${isPast ? '' : ', too late for that'}`;
  return isPast ? `should have gone ${by}${there}; ${state}` : `${by}${there}; ${state}`;
}

/** What is to go by post within the week, or should have gone. */
export const ToPost = ({ toPost }: { readonly toPost: readonly OrderToPost[] }) =>
  toPost.length === 0 ? null : (
    <section id="to-post">
      <h2>To post</h2>
      <ul class="plain-list spaced">
        {toPost.map((order) => (
          <li>
            <a href={`/orders/${order.id}#post`}>
              {order.name} <small>order {order.number}</small>
            </a>
            :{' '}
            {order.isPast || order.tooLateDay !== null ? (
              <strong class="late-words">{whenWords(order)}</strong>
            ) : (
              whenWords(order)
            )}
          </li>
        ))}
      </ul>
    </section>
  );
