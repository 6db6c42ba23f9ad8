import { Worker } from 'node:worker_threads';
import type { PurchaseList } from '#core/buying/offers.ts';
import { type BuyingAnswer, type BuyingProblem, listFromAnswer } from '#core/buying/problem.ts';
import type { SearchNews, SearchOrder } from '#solver/messages.ts';
import { type PurchaseModel, purchaseModel } from '#solver/model.ts';

/** How a search ended: with a proof, at its deadline, because somebody stopped it, or by a failure of the worker. */
export type SearchEnd = {
  readonly how: 'proven' | 'outOfTime' | 'stopped' | 'failed';
  /** The best list known, our own if none was better. Recounted and checked, whatever the worker said. */
  readonly list: PurchaseList;
};

/** A search under way. */
export type Search = {
  readonly ended: Promise<SearchEnd>;
  /** The best list known so far with its bound. */
  readonly best: () => PurchaseList;
  readonly isWaiting: () => boolean;
  readonly stop: () => void;
};

export type Solver = {
  readonly search: (problem: BuyingProblem, own: PurchaseList, deadlineMs?: number) => Search;
  /** Stops everything and ends the worker. */
  readonly close: () => Promise<void>;
};

type SolverOptions = {
  readonly script?: URL;
  /** How long a worker without work is kept. */
  readonly restMs?: number;
  /** How much longer than its deadline a search may take to stop by itself. */
  readonly graceMs?: number;
  readonly startMs?: number;
};

const usualDeadlineMs = 2500;
/** The model itself lies in the solver's own memory; what the thread keeps beside it is little. */
const workerLimits = { maxOldGenerationSizeMb: 64, maxYoungGenerationSizeMb: 8 };

type Job = {
  readonly order: SearchOrder;
  readonly problem: BuyingProblem;
  readonly packsOf: PurchaseModel['packsOf'];
  best: PurchaseList;
  hasBegun: boolean;
  isStopped: boolean;
  readonly end: (how: SearchEnd['how']) => void;
};

function packsIn(list: PurchaseList): BuyingAnswer['packs'] {
  return list.baskets.flatMap((basket) => basket.lines.map(({ offerId, packs }) => ({ offerId, packs })));
}

/** Takes in a list or a bound; what cannot be checked is dropped. */
function learn(job: Job, news: SearchNews): void {
  const { totalCents, boundCents } = job.best;
  if (news.kind === 'list') {
    const found = listFromAnswer(job.problem, job.packsOf(news.values), boundCents);
    if (found && found.totalCents < totalCents) job.best = found;
  }
  if (news.kind === 'bound') {
    // Every cost is whole, so the next whole number is a bound too; the hair is what the solver's arithmetic may miss.
    const bound = Math.min(totalCents, Math.max(boundCents, Math.ceil(news.bound - 1e-3)));
    job.best = { ...job.best, boundCents: bound, isProvenCheapest: bound === totalCents };
  }
}

/**
 * One worker thread that looks for cheaper lists, one search after another. It starts at first need and ends after a
 * rest; whatever becomes of it, each search ends with a list that can be bought.
 */
export function createSolver({
  script = new URL('./worker.mjs', import.meta.url),
  restMs = 60_000,
  graceMs = 1000,
  startMs = 30_000,
}: SolverOptions = {}): Solver {
  const queue: Job[] = [];
  let worker: Worker | null = null;
  let isReady = false;
  let current: Job | null = null;
  let lastResort: NodeJS.Timeout | undefined;
  let rest: NodeJS.Timeout | undefined;
  let orders = 0;

  function wait(ms: number, act: () => void): NodeJS.Timeout {
    const timer = setTimeout(act, ms);
    timer.unref();
    return timer;
  }

  function startWorker(): void {
    isReady = false;
    const made = new Worker(script, { execArgv: [], resourceLimits: workerLimits });
    made.unref();
    made.on('message', (news: SearchNews) => {
      if (made === worker) hear(news);
    });
    made.on('error', (error) => {
      console.error('The worker that looks for cheaper lists failed.', error);
      if (made === worker) lose('failed');
    });
    made.on('exit', () => {
      if (made === worker) lose('failed');
    });
    worker = made;
    lastResort = wait(startMs, () => lose('failed'));
  }

  /** The worker is gone or given up: its search ends, the others get a new one. */
  function lose(how: SearchEnd['how']): void {
    const lost = worker;
    worker = null;
    isReady = false;
    void lost?.terminate();
    finish(how);
  }

  function hear(news: SearchNews): void {
    if (news.kind === 'ready') {
      isReady = true;
      clearTimeout(lastResort);
      begin();
      return;
    }
    if (!current || news.id !== current.order.id) return;
    learn(current, news);
    if (news.kind !== 'ended') return;
    if (news.how === 'failed') finish('failed');
    else finish(current.best.isProvenCheapest ? 'proven' : current.isStopped ? 'stopped' : 'outOfTime');
  }

  function finish(how: SearchEnd['how']): void {
    clearTimeout(lastResort);
    const job = current;
    current = null;
    job?.end(how);
    next();
  }

  function next(): void {
    clearTimeout(rest);
    if (current) return;
    current = queue.shift() ?? null;
    if (!current) {
      rest = wait(restMs, () => {
        const resting = worker;
        worker = null;
        void resting?.terminate();
      });
      return;
    }
    if (!worker) startWorker();
    else if (isReady) begin();
  }

  function begin(): void {
    if (!current || current.hasBegun) return;
    current.hasBegun = true;
    const job = current;
    lastResort = wait(job.order.deadlineMs + graceMs, () => lose(job.isStopped ? 'stopped' : 'outOfTime'));
    worker!.postMessage(job.order);
  }

  function stop(job: Job): void {
    if (job.isStopped) return;
    job.isStopped = true;
    Atomics.store(new Int32Array(job.order.stop), 0, 1);
    const place = queue.indexOf(job);
    if (place >= 0) {
      queue.splice(place, 1);
      job.end('stopped');
    } else if (job === current && !job.hasBegun) finish('stopped');
    else if (job === current) {
      clearTimeout(lastResort);
      lastResort = wait(graceMs, () => lose('stopped'));
    }
  }

  function search(problem: BuyingProblem, own: PurchaseList, deadlineMs = usualDeadlineMs): Search {
    orders += 1;
    const { model, packsOf, startOf } = purchaseModel(problem, own.totalCents);
    const order: SearchOrder = {
      id: orders,
      model,
      start: startOf(packsIn(own)),
      deadlineMs,
      stop: new SharedArrayBuffer(4),
    };
    let job!: Job;
    const ended = new Promise<SearchEnd>((resolve) => {
      const end = (how: SearchEnd['how']) => resolve({ how, list: job.best });
      job = { order, problem, packsOf, best: { ...own, uncovered: [] }, hasBegun: false, isStopped: false, end };
    });
    queue.push(job);
    next();
    return { ended, best: () => job.best, isWaiting: () => !job.hasBegun, stop: () => stop(job) };
  }

  async function close(): Promise<void> {
    for (const job of [...queue]) stop(job);
    const closing = worker;
    worker = null;
    if (current) {
      const job = current;
      current = null;
      clearTimeout(lastResort);
      job.end('stopped');
    }
    clearTimeout(rest);
    clearTimeout(lastResort);
    await closing?.terminate();
  }

  return { search, close };
}
