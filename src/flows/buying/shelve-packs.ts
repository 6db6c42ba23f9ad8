import type { Day } from '#core/shared/calendar.ts';
import type { Tx } from '#db/store.ts';
import { createBall, createLot } from '#db/stores/shelf.ts';

/** Packs of one colour in one dye lot that came out of a purchase. */
export type PacksToShelve = {
  readonly yarnColourId: number;
  /** Whole milligrams of a ball, and balls in a pack, as they were ordered. */
  readonly ballMg: number;
  readonly ballsPerPack: number;
  readonly purchaseLineId: number;
  /** Whole packs, at least 1. */
  readonly packs: number;
  readonly dyeLot: string | null;
  readonly day: Day;
  /** Goods and their share of the postage. */
  readonly paidCents: number;
};

/** Puts packs on the shelf: a lot with its balls. @returns the lot's id */
export async function shelvePacks(tx: Tx, entry: PacksToShelve): Promise<number> {
  const { yarnColourId, ballMg, ballsPerPack, purchaseLineId, packs, dyeLot, day, paidCents } = entry;
  const balls = packs * ballsPerPack;
  const lot = await createLot(tx, {
    yarnColourId,
    dyeLot,
    gotDay: day,
    paidCents,
    boughtMg: balls * ballMg,
  });
  for (let ball = 0; ball < balls; ball += 1) {
    await createBall(tx, { lotId: lot.id, massMg: ballMg, reason: 'bought', day, purchaseLineId });
  }
  return lot.id;
}
