/** A worker for tests in the place of every worker: `worker-crashing` breaks, `worker-silent` never answers. */
export function brokenWorker(name: 'worker-crashing' | 'worker-silent'): { readonly list: URL; readonly pairs: URL } {
  const script = new URL(`./${name}.mjs`, import.meta.url);
  return { list: script, pairs: script };
}
