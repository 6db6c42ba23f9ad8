import { formatCount } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Tx } from '#db/store.ts';
import { type BallReason, createBall, createLot, type NewLot } from '#db/stores/shelf.ts';

/** What one lot holds at most: our own choice, far beyond what one hand knits in a life. */
const mostLotMg = 1_000_000_000;
const mostLotBalls = 1000;
const mostLotCents = 100_000_000_000;

export type LotToMake = Omit<NewLot, 'boughtMg'> & {
  readonly reason: BallReason;
  /** One entry a ball, whole milligrams above 0; at least one. */
  readonly ballsMg: readonly number[];
  /** The line of a purchase that each ball came from, in the same order. */
  readonly purchaseLineIds?: readonly (number | undefined)[];
};

/**
 * Makes a lot with its balls, the only way that yarn comes to the shelf.
 *
 * @param path the field that says how much came: what is more than a lot can hold is refused there
 * @returns the lot's id
 */
export async function makeLot(tx: Tx, entry: LotToMake, path: string): Promise<Result<number>> {
  const { reason, ballsMg, purchaseLineIds = [], ...lot } = entry;
  const boughtMg = ballsMg.reduce((sum, mg) => sum + mg, 0);
  const refuseMore = (most: string, has: string) =>
    refuse({
      code: 'moreThanALot',
      path,
      message: `A lot holds at most ${most}; this is ${has}. Enter fewer: the rest can be a lot of its own.`,
    });
  if (ballsMg.length > mostLotBalls) {
    return refuseMore(`${formatCount(mostLotBalls)} balls`, `${formatCount(ballsMg.length)}`);
  }
  if (boughtMg > mostLotMg) return refuseMore('1,000 kg', `${formatCount(boughtMg / 1_000_000)} kg`);
  if (lot.paidCents > mostLotCents) {
    const message = 'More was paid than can be written down for one lot. Enter fewer, or a lower price.';
    return refuse({ code: 'moreThanALot', path, message });
  }
  const { id } = await createLot(tx, { ...lot, boughtMg });
  const { gotDay: day } = lot;
  for (const [index, massMg] of ballsMg.entries()) {
    await createBall(tx, { lotId: id, massMg, reason, day, purchaseLineId: purchaseLineIds[index] ?? null });
  }
  return succeed(id);
}
