import type { Day } from '#core/shared/calendar.ts';
import type { Tx } from '#db/store.ts';
import type { OfferRow } from '#db/stores/buying.ts';
import { createBall, createLot } from '#db/stores/shelf.ts';

/** Packs of one offer in one dye lot that came out of a purchase. */
export type PacksToShelve = {
  readonly offer: OfferRow;
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
  const { offer, purchaseLineId, packs, dyeLot, day, paidCents } = entry;
  const balls = packs * offer.ballsPerPack;
  const lot = await createLot(tx, {
    yarnColourId: offer.yarnColourId,
    dyeLot,
    gotDay: day,
    paidCents,
    boughtMg: balls * offer.ballMg,
  });
  for (let ball = 0; ball < balls; ball += 1) {
    await createBall(tx, { lotId: lot.id, massMg: offer.ballMg, reason: 'bought', day, purchaseLineId });
  }
  return lot.id;
}
