// A worker for tests: it takes an order and never answers, nor hears anything else.
import { parentPort } from 'node:worker_threads';

parentPort.postMessage({ kind: 'ready' });
parentPort.on('message', () => {
  for (;;);
});
