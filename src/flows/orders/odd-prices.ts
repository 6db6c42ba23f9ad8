import { oddPrice } from '#core/pricing/odd-price.ts';
import { formatCents } from '#core/shared/format.ts';
import type { OrderView } from '#flows/orders/read-orders.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** Agreed prices of an order that look mistyped, a sentence each with the figures. */
export function oddPricesOf(plan: WorkshopPlan, order: OrderView): string[] {
  const money = (cents: number) => formatCents(cents, plan.settings.currency);
  const sentences = order.lines.flatMap(({ id, size, agreedCents }) => {
    const kind = plan.kindOfLine.get(id);
    if (agreedCents === null || !kind) return [];
    const { cost, isCostUnknown } = priceOfKind(plan, kind);
    if (isCostUnknown) return [];
    const { priceCents } = priceOfPair(plan, kind, order.outletId);
    const odd = oddPrice(agreedCents, cost.totalCents, priceCents);
    if (odd === null) return [];
    const beside =
      odd === 'far below cost'
        ? `such a pair costs you ${money(cost.totalCents)}`
        : `your usual price is ${money(priceCents!)}`;
    return [`${money(agreedCents)} was agreed for ${size}; ${beside}.`];
  });
  return [...new Set(sentences)];
}
