import { plan as planAll } from '#core/plan.ts';
import type { Outlet } from '#core/pricing/outlet.ts';
import { overheadRate } from '#core/pricing/overhead.ts';
import { priceFor } from '#core/pricing/price-sheet.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { type PairPrice, priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { PricesView } from '#flows/pricing/read-prices.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** What may be tried: what an hour costs, and what shops ask for yarn. */
export type Trial = Pick<Settings, 'wageCentsPerHour' | 'runningCostsCentsPerMonth' | 'plannedHoursPerMonth'> & {
  /** 0.1 for a tenth more, -0.1 for a tenth less. */
  readonly yarnChangeRatio: number;
  /** Fees and tax at the outlet that is looked at; null where they stay. */
  readonly feeRatio: number | null;
  readonly taxRatio: number | null;
};

export function trialNow({ settings }: WorkshopPlan): Trial {
  const { wageCentsPerHour, runningCostsCentsPerMonth, plannedHoursPerMonth } = settings;
  return {
    wageCentsPerHour,
    runningCostsCentsPerMonth,
    plannedHoursPerMonth,
    yarnChangeRatio: 0,
    feeRatio: null,
    taxRatio: null,
  };
}

/**
 * The workshop planned anew with other costs; nothing is stored. Yarn on the shelf costs what it cost.
 *
 * @param outletId where the fees and the tax of the trial count
 */
export function planAs(current: WorkshopPlan, trial: Trial, outletId: number | null = null): WorkshopPlan {
  const { yarnChangeRatio, feeRatio, taxRatio, ...costs } = trial;
  const changed = <T extends Outlet>(outlet: T): T =>
    outlet.id === outletId
      ? { ...outlet, feeRatio: feeRatio ?? outlet.feeRatio, taxRatio: taxRatio ?? outlet.taxRatio }
      : outlet;
  const settings = { ...current.settings, ...costs };
  const input = {
    ...current.input,
    outlets: current.input.outlets.map(changed),
    offers: current.input.offers.map((offer) => ({
      ...offer,
      priceCents: roundHalfUp(offer.priceCents * (1 + yarnChangeRatio)),
    })),
    settings: {
      ...current.input.settings,
      wageCentsPerHour: costs.wageCentsPerHour,
      overheadCentsPerHour: overheadRate(costs.runningCostsCentsPerMonth, costs.plannedHoursPerMonth),
    },
  };
  const rows = { ...current.rows, outlets: current.rows.outlets.map(changed) };
  return { ...current, rows, settings, input, plan: planAll(input) };
}

/** One size before and after, at its dearest colours. */
export type BeforeAfter = {
  readonly size: string;
  readonly lineId: number;
  readonly beforeCents: number;
  readonly afterCents: number;
  readonly before: PairPrice;
  readonly after: PairPrice;
  /** What an hour earns after the change when the price stays as it is. */
  readonly hourAtOldPriceCents: number | null;
};

/** Cost and price of each size at an outlet, before and after. */
export function compareTrial({ plan: current, sizes }: PricesView, outlet: OutletRow, trial: Trial): BeforeAfter[] {
  const after = planAs(current, trial, outlet.id);
  const outletAfter = after.rows.outlets.find((each) => each.id === outlet.id) ?? outlet;
  return sizes.flatMap(({ size, pairs }): BeforeAfter[] => {
    const dearest = pairs.reduce((most, pair) => (pair.cost.totalCents > most.cost.totalCents ? pair : most));
    const kind = current.kindOfLine.get(dearest.lineId);
    if (!kind) return [];
    const before = priceOfPair(current, kind, outlet.id);
    const cost = priceOfKind(after, kind);
    const kept = { ...outletAfter, priceRule: 'fixed' as const, fixedPriceCents: before.priceCents, endingCents: null };
    const atOldPrice =
      before.priceCents === null
        ? null
        : priceFor(cost.cost, cost.paidMinutes, kept, trial.wageCentsPerHour).hourWorthCents;
    return [
      {
        size,
        lineId: dearest.lineId,
        beforeCents: dearest.cost.totalCents,
        afterCents: cost.cost.totalCents,
        before,
        after: priceOfPair(after, kind, outlet.id),
        hourAtOldPriceCents: atOldPrice,
      },
    ];
  });
}
