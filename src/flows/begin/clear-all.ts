import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { saveCopy } from '#db/copy.ts';
import { filePathOf, type Workshop } from '#db/open.ts';
import { clearEverything } from '#db/stores/clear.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { isSample } from '#flows/begin/is-empty.ts';

/** What is to be typed before one's own work is cleared. */
export const clearingWord = 'clear all';

export type Cleared = {
  /** Where the copy lies that was made first; null for the sample, which can be had again. */
  readonly keptAs: string | null;
};

/**
 * One step back to an empty workshop. The sample goes at once; one's own work only when the word was typed, and after a
 * copy was written beside the file.
 */
export async function clearAll(
  workshop: Workshop,
  { typed, now }: { readonly typed: string; readonly now: Date },
): Promise<Result<Cleared>> {
  const settings = await workshop.store.read((db) => listSettings(db));
  let keptAs: string | null = null;
  if (!isSample({ settings })) {
    if (typed.trim().toLowerCase() !== clearingWord) {
      const message = `Type “${clearingWord}” to take away everything in this workshop.`;
      return refuse({ code: 'notConfirmed', path: 'typed', message });
    }
    const copy = await saveCopy(workshop, copyPathOf(workshop, now));
    if (!copy.ok) return refuse(...copy.problems.map((problem) => ({ ...problem, path: 'typed' })));
    keptAs = copy.value.file;
  }
  await workshop.store.write('begin: clear everything', (tx) => clearEverything(tx));
  return succeed({ keptAs });
}

function copyPathOf(workshop: Workshop, now: Date): string {
  const stamp = now
    .toISOString()
    .replace(/[-:.Z]/g, '')
    .replace('T', '-');
  return `${(filePathOf(workshop.url) ?? 'workshop.db').replace(/\.db$/, '')}-before-clearing-${stamp}.db`;
}
