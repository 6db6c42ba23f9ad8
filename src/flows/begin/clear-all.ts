import { countOf } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { saveCopy } from '#db/copy.ts';
import { filePathOf, type Workshop } from '#db/open.ts';
import { clearEverything } from '#db/stores/clear.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { isSample } from '#flows/begin/is-empty.ts';
import { type OwnWork, ownWorkIn } from '#flows/begin/own-work.ts';

/** What is to be typed before one's own work is cleared. */
export const clearingWord = 'clear all';

export type Cleared = {
  /** Where the copy lies that was made first; null for the sample as it was loaded, which can be had again. */
  readonly keptAs: string | null;
};

/** "2 orders of your own and 3 other changes". */
export function ownWorkWords({ orders, otherChanges }: OwnWork): string {
  const parts = [
    orders > 0 ? countOf(orders, 'order of your own', 'orders of your own') : '',
    otherChanges > 0 ? countOf(otherChanges, 'other change', 'other changes') : '',
  ].filter(Boolean);
  return orders > 0 ? parts.join(' and ') : countOf(otherChanges, 'change of yours', 'changes of yours');
}

/**
 * One step back to an empty workshop. A sample that nobody touched goes at once; one's own work, in the sample too, only
 * when the word was typed, and after a copy was written beside the file.
 */
export async function clearAll(
  workshop: Workshop,
  { typed, now }: { readonly typed: string; readonly now: Date },
): Promise<Result<Cleared>> {
  const settings = await workshop.store.read((db) => listSettings(db));
  const ownWork = isSample({ settings }) ? await ownWorkIn(workshop) : 'all';
  let keptAs: string | null = null;
  if (ownWork !== null) {
    if (typed.trim().toLowerCase() !== clearingWord) {
      const what = ownWork === 'all' ? 'everything in this workshop' : `the sample with ${ownWorkWords(ownWork)}`;
      return refuse({ code: 'notConfirmed', path: 'typed', message: `Type “${clearingWord}” to take away ${what}.` });
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
