import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Person } from '#core/sizing/foot.ts';
import type { Workshop } from '#db/open.ts';
import { changeBand, createBand, listBands, removeBand } from '#db/stores/sizing.ts';

/** A band as it was entered and found good. */
export type BandEntry = {
  readonly name: string;
  readonly person: Person;
  readonly fromMm: number;
  readonly toMm: number;
};

/** Adds a band of the workshop's own, or changes one; a name is used once for a person. */
export async function saveBand(
  workshop: Workshop,
  entry: BandEntry,
  existing: { readonly id: number; readonly version: number } | null,
): Promise<Result<{ id: number }>> {
  return await workshop.store.write('sizes: save a band', async (tx) => {
    const bands = await listBands(tx);
    const like = bands.find(
      (band) =>
        band.id !== existing?.id &&
        band.person === entry.person &&
        band.name.toLowerCase() === entry.name.toLowerCase(),
    );
    if (like) {
      const message = `There is a band “${like.name}” for this person already. Give this one another name.`;
      return refuse({ code: 'bandTwice', path: 'name', message });
    }
    if (existing) {
      const changed = await changeBand(tx, existing.id, entry, existing.version);
      return succeed({ id: changed.id });
    }
    const rank = 1 + Math.max(-1, ...bands.map((band) => band.rank));
    const created = await createBand(tx, { ...entry, rank });
    return succeed({ id: created.id });
  });
}

/** Removes a band; one that an order uses stays, and the store says so. */
export async function dropBand(workshop: Workshop, id: number, version: number): Promise<void> {
  await workshop.store.write('sizes: remove a band', async (tx) => {
    await removeBand(tx, id, version);
  });
}
