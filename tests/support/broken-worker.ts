type Broken = 'worker-crashing' | 'worker-silent' | 'worker-lying';

/** A worker for tests in the place of every worker: one that breaks, one that never answers, one whose answers are wrong. */
export function brokenWorker(name: Broken): { readonly list: URL; readonly pairs: URL } {
  const script = new URL(`./${name}.mjs`, import.meta.url);
  return { list: script, pairs: script };
}
