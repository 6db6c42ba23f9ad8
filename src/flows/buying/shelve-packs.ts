import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import type { Tx } from '#db/store.ts';
import { makeLot } from '#flows/shelf/make-lot.ts';

/** Packs of one colour in one dye lot that came. */
export type PacksToShelve = {
  readonly yarnColourId: number;
  /** Whole milligrams of a ball, and balls in a pack, as they were ordered. */
  readonly ballMg: number;
  readonly ballsPerPack: number;
  /** Left out where no shop of the workshop sold them. */
  readonly purchaseLineId?: number;
  /** Whole packs, at least 1. */
  readonly packs: number;
  readonly dyeLot: string | null;
  readonly day: Day;
  /** Goods and their share of the postage. */
  readonly paidCents: number;
};

/**
 * Puts packs on the shelf: a lot with its balls.
 *
 * @param path the field with the count of packs
 * @returns the lot's id; or a refusal at `path`
 */
export async function shelvePacks(tx: Tx, entry: PacksToShelve, path: string): Promise<Result<number>> {
  const { ballMg, ballsPerPack, packs, day, ...lot } = entry;
  const ballsMg = Array<number>(packs * ballsPerPack).fill(ballMg);
  return await makeLot(tx, { ...lot, gotDay: day, reason: 'bought', ballsMg }, path);
}
