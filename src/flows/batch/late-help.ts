import { scheduleOptionsOf } from '#core/plan.ts';
import { lateHelpOf } from '#core/schedule/late.ts';
import { duePairs } from '#core/schedule/pairs-to-knit.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';

/** What would help each late order of a plan. */
export const lateHelpIn = remember(({ plan, input, today }: WorkshopPlan) =>
  lateHelpOf(
    duePairs(plan.wanted.pairs, plan.weeks),
    plan.weeks,
    input.knitters,
    (pairKey) => plan.placed.arrivalDay(pairKey, plan.lists.arrivals, today),
    scheduleOptionsOf(input),
  ),
);
