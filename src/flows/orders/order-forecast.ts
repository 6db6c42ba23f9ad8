import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { OrdersSource } from '#flows/orders/read-orders.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';

/** What the plan says of an order or one of its lines. */
export type Forecast = {
  readonly minutes: number;
  /** The day the last of its pairs is done; null while nobody can say. */
  readonly readyDay: Day | null;
  readonly isLate: boolean;
  readonly knitters: readonly string[];
  /** Why one of its pairs has no day; null when all have. */
  readonly reason: string | null;
  /** Pairs that finished stock answers. */
  readonly fromStock: number;
};

function latest(days: readonly (Day | null)[]): Day | null {
  if (days.length === 0 || days.includes(null)) return null;
  return (days as readonly Day[]).toSorted().at(-1)!;
}

/** Every line's pairs as they are laid out, and how many pairs finished stock answers: looked through once for a plan. */
const byLine = remember(({ plan, input }: WorkshopPlan) => {
  const planned = plan.wanted.pairs.map(({ lineId }, index) => ({ lineId, days: plan.weeks[index]! }));
  return {
    weeks: groupBy(planned, ({ lineId }) => lineId),
    fromStock: groupBy(plan.wanted.fromStock, ({ lineId }) => lineId),
    names: new Map(input.knitters.map((knitter) => [knitter.id, knitter.name])),
  };
});

/** What the plan says of some lines that belong together. */
export function forecastOf(source: OrdersSource, lineIds: readonly number[], dueDay: Day | null): Forecast {
  const { weeks, fromStock, names } = byLine(source.plan);
  const own = lineIds.flatMap((id) => weeks.get(id) ?? []).map(({ days }) => days);
  const readyDay = latest(own.map((each) => each.finishDay));
  const knitterIds = [...new Set(own.flatMap((each) => each.knitterId ?? []))];
  return {
    minutes: own.reduce((sum, each) => sum + each.minutes, 0),
    readyDay,
    isLate: readyDay !== null && dueDay !== null && readyDay > dueDay,
    knitters: knitterIds.flatMap((id) => names.get(id) ?? []),
    reason: own.find((each) => each.finishDay === null)?.reason ?? null,
    fromStock: lineIds.reduce((sum, id) => sum + (fromStock.get(id)?.length ?? 0), 0),
  };
}
