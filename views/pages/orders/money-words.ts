import type { PaymentKind, PaymentWay } from '#core/pricing/order-money.ts';
import { countOf, formatCents, formatMinutes } from '#core/shared/format.ts';

export const kindWords: Readonly<Record<PaymentKind, string>> = {
  deposit: 'Deposit',
  balance: 'Balance',
  returned: 'Given back',
};

export const wayWords: Readonly<Record<PaymentWay, string>> = {
  cash: 'cash',
  card: 'card',
  transfer: 'bank transfer',
  other: 'another way',
};

/** "10 min and €0.60 of material", or what there is of it; empty for neither. */
export function extraTakes(minutes: number, materialCents: number, currency: string): string {
  return [
    minutes > 0 ? formatMinutes(minutes) : '',
    materialCents > 0 ? `${formatCents(materialCents, currency)} of material` : '',
  ]
    .filter(Boolean)
    .join(' and ');
}

/** "2 days in the post". */
export function daysInPost(days: number): string {
  return days === 0 ? 'there the same day' : `${countOf(days, 'day', 'days')} in the post`;
}
