import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { createBall, createLot } from '#db/stores/shelf.ts';

export type ShelfEntry = {
  readonly yarnColourId: number;
  readonly dyeLot: string | null;
  readonly donor: string | null;
  readonly place?: string | null;
  readonly reason: 'bought' | 'given';
  readonly gotDay: Day;
  readonly returnableUntilDay: Day | null;
  readonly paidCents: number;
  readonly worthCents: number | null;
  /** One entry a ball, whole milligrams above 0; at least one. */
  readonly ballsMg: readonly number[];
};

/** Puts a new lot with its balls on the shelf. @returns the lot's id */
export async function putOnShelf({ store }: Workshop, entry: ShelfEntry): Promise<number> {
  const { ballsMg, reason, gotDay, ...lot } = entry;
  return await store.write('shelf: put yarn on the shelf', async (tx) => {
    const boughtMg = ballsMg.reduce((sum, mg) => sum + mg, 0);
    const { id } = await createLot(tx, { ...lot, gotDay, boughtMg });
    for (const massMg of ballsMg) await createBall(tx, { lotId: id, massMg, reason, day: gotDay });
    return id;
  });
}
