// A worker cannot be a .ts file by itself: this registers the loader and hands over.
import { register } from 'tsx/esm/api';

register();
await import('#solver/worker.ts');
