import type { Handwork } from '#core/batch/handwork.ts';
import { placementKey } from '#core/buying/lots.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import type { Wants } from '#core/buying/wants.ts';
import type { PairToCost } from '#core/pricing/cost-pairs.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';

const unknownPrice: YarnPrice = { centsPerG: 0, from: 'unknown' };

/**
 * The pairs as costing wants them: yarn from a lot at what that lot cost, held or still on the shelf, yarn to buy at the
 * price of its colour.
 *
 * @param wants pairs with their yarn, in planning order
 * @param handwork whole minutes of a pair, begun or not: its cost does not fall while it is knitted
 * @param lotOf lot by `placementKey`
 * @param gramPrices price of a gram by colour, for yarn that is not on a lot
 */
export function pairsToCost(
  wants: Wants,
  handwork: Handwork,
  lotOf: ReadonlyMap<string, number>,
  shelf: readonly ShelfLot[],
  gramPrices: ReadonlyMap<number, YarnPrice>,
): PairToCost[] {
  const lotPrices = new Map<number, YarnPrice>(
    shelf
      .filter((lot) => lot.boughtMg > 0)
      .map((lot) => [lot.id, { centsPerG: (lot.paidCents * 1000) / lot.boughtMg, from: 'shelf' }]),
  );
  const onLots = new Set(shelf.flatMap((lot) => (lotPrices.has(lot.id) ? [lot.yarnColourId] : [])));
  const toBuy = (yarnColourId: number) => gramPrices.get(yarnColourId) ?? unknownPrice;
  return wants.pairs.map(({ pair, knitterId, yarn }) => ({
    key: pair.key,
    kind: pair.kind,
    minutes: handwork.minutesOf(pair.kind, knitterId),
    yarn,
    priceOf: yarn.some(({ yarnColourId }) => onLots.has(yarnColourId))
      ? (yarnColourId: number) => {
          const lot = lotOf.get(placementKey(pair.key, yarnColourId)) ?? pair.started?.heldLots?.get(yarnColourId);
          const fromLot = lot === undefined ? undefined : lotPrices.get(lot);
          return fromLot ?? toBuy(yarnColourId);
        }
      : toBuy,
  }));
}
