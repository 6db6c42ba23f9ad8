import type { MostPairs } from '#core/buying/most-pairs.ts';
import type { PurchaseList } from '#core/buying/offers.ts';
import type { Ball } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import type { BuyingProblem } from '#core/buying/problem.ts';
import { type ListSearch, searchList } from '#solver/lists.ts';
import { type PairsSearch, searchPairs } from '#solver/pairs.ts';
import { createThread, type ThreadOptions } from '#solver/thread.ts';

export type Solver = {
  readonly searchList: (problem: BuyingProblem, own: PurchaseList, deadlineMs?: number) => ListSearch;
  readonly searchPairs: (
    question: ShelfQuestion,
    balls: readonly Ball[],
    own: MostPairs,
    deadlineMs?: number,
  ) => PairsSearch;
  /** Stops everything and ends the worker. */
  readonly close: () => Promise<void>;
};

const ownScripts: ThreadOptions['scripts'] = {
  list: new URL('./list-worker.mjs', import.meta.url),
  pairs: new URL('./pair-worker.mjs', import.meta.url),
};

/** Searches beside the pages: for cheaper lists and for more pairs. */
export function createSolver(options: Partial<ThreadOptions> = {}): Solver {
  const thread = createThread({ scripts: ownScripts, ...options });
  return {
    searchList: (...asked) => searchList(thread, ...asked),
    searchPairs: (...asked) => searchPairs(thread, ...asked),
    close: thread.close,
  };
}

/** The solver of this program; it starts a worker at first need. */
export const usualSolver = createSolver();
