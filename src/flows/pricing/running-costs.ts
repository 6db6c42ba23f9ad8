import { type BreakEvenPair, breakEvenOfMix, carriedCents } from '#core/pricing/earned-back.ts';
import { netOf } from '#core/pricing/price.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { listPairEvents, listPairs } from '#db/stores/batch.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';

/** A stretch of time: what was paid in it, and what of it the pairs that went out for money carry. */
export type RunningPeriod = {
  readonly words: string;
  readonly fromDay: Day;
  readonly paidCents: number;
  readonly pairs: number;
  readonly minutes: number;
  readonly carriedCents: number;
};

export type RunningCosts = {
  readonly periods: readonly RunningPeriod[];
  /** Pairs like those on order that earn a usual month's running costs; null without a price or a cost. */
  readonly breakEven: Result<BreakEvenPair> | null;
};

type Gone = { readonly day: Day; readonly minutes: number };

/** Pairs that went out for money, with the day and the work that is in them. */
async function goneForMoney(workshop: Workshop, timeZone: string): Promise<Gone[]> {
  const [pairs, events] = await workshop.store.read(async (db) => db.batch([listPairs(db), listPairEvents(db)]));
  const lastLeft = new Map<number, number>();
  for (const { pairId, event, atMs } of events) {
    if (event === 'sold' || event === 'handed over') lastLeft.set(pairId, atMs);
  }
  return pairs.flatMap(({ id, left, specJson }) => {
    const atMs = lastLeft.get(id);
    if ((left !== 'sold' && left !== 'handed over') || atMs === undefined) return [];
    return [{ day: todayIn(new Date(atMs), timeZone), minutes: readFrozen(specJson).estimate.minutes }];
  });
}

/** What the pairs on order leave, each at its price agreed or else the outlet's, when its work is paid; gifts apart. */
function mixOnOrder(plan: WorkshopPlan) {
  const { rows } = plan;
  return rows.orders
    .filter((order) => order.state === 'agreed')
    .flatMap((order) => {
      const outlet = rows.outlets.find((each) => each.id === order.outletId);
      if (!outlet || outlet.kind === 'gift') return [];
      return rows.lines
        .filter((line) => line.orderId === order.id)
        .flatMap((line) => {
          const kind = plan.kindOfLine.get(line.id);
          if (!kind) return [];
          const { cost } = priceOfKind(plan, kind);
          const net =
            line.agreedCents === null
              ? priceOfPair(plan, kind, outlet.id, { styleId: line.styleId }).netCents
              : netOf(line.agreedCents, outlet).netCents;
          if (net === null) return [];
          return [{ pairs: line.quantity, contributionCents: net - (cost.totalCents - cost.overheadCents) }];
        });
    });
}

/** Whether running costs are earned back: what was paid, what sold pairs carry, and how many pairs a usual month takes. */
export async function readRunningCosts(workshop: Workshop, plan: WorkshopPlan): Promise<RunningCosts> {
  const { today, settings, rows, input } = plan;
  const gone = await goneForMoney(workshop, settings.timeZone);
  const rate = input.settings.overheadCentsPerHour;
  const periodOf = (words: string, fromDay: Day): RunningPeriod => {
    const inIt = gone.filter(({ day }) => day >= fromDay && day <= today);
    const minutes = inIt.reduce((sum, each) => sum + each.minutes, 0);
    const paidCents = rows.expenses
      .filter(({ day }) => day >= fromDay && day <= today)
      .reduce((sum, { cents }) => sum + cents, 0);
    return { words, fromDay, paidCents, pairs: inIt.length, minutes, carriedCents: carriedCents(minutes, rate) };
  };
  const fixedCents = settings.runningCostsCentsPerMonth;
  const mix = fixedCents > 0 ? mixOnOrder(plan) : [];
  return {
    periods: [
      periodOf('This month', `${today.slice(0, 8)}01`),
      periodOf('The last twelve months', addDays(today, -364)),
    ],
    breakEven: mix.length > 0 ? breakEvenOfMix(fixedCents, mix) : null,
  };
}
