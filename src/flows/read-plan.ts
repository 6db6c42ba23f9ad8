import { answersOf, type BuyingAnswers } from '#core/buying/problem.ts';
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

type Known = { readonly born: string; readonly revision: number; readonly plan: Promise<WorkshopPlan> };

// One plan is remembered for each open workshop, until a write or a new day makes another. It is there from the moment it
// is begun: whoever asks meanwhile waits for the same one, and the old one is let go before the new one is made.
const remembered = new WeakMap<Workshop, Known>();

// The lists of the last plan, by their problem: a write that changes nothing of what is to buy leaves them as they are,
// and to look for them again is most of the time that a plan takes.
const ownLists = new WeakMap<Workshop, BuyingAnswers>();

/**
 * Plans rows for a day; nothing is read and nothing remembered.
 *
 * @param lists our own lists of an earlier plan
 */
export function planRows(rows: WorkshopRows, today: Day, lists: BuyingAnswers = new Map()): WorkshopPlan {
  const settings = readSettings(rows.settings);
  const source = planInputFrom(rows, settings, today);
  // What a search found stands before our own.
  const answers = new Map([...lists, ...(source.input.answers ?? [])]);
  const input = { ...source.input, answers };
  return { ...source, input, today, settings, rows, plan: plan(input) };
}

/**
 * The workshop's plan for now. Its name is (born, revision, today): while nothing was written and the day is the same,
 * it is the plan in memory.
 */
export async function readPlan(workshop: Workshop, now: Date): Promise<WorkshopPlan> {
  const { born, revision } = await workshop.store.read(readState);
  const known = remembered.get(workshop);
  if (known?.born === born && known.revision === revision) {
    const plan = await known.plan;
    // Settings change with a write alone, so the time zone of the plan in memory still holds.
    if (plan.today === todayIn(now, plan.settings.timeZone)) return plan;
  }
  return await planAnew(workshop, now, { born, revision });
}

function planAnew(workshop: Workshop, now: Date, state: Omit<Known, 'plan'>): Promise<WorkshopPlan> {
  const plan = readWorkshop(workshop).then((rows) => {
    const made = planRows(rows, todayIn(now, readSettings(rows.settings).timeZone), ownLists.get(workshop));
    ownLists.set(workshop, answersOf(made.plan.lists));
    return made;
  });
  const known = { ...state, plan };
  remembered.set(workshop, known);
  plan.then(
    // Somebody may have written since the state was asked for.
    ({ rows: { born, revision } }) => {
      if (remembered.get(workshop) === known) remembered.set(workshop, { born, revision, plan });
    },
    () => {
      if (remembered.get(workshop) === known) remembered.delete(workshop);
    },
  );
  return plan;
}
