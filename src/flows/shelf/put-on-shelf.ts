import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { makeLot } from '#flows/shelf/make-lot.ts';

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

/** Puts a new lot with its balls on the shelf. @returns the lot's id; or a refusal at `balls` */
export async function putOnShelf({ store }: Workshop, entry: ShelfEntry): Promise<Result<number>> {
  return await store.write('shelf: put yarn on the shelf', (tx) => makeLot(tx, entry, 'balls'));
}
