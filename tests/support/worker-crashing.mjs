// A worker for tests: it begins and breaks.
import { parentPort } from 'node:worker_threads';

parentPort.postMessage({ kind: 'ready' });
parentPort.on('message', () => process.exit(1));
