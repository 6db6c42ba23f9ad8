import type { PurchaseList } from '#core/buying/offers.ts';
import { type BuyingAnswer, type BuyingProblem, listFromAnswer } from '#core/buying/problem.ts';
import type { SearchFinding } from '#solver/messages.ts';
import { type PurchaseModel, purchaseModel } from '#solver/model.ts';
import type { Run, RunEnd, Thread } from '#solver/thread.ts';

/** How a search for a cheaper list ended. */
export type ListEnd = {
  readonly how: 'proven' | Exclude<RunEnd, 'done'>;
  /** The best list known, our own if none was better. Recounted and checked, whatever the worker said. */
  readonly list: PurchaseList;
};

/** A search for a cheaper list, under way. */
export type ListSearch = Pick<Run, 'isWaiting' | 'stop'> & {
  readonly ended: Promise<ListEnd>;
  /** The best list known so far with its bound. */
  readonly best: () => PurchaseList;
};

/**
 * How long a list is looked for. With our own list before, which takes up to a tenth of a second, and the end of the
 * search after, its bound is there within two and a half seconds.
 */
export const usualListMs = 2200;

function packsIn(list: PurchaseList): BuyingAnswer['packs'] {
  return list.baskets.flatMap((basket) => basket.lines.map(({ offerId, packs }) => ({ offerId, packs })));
}

/** Takes in a list or a bound; what cannot be checked is dropped. */
function learn(
  problem: BuyingProblem,
  packsOf: PurchaseModel['packsOf'],
  best: PurchaseList,
  found: SearchFinding,
): PurchaseList {
  const { totalCents, boundCents } = best;
  if (found.kind === 'list') {
    const list = listFromAnswer(problem, packsOf(found.values), boundCents);
    if (list && list.totalCents < totalCents) return list;
  }
  if (found.kind === 'bound') {
    // Every cost is whole, so the next whole number is a bound too; the hair is what the solver's arithmetic may miss.
    const bound = Math.min(totalCents, Math.max(boundCents, Math.ceil(found.bound - 1e-3)));
    return { ...best, boundCents: bound, isProvenCheapest: bound === totalCents };
  }
  return best;
}

/** Looks for a cheaper list than our own. */
export function searchList(
  thread: Thread,
  problem: BuyingProblem,
  own: PurchaseList,
  deadlineMs = usualListMs,
): ListSearch {
  const { model, packsOf, startOf } = purchaseModel(problem, own.totalCents);
  let best: PurchaseList = { ...own, uncovered: [] };
  const run = thread.run({ kind: 'list', model, start: startOf(packsIn(own)) }, deadlineMs, (found) => {
    best = learn(problem, packsOf, best, found);
  });
  const ended = run.ended.then((end): ListEnd => {
    if (best.isProvenCheapest) return { how: 'proven', list: best };
    return { how: end === 'done' ? 'outOfTime' : end, list: best };
  });
  return { ended, best: () => best, isWaiting: run.isWaiting, stop: run.stop };
}
