import type { Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';

/** A begun pair, as a maker knows it. */
export type NamedPair = {
  readonly id: number;
  readonly sizeWords: string;
  /** Who wants it: a customer, or an outlet; null for a spare. */
  readonly whom: string | null;
  readonly orderNumber: number | null;
  readonly dueDay: Day | null;
};

/**
 * A begun pair by its number, its size, who wants it and when.
 *
 * @example namePair({ id: 3, sizeWords: 'woman EU 38', whom: 'Hilda', orderNumber: 2, dueDay: '2027-02-01' }) // => 'pair 3, woman EU 38, for Hilda (order 2), due Mon 1 Feb 2027'
 * @example namePair({ id: 4, sizeWords: 'man EU 43', whom: null, orderNumber: null, dueDay: null }) // => 'pair 4, man EU 43, a spare'
 */
export function namePair({ id, sizeWords, whom, orderNumber, dueDay }: NamedPair): string {
  const order = orderNumber === null ? '' : ` (order ${orderNumber})`;
  return [
    `pair ${id}, ${sizeWords}`,
    whom === null ? 'a spare' : `for ${whom}${order}`,
    dueDay === null ? null : `due ${formatDay(dueDay)}`,
  ]
    .filter(Boolean)
    .join(', ');
}
