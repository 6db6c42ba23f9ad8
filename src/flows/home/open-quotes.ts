import { addDays, type Day } from '#core/shared/calendar.ts';
import type { OrdersSource } from '#flows/orders/read-orders.ts';

/** Quotes that wait for an answer, and those of them that run out within three days. */
export type OpenQuotes = {
  readonly count: number;
  readonly soon: readonly { readonly id: number; readonly name: string; readonly validUntilDay: Day }[];
};

/** A quote is named when it runs out this soon. Our own choice. */
const soonDays = 3;

export function openQuotes({ orders, today, settings }: OrdersSource): OpenQuotes {
  if (settings.purpose === 'give') return { count: 0, soon: [] };
  const open = orders.filter((order) => order.stateWords === 'asked');
  const soon = open.flatMap(({ id, number, customerName, row: { validUntilDay } }) =>
    validUntilDay !== null && validUntilDay <= addDays(today, soonDays)
      ? [{ id, name: customerName ?? `quote ${number}`, validUntilDay }]
      : [],
  );
  const byDay = soon.sort((a, b) =>
    a.validUntilDay < b.validUntilDay ? -1 : a.validUntilDay > b.validUntilDay ? 1 : 0,
  );
  return { count: open.length, soon: byDay };
}
