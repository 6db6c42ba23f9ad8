import { Worker } from 'node:worker_threads';
import type { SearchFinding, SearchNews, SearchOrder, SearchTask } from '#solver/messages.ts';

/** How a search ended: by itself, at its deadline, because somebody stopped it, or by a failure of the worker. */
export type RunEnd = 'done' | 'outOfTime' | 'stopped' | 'failed';

/** A search on its thread. */
export type Run = {
  readonly ended: Promise<RunEnd>;
  readonly isWaiting: () => boolean;
  readonly stop: () => void;
};

export type Thread = {
  readonly run: (task: SearchTask, deadlineMs: number, hear: (found: SearchFinding) => void) => Run;
  /** Stops everything and ends the worker. */
  readonly close: () => Promise<void>;
};

type Kind = SearchTask['kind'];

export type ThreadOptions = {
  /** What a worker runs for each kind of search. */
  readonly scripts: Readonly<Record<Kind, URL>>;
  /** How long a worker without work is kept. */
  readonly restMs?: number;
  /** How much longer than its deadline a search may take to stop by itself. */
  readonly graceMs?: number;
  readonly startMs?: number;
};

/** What a solver holds in its own memory is not counted here; what the thread keeps beside it is little. */
const workerLimits = { maxOldGenerationSizeMb: 64, maxYoungGenerationSizeMb: 8 };

type Job = {
  readonly order: SearchOrder;
  readonly hear: (found: SearchFinding) => void;
  readonly end: (how: RunEnd) => void;
  hasBegun: boolean;
  isStopped: boolean;
};

/**
 * One worker thread that makes one search after another; a search of another kind gets a new worker, so that there is
 * never the memory of two. Pairs, which take a moment, go before lists that wait. A worker starts at first need and ends
 * after a rest; whatever becomes of it, each search ends.
 */
export function createThread({ scripts, restMs = 60_000, graceMs = 200, startMs = 30_000 }: ThreadOptions): Thread {
  const queue: Job[] = [];
  let worker: Worker | null = null;
  let workerKind: Kind | null = null;
  let isReady = false;
  let current: Job | null = null;
  let lastResort: NodeJS.Timeout | undefined;
  let lastStart: NodeJS.Timeout | undefined;
  let rest: NodeJS.Timeout | undefined;
  let orders = 0;

  function wait(ms: number, act: () => void): NodeJS.Timeout {
    const timer = setTimeout(act, ms);
    timer.unref();
    return timer;
  }

  function startWorker(kind: Kind): void {
    isReady = false;
    workerKind = kind;
    const made = new Worker(scripts[kind], { execArgv: [], resourceLimits: workerLimits });
    made.unref();
    made.on('message', (news: SearchNews) => {
      if (made === worker) hear(news);
    });
    made.on('error', (error) => {
      console.error('The worker that searches failed.', error);
      if (made === worker) lose('failed');
    });
    made.on('exit', () => {
      if (made === worker) lose('failed');
    });
    worker = made;
    lastStart = wait(startMs, () => lose('failed'));
  }

  /** The worker is gone or given up: its search ends, the others get a new one. */
  function lose(how: RunEnd): void {
    endWorker();
    finish(how);
  }

  function hear(news: SearchNews): void {
    if (news.kind === 'ready') {
      isReady = true;
      clearTimeout(lastStart);
      begin();
      return;
    }
    if (!current || news.id !== current.order.id) return;
    if (news.kind !== 'ended') current.hear(news);
    else if (news.how === 'interrupted') finish(current.isStopped ? 'stopped' : 'outOfTime');
    else finish(news.how);
  }

  function finish(how: RunEnd): void {
    clearTimeout(lastResort);
    const job = current;
    current = null;
    job?.end(how);
    next();
  }

  function endWorker(): void {
    clearTimeout(lastStart);
    const ending = worker;
    worker = null;
    void ending?.terminate();
  }

  function next(): void {
    clearTimeout(rest);
    if (current) return;
    current = queue.shift() ?? null;
    if (!current) {
      rest = wait(restMs, endWorker);
      return;
    }
    const { kind } = current.order.task;
    if (worker && workerKind !== kind) endWorker();
    if (!worker) startWorker(kind);
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

  function run(task: SearchTask, deadlineMs: number, hearFinding: Job['hear']): Run {
    orders += 1;
    const order: SearchOrder = { id: orders, task, deadlineMs, stop: new SharedArrayBuffer(4) };
    let job!: Job;
    const ended = new Promise<RunEnd>((end) => {
      job = { order, hear: hearFinding, end, hasBegun: false, isStopped: false };
    });
    const first = task.kind === 'pairs' ? queue.findIndex((each) => each.order.task.kind === 'list') : -1;
    queue.splice(first < 0 ? queue.length : first, 0, job);
    next();
    return { ended, isWaiting: () => !job.hasBegun, stop: () => stop(job) };
  }

  async function close(): Promise<void> {
    for (const job of [...queue]) stop(job);
    const closing = worker;
    worker = null;
    if (current) {
      const job = current;
      current = null;
      job.end('stopped');
    }
    for (const timer of [rest, lastStart, lastResort]) clearTimeout(timer);
    await closing?.terminate();
  }

  return { run, close };
}
