import type { Workshop } from '#db/open.ts';

const mostEntries = 40;

/**
 * Searches of this run that go on beside the pages, by the name of what they look for.
 *
 * @param hasEnded whether a search is at its end; of those the oldest are forgotten when there are many
 */
export function createSearches<Entry>(hasEnded: (entry: Entry) => boolean) {
  const known = new WeakMap<Workshop, Map<string, Entry>>();

  function of(workshop: Workshop): ReadonlyMap<string, Entry> {
    return known.get(workshop) ?? new Map();
  }

  /** Takes the place of an earlier one of that name, as the newest. */
  function keep(workshop: Workshop, name: string, entry: Entry): void {
    const entries = known.get(workshop) ?? new Map<string, Entry>();
    known.set(workshop, entries);
    entries.delete(name);
    entries.set(name, entry);
    for (const [old, each] of entries) if (entries.size > mostEntries && hasEnded(each)) entries.delete(old);
  }

  return { of, keep };
}
