import { type Ball, lookAtOnce, type ShelfKnown, shelfKey } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import type { Workshop } from '#db/open.ts';
import type { PairsEnd, PairsSearch } from '#solver/pairs.ts';
import { type Solver, usualSolver } from '#solver/solver.ts';

/** What a shelf is asked: the question, and the balls that might be bought. */
export type AskedPairs = { readonly question: ShelfQuestion; readonly balls: readonly Ball[] };

/** What is known of a question, and how far the search for it got: `done` where nothing is left to look for. */
export type PairsFound = ShelfKnown & { readonly state: 'looking' | PairsEnd['how'] };

type Entry = { readonly search: PairsSearch; end: PairsEnd | null };

/** Within a request: about 15 ms on a small machine. Our own choice. */
export const stepsAtOnce = { mostSteps: 800_000 };
const mostEntries = 40;

// Searches of this run by their question. Nothing of them is stored: no plan depends on them, and the order that is made
// of an answer keeps its pairs.
const searches = new WeakMap<Workshop, Map<string, Entry>>();

function entriesOf(workshop: Workshop): Map<string, Entry> {
  const known = searches.get(workshop) ?? new Map<string, Entry>();
  searches.set(workshop, known);
  return known;
}

function begin(workshop: Workshop, { question, balls }: AskedPairs, { answer }: ShelfKnown, solver: Solver): Entry {
  const key = shelfKey(question, balls);
  const entries = entriesOf(workshop);
  const entry: Entry = { search: solver.searchPairs(question, balls, answer), end: null };
  entries.delete(key);
  entries.set(key, entry);
  // The oldest that have ended are forgotten.
  for (const [old, { end }] of entries) if (entries.size > mostEntries && end !== null) entries.delete(old);
  void entry.search.ended.then((end) => {
    entry.end = end;
  });
  return entry;
}

const foundOf = ({ search, end }: Entry): PairsFound =>
  end ? { ...end, state: end.how } : { ...search.best(), state: 'looking' };

/**
 * The most pairs of a question as far as they are known. A small question is answered at once; for a larger one a search
 * beside the page begins, which nothing waits for.
 */
export function findPairs(workshop: Workshop, asked: AskedPairs, solver: Solver = usualSolver): PairsFound {
  const known = entriesOf(workshop).get(shelfKey(asked.question, asked.balls));
  if (known) return foundOf(known);
  const { isDone, ...found } = lookAtOnce(asked.question, asked.balls, stepsAtOnce);
  return isDone ? { ...found, state: 'done' } : foundOf(begin(workshop, asked, found, solver));
}

/** Looks once more where a search did not come to its end. */
export function lookAgain(workshop: Workshop, asked: AskedPairs, solver: Solver = usualSolver): void {
  const known = entriesOf(workshop).get(shelfKey(asked.question, asked.balls));
  if (known?.end && known.end.how !== 'done') begin(workshop, asked, known.end, solver);
}

/** Stops the search for a question; what it found is kept. */
export async function stopLooking(workshop: Workshop, { question, balls }: AskedPairs): Promise<void> {
  const known = entriesOf(workshop).get(shelfKey(question, balls));
  known?.search.stop();
  await known?.search.ended;
}
