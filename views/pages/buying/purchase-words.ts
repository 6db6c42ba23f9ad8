import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatDay } from '#core/shared/format.ts';
import { formatDayShort } from '#views/format.ts';
import type { BuyingColour } from '#views/pages/buying/colour-and-yarn.tsx';

export type PurchaseProps = {
  readonly purchase: {
    readonly id: number;
    readonly state: 'ordered' | 'arrived' | 'cancelled';
    readonly orderedDay: Day;
    readonly expectedDay: Day;
    readonly shippingCents: number;
    readonly offCents: number;
  };
  readonly shop: { readonly id: number; readonly name: string };
  readonly lines: readonly {
    readonly line: {
      readonly id: number;
      readonly ballMg: number;
      readonly ballsPerPack: number;
      readonly packs: number;
      readonly arrivedPacks: number;
      readonly priceCents: number;
    };
    readonly colour: BuyingColour;
    readonly missing: number;
    readonly landedCents: number;
  }[];
  readonly goodsCents: number;
  readonly totalCents: number;
  readonly arrivedPacks: number;
  readonly missingPacks: number;
  readonly daysOverdue: number;
  readonly waitingPairs: number;
  readonly waitingOrders: readonly {
    readonly id: number;
    readonly number: number;
    readonly name: string;
    readonly dueDay: Day | null;
    readonly isLate: boolean;
  }[];
};

/** "here by Fri 4 Dec", "due today", "3 days overdue". */
export function whenWords({ purchase, daysOverdue }: PurchaseProps, today: Day): string {
  if (daysOverdue > 0) {
    return `${countOf(daysOverdue, 'day', 'days')} overdue: it was to be here on ${formatDayShort(purchase.expectedDay)}`;
  }
  if (purchase.expectedDay === today) return 'should be here today';
  return `should be here on ${formatDayShort(purchase.expectedDay)}`;
}

/** What of an open purchase is here, or else when it should be: "3 of 5 packs are here". */
export function hereWords(view: PurchaseProps, today: Day): string {
  const { arrivedPacks, missingPacks } = view;
  if (arrivedPacks === 0) return whenWords(view, today);
  return `${arrivedPacks} of ${countOf(arrivedPacks + missingPacks, 'pack is', 'packs are')} here`;
}

/** The state of a purchase as one sentence part. */
export function stateWords(view: PurchaseProps, today: Day): string {
  const { purchase, arrivedPacks } = view;
  if (purchase.state === 'arrived') return `ordered ${formatDay(purchase.orderedDay)}, all of it here`;
  if (purchase.state === 'cancelled') {
    const here = arrivedPacks > 0 ? `; ${countOf(arrivedPacks, 'pack', 'packs')} of it came` : '';
    return `ordered ${formatDay(purchase.orderedDay)}, cancelled${here}`;
  }
  return arrivedPacks > 0 ? `${hereWords(view, today)}; the rest ${whenWords(view, today)}` : whenWords(view, today);
}
