import { type BuyingProblem, problemKey } from '#core/buying/problem.ts';
import type { Workshop } from '#db/open.ts';
import { forgetOldAnswers, saveAnswer } from '#db/stores/workshop.ts';
import { answerJson } from '#flows/buying/terms-of.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { createSearches } from '#flows/searches.ts';
import type { ListEnd, ListSearch as SolverSearch } from '#solver/lists.ts';
import { type Solver, usualSolver } from '#solver/solver.ts';

export type { Solver } from '#solver/solver.ts';

export type ListName = 'likely' | 'safe';

/** A search for a cheaper list, as the page tells it. */
export type ListSearch = {
  readonly state: 'looking' | 'outOfTime' | 'stopped' | 'failed';
  /** The best list known, and what no list can undercut. */
  readonly totalCents: number;
  readonly boundCents: number;
};

export type ListSearches = Readonly<Record<ListName, ListSearch | null>>;

type Entry = { readonly search: SolverSearch; how: ListEnd['how'] | null; done: Promise<void> };

const listNames: readonly ListName[] = ['likely', 'safe'];
/** A longer look, when somebody asks for it. */
const longerMs = 20_000;
const mostAnswers = 40;

// By their problem; what they found is in the table of answers.
const searches = createSearches<Entry>(({ how }) => how !== null);

/** Keeps what was found, so that the next plan uses it. */
async function keepAnswer({ store }: Workshop, key: string, { list }: ListEnd): Promise<void> {
  const packs = list.baskets.flatMap((basket) =>
    basket.lines.map(({ offerId, packs: count }) => ({ offerId, packs: count })),
  );
  const { boundCents, isProvenCheapest } = list;
  await store.write('buying: keep a list', async (tx) => {
    await saveAnswer(tx, {
      problemHash: key,
      answerJson: answerJson({ packs, boundCents }),
      bound: boundCents,
      isProven: isProvenCheapest,
    });
    await forgetOldAnswers(tx, mostAnswers);
  });
}

async function follow(workshop: Workshop, key: string, entry: Entry): Promise<void> {
  const end = await entry.search.ended;
  try {
    await keepAnswer(workshop, key, end);
    entry.how = end.how;
  } catch (error) {
    entry.how = 'failed';
    console.error('A list that was found could not be kept.', error);
  }
}

function begin(workshop: Workshop, workshopPlan: WorkshopPlan, name: ListName, solver: Solver, deadlineMs?: number) {
  const { lists } = workshopPlan.plan;
  const problem = lists.problems[name];
  const key = problemKey(problem);
  if (searches.of(workshop).get(key)?.how === null) return;
  const entry: Entry = {
    search: solver.searchList(problem, lists[name], deadlineMs),
    how: null,
    done: Promise.resolve(),
  };
  searches.keep(workshop, key, entry);
  entry.done = follow(workshop, key, entry);
}

function isSearchable(problem: BuyingProblem): boolean {
  return problem.needs.length > 0 && problem.offers.length > 0;
}

/**
 * Looks in the background for cheaper lists than those of the plan, where they are not proven cheapest and no answer is
 * there. Nothing waits for it: the page shows our own list, and what is found is stored for the next plan.
 */
export function improveLists(workshop: Workshop, workshopPlan: WorkshopPlan, solver: Solver = usualSolver): void {
  const { lists } = workshopPlan.plan;
  const order = lists.chosenName === 'likely' ? listNames : [...listNames].reverse();
  for (const name of order) {
    const problem = lists.problems[name];
    if (lists[name].isProvenCheapest || !isSearchable(problem)) continue;
    const key = problemKey(problem);
    const isAnswered = workshopPlan.rows.answers.some((answer) => answer.problemHash === key);
    if (!isAnswered && !searches.of(workshop).has(key)) begin(workshop, workshopPlan, name, solver);
  }
}

/** What is known of the searches for the lists of a plan; null where the list is proven cheapest, or there is nothing to buy. */
export function listSearches(workshop: Workshop, { plan, rows }: WorkshopPlan): ListSearches {
  const searchOf = (name: ListName): ListSearch | null => {
    const list = plan.lists[name];
    const problem = plan.lists.problems[name];
    if (list.isProvenCheapest || !isSearchable(problem)) return null;
    const key = problemKey(problem);
    const entry = searches.of(workshop).get(key);
    const { totalCents, boundCents } = list;
    if (entry?.how === null) {
      const best = entry.search.best();
      return {
        state: 'looking',
        totalCents: Math.min(totalCents, best.totalCents),
        boundCents: Math.max(boundCents, best.boundCents),
      };
    }
    if (entry?.how === 'stopped' || entry?.how === 'failed') return { state: entry.how, totalCents, boundCents };
    return entry || rows.answers.some((answer) => answer.problemHash === key)
      ? { state: 'outOfTime', totalCents, boundCents }
      : null;
  };
  return { likely: searchOf('likely'), safe: searchOf('safe') };
}

/** Looks once more for a cheaper list, and longer. */
export function lookLonger(
  workshop: Workshop,
  workshopPlan: WorkshopPlan,
  name: ListName,
  solver: Solver = usualSolver,
): void {
  const { lists } = workshopPlan.plan;
  if (lists[name].isProvenCheapest || !isSearchable(lists.problems[name])) return;
  begin(workshop, workshopPlan, name, solver, longerMs);
}

/** Stops the searches that are under way; what they found is kept. */
export async function stopLooking(workshop: Workshop): Promise<void> {
  const running = [...searches.of(workshop).values()].filter((entry) => entry.how === null);
  for (const entry of running) entry.search.stop();
  await Promise.all(running.map((entry) => entry.done));
}
