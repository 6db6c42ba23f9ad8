import type { Handwork } from '#core/batch/handwork.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import type { Placed, Wants } from '#core/buying/wants.ts';
import type { PairToCost } from '#core/pricing/cost-pairs.ts';
import { lotsOfPair } from '#core/pricing/lots-of-pair.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';

const unknownPrice: YarnPrice = { centsPerG: 0, from: 'unknown' };

/**
 * The pairs as costing wants them: yarn from a lot at what that lot cost, held or still on the shelf, from several lots at
 * what they cost by weight, yarn to buy at the price of its colour.
 *
 * @param wants pairs with their yarn, in planning order
 * @param handwork whole minutes of a pair, begun or not: its cost does not fall while it is knitted
 * @param placed which lots the pairs have their yarn from
 * @param gramPrices price of a gram by colour, for yarn that is not on a lot
 */
export function pairsToCost(
  wants: Wants,
  handwork: Handwork,
  placed: Pick<Placed, 'lotOf' | 'mixedOf'>,
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
          const priced = lotsOfPair(pair, yarnColourId, placed).map(({ lotId, share }) => {
            return { share, price: lotPrices.get(lotId) ?? toBuy(yarnColourId) };
          });
          const [first] = priced;
          if (!first) return toBuy(yarnColourId);
          const centsPerG = priced.reduce((sum, { share, price }) => sum + share * price.centsPerG, 0);
          return { centsPerG, from: first.price.from };
        }
      : toBuy,
  }));
}
