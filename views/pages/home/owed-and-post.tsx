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

const whyWords = { ready: 'the pairs are done', deposit: 'deposit', back: 'to give back' } as const;

type MoreProps = { readonly shown: number; readonly count: number; readonly href: string };

/** How many more orders a list has than it names, and where they are. */
export const More = ({ shown, count, href }: MoreProps) =>
  count > shown ? (
    <li>
      <a href={href}>and {countOf(count - shown, 'more order', 'more orders')}</a>
    </li>
  ) : null;

type OwedProps = {
  readonly owed: readonly OwedOrder[];
  readonly owedCount: number;
  readonly owedCents: number;
  readonly currency: string;
};

/** What should be paid now, order by order. */
export const Owed = ({ owed, owedCount, owedCents, currency }: OwedProps) =>
  owed.length === 0 ? null : (
    <section id="owed">
      <h2>{owedCents > 0 ? `Owed: ${formatCents(owedCents, currency)}` : 'To give back'}</h2>
      <ul class="plain-list spaced">
        {owed.map(({ id, number, name, cents, why }) => (
          <li>
            <a href={`/orders/${id}#money`}>
              {name} <small>order {number}</small>
            </a>
            : {formatCents(Math.abs(cents), currency)}, {whyWords[why]}
          </li>
        ))}
        <More shown={owed.length} count={owedCount} href="/orders?show=owed" />
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
export const ToPost = ({
  toPost,
  toPostCount,
}: {
  readonly toPost: readonly OrderToPost[];
  readonly toPostCount: number;
}) =>
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
        <More shown={toPost.length} count={toPostCount} href="/orders?show=post" />
      </ul>
    </section>
  );
