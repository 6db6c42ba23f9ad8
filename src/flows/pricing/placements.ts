import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changePair, createPairEvent, findPair, listPairPieces } from '#db/stores/batch.ts';
import {
  changePlacement,
  createPlacement,
  createShopPayment,
  findPlacement,
  listPlacements,
  type PlacementRow,
  removeShopPayment,
} from '#db/stores/placements.ts';
import { findOutlet, type OutletRow } from '#db/stores/pricing.ts';
import { placedPairs } from '#flows/batch/started-pairs.ts';

/** Finished pairs that go to a shop, each at the shop's price. */
export type PlacingEntry = {
  readonly day: Day;
  readonly pairs: readonly {
    readonly pairId: number;
    readonly priceCents: number;
    readonly version: number | undefined;
  }[];
};

/** What became of pairs that stood in a shop. */
export type CountEntry = {
  readonly day: Day;
  readonly pairs: readonly {
    readonly placementId: number;
    readonly what: 'sold' | 'back';
    readonly version: number | undefined;
  }[];
};

async function shopOf(tx: Tx, outletId: number): Promise<OutletRow> {
  const outlet = await findOutlet(tx, outletId);
  if (outlet?.kind !== 'shop') throw new AppError('notFound', 'That shop is not here.');
  return outlet;
}

/**
 * Places finished pairs in a shop on sale or return. Price and share are kept as they are today, whatever is agreed later.
 *
 * @throws {AppError} `notFound`; `conflict` when a pair has left, is not finished, or stands in a shop already
 */
export async function placePairs(workshop: Workshop, outletId: number, entry: PlacingEntry): Promise<void> {
  await workshop.store.write('pricing: place pairs in a shop', async (tx) => {
    const shop = await shopOf(tx, outletId);
    if (shop.terms !== 'sale or return') {
      throw new AppError('conflict', `${shop.name} does not take pairs on sale or return. Change its terms first.`);
    }
    const placed = placedPairs(await listPlacements(tx));
    const pieces = await listPairPieces(tx);
    for (const { pairId, priceCents, version } of entry.pairs) {
      const pair = await findPair(tx, pairId);
      const isFinished = pieces.every((piece) => piece.pairId !== pairId || piece.stage === 'done');
      if (!pair || pair.left !== null || !isFinished || placed.has(pairId)) {
        throw new AppError('conflict', 'One of these pairs is not here any more. Look at the page again.');
      }
      await changePair(tx, pairId, {}, version);
      await createPlacement(tx, {
        pairId,
        outletId,
        placedDay: entry.day,
        priceCents,
        shareRatio: shop.shopShareRatio,
      });
      await createPairEvent(tx, { pairId, event: `placed in ${shop.name}` });
    }
  });
}

async function placementAt(tx: Tx, outletId: number, placementId: number): Promise<PlacementRow> {
  const placement = await findPlacement(tx, placementId);
  if (placement?.outletId === outletId) return placement;
  throw new AppError('notFound', 'That pair does not stand in this shop. Look at the page again.');
}

/**
 * Counts back what stood in a shop: sold pairs have left, the others are finished stock again.
 *
 * @throws {AppError} `notFound`; `conflict` when somebody counted one of them before
 */
export async function countBack(workshop: Workshop, outletId: number, entry: CountEntry): Promise<void> {
  await workshop.store.write('pricing: count back from a shop', async (tx) => {
    const shop = await shopOf(tx, outletId);
    for (const { placementId, what, version } of entry.pairs) {
      const { pairId, soldDay, backDay, placedDay } = await placementAt(tx, outletId, placementId);
      if (soldDay !== null || backDay !== null) {
        throw new AppError('conflict', 'One of these pairs was counted already. Look at the page again.');
      }
      if (entry.day < placedDay) {
        throw new AppError('conflict', 'A pair cannot be counted before the day it was placed. Choose a later day.');
      }
      await changePlacement(
        tx,
        placementId,
        what === 'sold' ? { soldDay: entry.day } : { backDay: entry.day },
        version,
      );
      await changePair(tx, pairId, what === 'sold' ? { left: 'sold' } : {});
      await createPairEvent(tx, { pairId, event: what === 'sold' ? 'sold' : `came back from ${shop.name}` });
    }
  });
}

/**
 * Takes a count back that was a slip: the pair stands in the shop again.
 *
 * @throws {AppError} `notFound`; `conflict` when the pair went on since
 */
export async function uncount(
  workshop: Workshop,
  outletId: number,
  placementId: number,
  version: number | undefined,
): Promise<void> {
  await workshop.store.write('pricing: take a count back', async (tx) => {
    const { pairId, soldDay } = await placementAt(tx, outletId, placementId);
    const pair = await findPair(tx, pairId);
    const placed = placedPairs(await listPlacements(tx));
    const isAsLeft = pair !== null && pair.left === (soldDay === null ? null : 'sold');
    if (!isAsLeft || placed.has(pairId)) {
      throw new AppError('conflict', 'This pair has gone on since: it cannot stand in the shop again.');
    }
    await changePlacement(tx, placementId, { soldDay: null, backDay: null }, version);
    await changePair(tx, pairId, { left: null });
    await createPairEvent(tx, { pairId, event: 'still in the shop' });
  });
}

/** Notes what a shop paid for pairs that it sold. @throws {AppError} `notFound` */
export async function addShopPayment(
  workshop: Workshop,
  outletId: number,
  entry: { readonly day: Day; readonly cents: number },
): Promise<void> {
  await workshop.store.write('pricing: note what a shop paid', async (tx) => {
    await shopOf(tx, outletId);
    await createShopPayment(tx, { outletId, ...entry });
  });
}

/** @throws {AppError} `notFound`, `conflict` */
export async function dropShopPayment(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('pricing: take a payment of a shop away', (tx) => removeShopPayment(tx, id, version));
}
