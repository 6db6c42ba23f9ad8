import type { Day } from '#core/shared/calendar.ts';
import type { OrdersSource } from '#flows/orders/read-orders.ts';

/** What the plan says of an order or one of its lines. */
export type Forecast = {
  readonly minutes: number;
  /** The day the last of its pairs is done; null while nobody can say. */
  readonly readyDay: Day | null;
  readonly isLate: boolean;
  readonly knitters: readonly string[];
  /** Pairs that finished stock answers. */
  readonly fromStock: number;
};

function latest(days: readonly (Day | null)[]): Day | null {
  if (days.length === 0 || days.includes(null)) return null;
  return (days as readonly Day[]).toSorted().at(-1)!;
}

/** What the plan says of some lines that belong together. */
export function forecastOf(source: OrdersSource, lineIds: readonly number[], dueDay: Day | null): Forecast {
  const { plan, input } = source.plan;
  const wanted = new Set(
    plan.wanted.pairs.flatMap((pair) => (pair.lineId !== null && lineIds.includes(pair.lineId) ? [pair.key] : [])),
  );
  const weeks = plan.weeks.filter((each) => wanted.has(each.pairKey));
  const readyDay = latest(weeks.map((each) => each.finishDay));
  const names = new Map(input.knitters.map((knitter) => [knitter.id, knitter.name]));
  const knitterIds = [...new Set(weeks.flatMap((each) => each.knitterId ?? []))];
  return {
    minutes: weeks.reduce((sum, each) => sum + each.minutes, 0),
    readyDay,
    isLate: readyDay !== null && dueDay !== null && readyDay > dueDay,
    knitters: knitterIds.flatMap((id) => names.get(id) ?? []),
    fromStock: plan.wanted.fromStock.filter((each) => lineIds.includes(each.lineId)).length,
  };
}
