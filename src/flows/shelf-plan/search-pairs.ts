import { type Ball, lookAtOnce, type ShelfKnown } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import type { Workshop } from '#db/open.ts';
import { createSearches } from '#flows/searches.ts';
import type { PairsEnd, PairsSearch } from '#solver/pairs.ts';
import { type Solver, usualSolver } from '#solver/solver.ts';

/** What a shelf is asked: the question, the balls that might be bought, and the name of both. */
export type AskedPairs = {
  readonly question: ShelfQuestion;
  readonly balls: readonly Ball[];
  readonly key: string;
};

/** What is known of a question, and how far the search for it got: `done` where nothing is left to look for. */
export type PairsFound = ShelfKnown & { readonly state: 'looking' | PairsEnd['how'] };

type Entry = { readonly search: PairsSearch; end: PairsEnd | null };

/** Within a request: about 15 ms on a small machine. Our own choice. */
export const stepsAtOnce = { mostSteps: 800_000 };

// By their question. Nothing of them is stored: no plan depends on them, and the order that is made of an answer keeps
// its pairs.
const searches = createSearches<Entry>(({ end }) => end !== null);

function begin(workshop: Workshop, { question, balls, key }: AskedPairs, { answer }: ShelfKnown, solver: Solver) {
  const entry: Entry = { search: solver.searchPairs(question, balls, answer), end: null };
  searches.keep(workshop, key, entry);
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
  const known = searches.of(workshop).get(asked.key);
  if (known) return foundOf(known);
  const { isDone, ...found } = lookAtOnce(asked.question, asked.balls, stepsAtOnce);
  return isDone ? { ...found, state: 'done' } : foundOf(begin(workshop, asked, found, solver));
}

/** Looks once more where a search did not come to its end. */
export function lookAgain(workshop: Workshop, asked: AskedPairs, solver: Solver = usualSolver): void {
  const known = searches.of(workshop).get(asked.key);
  if (known?.end && known.end.how !== 'done') begin(workshop, asked, known.end, solver);
}

/** Stops the search for a question; what it found is kept. */
export async function stopLooking(workshop: Workshop, { key }: AskedPairs): Promise<void> {
  const known = searches.of(workshop).get(key);
  known?.search.stop();
  await known?.search.ended;
}
