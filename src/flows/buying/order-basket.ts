import { landedByLine, partCents } from '#core/buying/purchases.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { splitCents } from '#core/shared/money.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changePurchase,
  changePurchaseLine,
  createPurchase,
  createPurchaseLine,
  findOffer,
  findPurchase,
  findSupplier,
  listPurchaseLines,
  type PurchaseLineRow,
  type PurchaseRow,
} from '#db/stores/buying.ts';
import { changeLot, findLot, listAllMoves, listBalls } from '#db/stores/shelf.ts';

/** What is ordered of one offer. */
export type OrderedPacks = {
  readonly offerId: number;
  /** Whole packs, at least 1. */
  readonly packs: number;
  /** What one pack costs today. */
  readonly priceCents: number;
};

export type BasketOrder = {
  readonly supplierId: number;
  readonly orderedDay: Day;
  readonly expectedDay: Day;
  readonly shippingCents: number;
  /** Taken off the goods as a whole. */
  readonly offCents: number;
  /** At least one. */
  readonly packs: readonly OrderedPacks[];
};

const isGone = () => new AppError('notFound', 'This purchase is not here; it may have been removed.');

/**
 * Writes down that a basket was ordered: what a pack cost that day, the postage, and the day it should be here. From
 * that day on its yarn counts as shelf. One write.
 *
 * @returns the purchase's id
 * @throws {AppError} `notFound` when the shop or a price is gone
 */
export async function orderBasket({ store }: Workshop, order: BasketOrder): Promise<number> {
  const { packs: ordered, ...purchaseValues } = order;
  return await store.write('buying: order a basket', async (tx) => {
    if (!(await findSupplier(tx, order.supplierId))) {
      throw new AppError('notFound', 'This shop is not here; it may have been removed.');
    }
    const purchase = await createPurchase(tx, { ...purchaseValues, state: 'ordered' });
    for (const { offerId, packs, priceCents } of ordered) {
      const offer = await findOffer(tx, offerId);
      if (offer?.supplierId !== order.supplierId) {
        throw new AppError('notFound', 'A price of this basket is not here; it may have been removed.');
      }
      const { ballMg, ballsPerPack } = offer;
      await createPurchaseLine(tx, { purchaseId: purchase.id, offerId, ballMg, ballsPerPack, packs, priceCents });
    }
    return purchase.id;
  });
}

/** A purchase that is still open, with its lines; or why nothing can be done with it any more. */
export async function readOpenPurchase(
  tx: Tx,
  id: number,
): Promise<Result<{ readonly purchase: PurchaseRow; readonly lines: readonly PurchaseLineRow[] }>> {
  const purchase = await findPurchase(tx, id);
  if (!purchase) throw isGone();
  const lines = (await listPurchaseLines(tx)).filter((line) => line.purchaseId === id);
  if (purchase.state === 'ordered') return succeed({ purchase, lines });
  const message =
    purchase.state === 'arrived' ? 'All of this is on the shelf already.' : 'This purchase was cancelled meanwhile.';
  return refuse({ code: 'notOpen', path: 'purchase', message });
}

export type PurchaseChange = {
  readonly expectedDay: Day;
  /** Kept as they are when left out: once something came, its price stands on the shelf. */
  readonly bill?: {
    readonly shippingCents: number;
    readonly offCents: number;
    readonly prices: readonly { readonly lineId: number; readonly priceCents: number }[];
  };
};

/** Another day for what is on its way; while nothing of it came, other prices and postage too. */
export async function changeOrdered(
  { store }: Workshop,
  id: number,
  change: PurchaseChange,
  version: number | undefined,
): Promise<Result<number>> {
  return await store.write('buying: change a purchase', async (tx) => {
    const open = await readOpenPurchase(tx, id);
    if (!open.ok) return open;
    const { purchase, lines } = open.value;
    const problems: Problem[] = [];
    if (change.expectedDay < purchase.orderedDay) {
      const message = 'It cannot be here before it was ordered: enter a later day.';
      problems.push({ code: 'beforeOrdered', path: 'expectedDay', message });
    }
    const { bill } = change;
    if (bill && lines.some((line) => line.arrivedPacks > 0)) {
      const message = 'Some of it is on the shelf at this price already; only the day can be changed now.';
      problems.push({ code: 'partArrived', path: 'shipping', message });
    }
    if (problems.length > 0) return refuse(...problems);
    const { shippingCents, offCents } = bill ?? purchase;
    await changePurchase(tx, id, { expectedDay: change.expectedDay, shippingCents, offCents }, version);
    for (const { lineId, priceCents } of bill?.prices ?? []) {
      if (lines.some((line) => line.id === lineId)) await changePurchaseLine(tx, lineId, { priceCents });
    }
    return succeed(id);
  });
}

/** Lots that came out of a purchase. */
async function lotsOf(tx: Tx, lines: readonly PurchaseLineRow[]): Promise<readonly number[]> {
  const lineIds = new Set(lines.map((line) => line.id));
  const ballIds = new Set(
    (await listAllMoves(tx)).flatMap(({ ballId, purchaseLineId }) =>
      purchaseLineId !== null && lineIds.has(purchaseLineId) ? [ballId] : [],
    ),
  );
  return [...new Set((await listBalls(tx)).filter(({ id }) => ballIds.has(id)).map(({ lotId }) => lotId))];
}

/**
 * Cancels what has not come. What has come stays on the shelf, and pays the postage alone: the lots and the postage
 * still add up to the bill.
 */
export async function cancelOrdered(
  { store }: Workshop,
  id: number,
  version: number | undefined,
): Promise<Result<number>> {
  return await store.write('buying: cancel a purchase', async (tx) => {
    const open = await readOpenPurchase(tx, id);
    if (!open.ok) return open;
    const { purchase, lines } = open.value;
    await changePurchase(tx, id, { state: 'cancelled' }, version);
    const lots = [];
    for (const lotId of await lotsOf(tx, lines)) lots.push((await findLot(tx, lotId))!);
    if (lots.length === 0) return succeed(id);
    const goods = landedByLine(lines, 0, 0);
    const postageLeft = landedByLine(lines, purchase.shippingCents, 0)
      .map((cents, i) => cents - goods[i]!)
      .map((cents, i) => {
        const { packs, arrivedPacks } = lines[i]!;
        return partCents(cents, packs, arrivedPacks, packs - arrivedPacks);
      })
      .reduce((sum, cents) => sum + cents, 0);
    const extra = splitCents(
      postageLeft,
      lots.map((lot) => lot.paidCents),
    );
    for (const [i, lot] of lots.entries()) {
      if (extra[i]! > 0) await changeLot(tx, lot.id, { paidCents: lot.paidCents + extra[i]! });
    }
    return succeed(id);
  });
}
