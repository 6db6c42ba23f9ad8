import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { changeLot } from '#db/stores/shelf.ts';

export type LotEntry = {
  readonly dyeLot: string | null;
  readonly donor: string | null;
  readonly place: string | null;
  readonly gotDay: Day;
  readonly returnableUntilDay: Day | null;
  readonly paidCents: number;
  readonly worthCents: number | null;
};

/** Changes what is known of a lot: its number, where it came from, what was paid. */
export async function saveLot({ store }: Workshop, id: number, entry: LotEntry, version: number | undefined) {
  await store.write('shelf: change a lot', (tx) => changeLot(tx, id, entry, version));
}
