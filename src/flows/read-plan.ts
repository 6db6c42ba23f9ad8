import { type Plan, plan } from '#core/plan.ts';
import type { Day } from '#core/shared/calendar.ts';
import { readSettings, type Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import { readWorkshop, type WorkshopRows } from '#db/stores/read-workshop.ts';
import { readState } from '#db/stores/workshop.ts';
import { type PlanSource, planInputFrom } from '#flows/plan-input.ts';
import { todayIn } from '#flows/today.ts';

/** The workshop as it stands, planned. */
export type WorkshopPlan = PlanSource & {
  readonly today: Day;
  readonly settings: Settings;
  readonly rows: WorkshopRows;
  readonly plan: Plan;
};

// One plan is remembered for each open workshop, until a write or a new day makes another.
const remembered = new WeakMap<Workshop, WorkshopPlan>();

/** Plans rows for a day; nothing is read and nothing remembered. */
export function planRows(rows: WorkshopRows, today: Day): WorkshopPlan {
  const settings = readSettings(rows.settings);
  const source = planInputFrom(rows, settings, today);
  return { ...source, today, settings, rows, plan: plan(source.input) };
}

/**
 * The workshop's plan for now. Its name is (born, revision, today): while nothing was written and the day is the same,
 * it is the plan in memory.
 */
export async function readPlan(workshop: Workshop, now: Date): Promise<WorkshopPlan> {
  const { born, revision } = await workshop.store.read(readState);
  const known = remembered.get(workshop);
  const isUnchanged = known?.rows.born === born && known.rows.revision === revision;
  // Settings change with a write alone, so the time zone of the plan in memory still holds.
  if (isUnchanged && known.today === todayIn(now, known.settings.timeZone)) return known;
  const rows = await readWorkshop(workshop);
  const made = planRows(rows, todayIn(now, readSettings(rows.settings).timeZone));
  remembered.set(workshop, made);
  return made;
}
