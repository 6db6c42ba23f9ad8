import type { Day } from '#core/shared/calendar.ts';
import type { FairRows } from '#flows/fair/fair-rows.ts';
import { readDay } from '#flows/fair/read-day.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** A day at a table in a line. */
export type FairDayLine = {
  readonly dayId: number;
  readonly fairId: number;
  readonly fairName: string;
  readonly day: Day;
  readonly taken: number;
  readonly sold: number;
  readonly missing: number;
  readonly takingsCents: number;
  readonly earnedCents: number;
};

/** Every day at a table, the newest first. */
export function listDays(rows: FairRows, workshopPlan: WorkshopPlan): readonly FairDayLine[] {
  return rows.days.map(({ id }) => {
    const { fair, day, account, kinds, takenCount } = readDay(rows, workshopPlan, id);
    return {
      dayId: day.id,
      fairId: fair.id,
      fairName: fair.name,
      day: day.day,
      taken: takenCount,
      sold: account.pairs,
      missing: kinds.reduce((sum, kind) => sum + kind.missing, 0),
      takingsCents: account.takingsCents,
      earnedCents: account.earnedCents,
    };
  });
}
