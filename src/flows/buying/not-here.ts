import { landedByLine, partCents } from '#core/buying/purchases.ts';
import type { Tx } from '#db/store.ts';
import {
  changePurchase,
  changePurchaseLine,
  findPurchase,
  findPurchaseLine,
  listPurchaseLines,
} from '#db/stores/buying.ts';
import { type BallMoveRow, changeLot, findBall, findLot, listAllMoves } from '#db/stores/shelf.ts';

/** Balls of a purchase's line that are still booked as bought. */
function ballsHere(moves: readonly BallMoveRow[], purchaseLineId: number): number {
  const ofLine = moves.filter((move) => move.purchaseLineId === purchaseLineId);
  return ofLine.filter(({ reversesId }) => reversesId === null).length * 2 - ofLine.length;
}

/**
 * After a ball that came with a purchase was taken back: its pack is to come again, and its lot was got for so much less.
 * A pack of several balls counts as here while one of them is, so that none is expected twice. What was cancelled is not
 * waited for again.
 *
 * @param undoing the move that reverses the coming of the ball
 */
export async function takeBackArrived(tx: Tx, undoing: BallMoveRow): Promise<void> {
  const { ballId, purchaseLineId } = undoing;
  const line = purchaseLineId === null ? null : await findPurchaseLine(tx, purchaseLineId);
  if (!line) return;
  const arrivedPacks = Math.ceil(ballsHere(await listAllMoves(tx), line.id) / line.ballsPerPack);
  if (arrivedPacks >= line.arrivedPacks) return;
  const purchase = (await findPurchase(tx, line.purchaseId))!;
  const lines = (await listPurchaseLines(tx)).filter((each) => each.purchaseId === purchase.id);
  // What is left of a cancelled purchase pays the postage alone.
  const shippingCents = purchase.state === 'cancelled' ? 0 : purchase.shippingCents;
  const landed = landedByLine(lines, shippingCents, purchase.offCents)[lines.findIndex(({ id }) => id === line.id)]!;
  const backCents = partCents(landed, line.packs, arrivedPacks, line.arrivedPacks - arrivedPacks);
  const lot = (await findLot(tx, (await findBall(tx, ballId))!.lotId))!;
  await changeLot(tx, lot.id, {
    paidCents: Math.max(0, lot.paidCents - backCents),
    // No lot is of nothing, not even an emptied one.
    boughtMg: Math.max(1, lot.boughtMg - line.ballMg * line.ballsPerPack),
  });
  await changePurchaseLine(tx, line.id, { arrivedPacks });
  if (purchase.state === 'arrived') await changePurchase(tx, purchase.id, { state: 'ordered' });
}
