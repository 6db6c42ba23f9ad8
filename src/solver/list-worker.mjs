// The worker for lists: plain JavaScript and the solver alone, so that it starts at once and holds little. Programs come
// in as numbers and column values go out; what they mean, and whether to believe them, is for the other side.
import { setFlagsFromString } from 'node:v8';
import { parentPort } from 'node:worker_threads';
import loadHighs from 'highs';

// Each thread that compiles the solver keeps memory for it, a third of all that a search needs.
setFlagsFromString('--wasm-num-compilation-tasks=1');
const highs = await loadHighs();
const { callbackType, modelStatus } = highs.constants;
const betweenBoundsMs = 100;

/** @param {import('#solver/messages.ts').SearchOrder<import('#solver/messages.ts').ListTask>} order */
function search({ id, task: { model, start }, deadlineMs, stop }) {
  /** @param {import('#solver/messages.ts').SearchNews} news */
  const post = (news) => parentPort?.postMessage(news);
  const endMs = performance.now() + deadlineMs;
  const flag = new Int32Array(stop);
  let bound = Number.NEGATIVE_INFINITY;
  let toldMs = 0;
  /** @param {number | undefined} found */
  const tellBound = (found, isLast = false) => {
    if (found === undefined || !Number.isFinite(found)) return;
    bound = Math.max(bound, found);
    if (!isLast && performance.now() - toldMs < betweenBoundsMs) return;
    toldMs = performance.now();
    post({ id, kind: 'bound', bound });
  };
  highs.withModel(model, (solver) => {
    // Every cost is whole: a gap below one unit is a proof. What the solver tries on the way, a smaller program, asks for
    // no interruption, for up to a second: the limit of time ends it.
    const seconds = (endMs - performance.now()) / 1000;
    solver.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.99, time_limit: Math.max(0, seconds) });
    solver.setSolution({ colValue: start });
    solver.run({
      [callbackType.mipImprovingSolution](event) {
        if (event.data.mip_solution) post({ id, kind: 'list', values: event.data.mip_solution });
        tellBound(event.data.mip_dual_bound);
      },
      [callbackType.mipLogging](event) {
        tellBound(event.data.mip_dual_bound);
      },
      [callbackType.mipInterrupt](event) {
        tellBound(event.data.mip_dual_bound);
        if (performance.now() > endMs || Atomics.load(flag, 0) !== 0) event.interrupt();
      },
    });
    const status = solver.getModelStatus();
    const isOptimal = status === modelStatus.optimal;
    const isInterrupted = status === modelStatus.interrupted || status === modelStatus.timeLimit;
    if (isOptimal) post({ id, kind: 'list', values: solver.getSolution().colValue });
    if (isOptimal || isInterrupted) tellBound(Number(solver.info.get('mip_dual_bound')), true);
    post({ id, kind: 'ended', how: isOptimal ? 'done' : isInterrupted ? 'interrupted' : 'failed' });
  });
}

parentPort?.on('message', (order) => {
  try {
    search(order);
  } catch (error) {
    console.error('The search for a cheaper list failed.', error);
    parentPort?.postMessage({ id: order.id, kind: 'ended', how: 'failed' });
  }
});
parentPort?.postMessage({ kind: 'ready' });
