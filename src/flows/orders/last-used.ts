import { type Person, persons } from '#core/sizing/foot.ts';
import { type SizeSystem, sizeSystems, systemsFor } from '#core/sizing/labels.ts';
import { ageSystem } from '#core/sizing/stored-size.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { LineEntry } from '#flows/orders/entries.ts';

/** How a size was last given, so that the next form begins there. */
export type LastUsed = {
  readonly by: LineEntry['size']['by'];
  readonly person: Person;
  readonly system: SizeSystem;
};

function wayOf({ sizeSystem, bandId }: WorkshopRows['lines'][number]): LastUsed['by'] {
  if (sizeSystem !== null) return sizeSystem === ageSystem ? 'age' : 'label';
  return bandId === null ? 'foot' : 'band';
}

/** What the line entered last used; a woman's EU size in a workshop without any. */
export function lastUsedOf(rows: WorkshopRows): LastUsed {
  const lines = [...rows.lines].sort((a, b) => b.id - a.id);
  const last = lines[0];
  const labelled = lines.find((line) => line.sizeSystem !== null && line.sizeSystem !== ageSystem);
  const person = persons.find((each) => each === labelled?.person) ?? 'woman';
  const system = sizeSystems.find((each) => each === labelled?.sizeSystem) ?? 'EU';
  return { by: last ? wayOf(last) : 'label', person, system: systemsFor(person).includes(system) ? system : 'EU' };
}
