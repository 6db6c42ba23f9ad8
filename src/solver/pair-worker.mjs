// The worker for pairs: core searches, here beside the pages. It is TypeScript, and a thread knows no loader of its own.
import { parentPort } from 'node:worker_threads';
import { register } from 'tsx/esm/api';

register();
const { findMostPairs, usualSteps } = await import('#core/buying/most-pairs.ts');
const { stepsOfBall, withBall } = await import('#core/buying/one-more-ball.ts');

/** @param {import('#solver/messages.ts').SearchOrder<import('#solver/messages.ts').PairsTask>} order */
function search({ id, task: { question, balls, start }, deadlineMs, stop }) {
  /** @param {import('#solver/messages.ts').SearchNews} news */
  const post = (news) => parentPort?.postMessage(news);
  const endMs = performance.now() + deadlineMs;
  const flag = new Int32Array(stop);
  const answer = findMostPairs(question, usualSteps, start);
  post({ id, kind: 'pairs', ball: null, answer });
  for (const [ball, each] of balls.entries()) {
    if (performance.now() > endMs || Atomics.load(flag, 0) !== 0) {
      post({ id, kind: 'ended', how: 'interrupted' });
      return;
    }
    post({ id, kind: 'pairs', ball, answer: findMostPairs(withBall(question, each), stepsOfBall, answer.made) });
  }
  post({ id, kind: 'ended', how: 'done' });
}

parentPort?.on('message', (order) => {
  try {
    search(order);
  } catch (error) {
    console.error('The search for more pairs failed.', error);
    parentPort?.postMessage({ id: order.id, kind: 'ended', how: 'failed' });
  }
});
parentPort?.postMessage({ kind: 'ready' });
