import type { Outlet } from '#core/pricing/outlet.ts';
import { hourWorth, netOf } from '#core/pricing/price.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** What the pairs still to make bring in and cost, gifts' costs included. */
export type MoneyAhead = {
  /** After tax and fees, at the prices agreed or else at the outlets'. */
  readonly netCents: number;
  /** Yarn, other materials and running costs: all but labour; null while the cost of a pair is not known. */
  readonly outlayCents: number | null;
  /** What an hour earns over the pairs that are sold; null without any. */
  readonly hourWorthCents: number | null;
  /** Pairs to sell that have no price. */
  readonly withoutPrice: number;
};

/** Money of the pairs still to make, from the plan's own costs: the same yarn, minutes and prices as everywhere. */
export function moneyAhead(current: WorkshopPlan): MoneyAhead {
  const { plan, input, rows } = current;
  const outlets = new Map<number, Outlet>(input.outlets.map((outlet) => [outlet.id, outlet]));
  const lines = new Map(rows.lines.map((line) => [line.id, line]));
  const outletOfOrder = new Map(rows.orders.map((order) => [order.id, outlets.get(order.outletId)]));
  const costs = new Map(plan.costs.pairs.map((each) => [each.key, each.cost]));
  // A pair's whole time, begun or not: its price pays for all of it.
  const knitterOf = new Map(plan.weeks.map((each) => [each.pairKey, each.knitterId]));
  const sum = { netCents: 0, outlayCents: 0, soldOutlayCents: 0, soldMinutes: 0, withoutPrice: 0 };
  for (const pair of plan.wanted.pairs) {
    const cost = costs.get(pair.key);
    const outlay = cost ? cost.totalCents - cost.labourCents : 0;
    sum.outlayCents += outlay;
    const outlet = pair.orderId === null ? undefined : outletOfOrder.get(pair.orderId);
    if (!outlet || outlet.kind === 'gift') continue;
    const agreed = pair.lineId === null ? null : (lines.get(pair.lineId)?.agreedCents ?? null);
    const net = agreed === null ? priceOfPair(current, pair.kind, outlet.id).netCents : netOf(agreed, outlet).netCents;
    if (net === null) {
      sum.withoutPrice += 1;
      continue;
    }
    sum.netCents += net;
    sum.soldOutlayCents += outlay;
    sum.soldMinutes += plan.handwork.minutesOf(pair.kind, knitterOf.get(pair.key) ?? null);
  }
  const isKnown = !plan.wanted.pairs.some((pair) => priceOfKind(current, pair.kind).isCostUnknown);
  return {
    netCents: sum.netCents,
    outlayCents: isKnown ? sum.outlayCents : null,
    hourWorthCents:
      isKnown && sum.soldMinutes > 0 ? hourWorth(sum.netCents, sum.soldOutlayCents, sum.soldMinutes) : null,
    withoutPrice: sum.withoutPrice,
  };
}
