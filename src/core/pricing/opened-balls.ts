import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { PurchaseList } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import type { PairWants, Placed } from '#core/buying/wants.ts';
import { lotsOfPair } from '#core/pricing/lots-of-pair.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';
import { requireAbove0, requireRange } from '#core/shared/check.ts';

/** Yarn of one colour in one pair, and the lot it comes from: `bought` is on the list, `held` was given out before. */
export type BallUse = {
  readonly yarnColourId: number;
  readonly grams: number;
  readonly from: number | 'bought' | 'held';
  /** The lot that held yarn came from: what is free of it has that yarn taken off already. */
  readonly heldLotId?: number | undefined;
};

/** What is left of the balls of a colour that the plan opens, and of whose use it is a share. */
export type OpenedBalls = {
  readonly leftG: number;
  /** What that yarn cost. */
  readonly leftCents: number;
  /** All that the plan's pairs use of the colour. */
  readonly usedG: number;
};

/** What a pair is charged for opened balls of a colour of which it uses so many grams, cents, not rounded. */
export type OpenedCharge = (yarnColourId: number, grams: number) => number;

const hairG = 1e-6;

/**
 * What is left of the last ball once some yarn was used: the amount left over, whole balls taken away.
 *
 * @param heldG what there is before, grams, whole balls and perhaps one begun; 0 when all of it is still to buy
 * @param usedG what is used of it, grams
 * @param ballG a ball as sold, grams, above 0
 * @returns grams, at least 0, less than a ball; whole balls stay on the shelf unopened
 * @throws {RangeError} when an argument is out of range
 * @example leftOfBall(300, 110, 100) // => 90
 * @example leftOfBall(262, 62, 100) // => 0, the begun ball went and two whole ones are left
 * @example leftOfBall(0, 30, 50) // => 20, one ball to buy
 */
export function leftOfBall(heldG: number, usedG: number, ballG: number): number {
  requireRange('leftOfBall: heldG', heldG, 0);
  requireRange('leftOfBall: usedG', usedG, 0);
  requireAbove0('leftOfBall: ballG', ballG);
  const left = (((heldG - usedG) % ballG) + ballG) % ballG;
  return left < hairG || ballG - left < hairG ? 0 : left;
}

/**
 * What no pair on order can use of the balls that are opened for them, colour by colour: the rest of the last ball of
 * each lot that is used or was given out from, and of the last ball bought. Whole balls do not count, they keep; nor do lots that are not used.
 *
 * @param uses the yarn of every pair to make, at its likely weight
 * @param shelf lots with what is free of them
 * @param list what is bought
 * @param gramPrices price of a gram of what is bought
 * @param ballMgOf a colour's ball as sold
 * @example openedBalls([], [], { baskets: [], totalCents: 0, isProvenCheapest: true, boundCents: 0, uncovered: [] }, new Map(), new Map()).size // => 0
 */
export function openedBalls(
  uses: readonly BallUse[],
  shelf: readonly ShelfLot[],
  list: PurchaseList,
  gramPrices: ReadonlyMap<number, YarnPrice>,
  ballMgOf: ReadonlyMap<number, number>,
): ReadonlyMap<number, OpenedBalls> {
  const usedFrom = new Map<number, Map<BallUse['from'], number>>();
  for (const { yarnColourId, from, grams, heldLotId } of uses) {
    const ofColour = usedFrom.get(yarnColourId) ?? new Map<BallUse['from'], number>();
    ofColour.set(from, (ofColour.get(from) ?? 0) + grams);
    if (heldLotId !== undefined && !ofColour.has(heldLotId)) ofColour.set(heldLotId, 0);
    usedFrom.set(yarnColourId, ofColour);
  }
  const lots = new Map(shelf.map((lot) => [lot.id, lot]));
  const boughtG = new Map<number, number>();
  for (const { yarnColourId, grossMg } of list.baskets.flatMap((basket) => basket.lines)) {
    boughtG.set(yarnColourId, (boughtG.get(yarnColourId) ?? 0) + grossMg / 1000);
  }
  const opened = new Map<number, OpenedBalls>();
  for (const [colour, bySource] of usedFrom) {
    const ballG = ballMgOf.get(colour)! / 1000;
    const sum = { leftG: 0, leftCents: 0, usedG: 0 };
    for (const [from, usedG] of bySource) {
      sum.usedG += usedG;
      if (from === 'held') continue;
      const lot = from === 'bought' ? undefined : lots.get(from);
      const leftG = leftOfBall(lot ? lot.freeMg / 1000 : (boughtG.get(colour) ?? 0), usedG, ballG);
      const centsPerG = lot
        ? lot.boughtMg > 0
          ? (lot.paidCents * 1000) / lot.boughtMg
          : 0
        : (gramPrices.get(colour)?.centsPerG ?? 0);
      sum.leftG += leftG;
      sum.leftCents += leftG * centsPerG;
    }
    if (sum.usedG > 0) opened.set(colour, sum);
  }
  return opened;
}

/** The yarn of every wanted pair with where it comes from, lot by lot where it mixes them. */
export function ballUsesOf(
  pairs: readonly Pick<PairWants, 'pair' | 'yarn'>[],
  placed: Pick<Placed, 'lotOf' | 'mixedOf'>,
): BallUse[] {
  return pairs.flatMap(({ pair, yarn }) =>
    yarn.flatMap(({ yarnColourId, grams }): BallUse[] => {
      const isHeld = pair.started?.heldColourIds.includes(yarnColourId) ?? false;
      const lots = lotsOfPair(pair, yarnColourId, placed);
      if (lots.length === 0) return [{ yarnColourId, grams, from: isHeld ? 'held' : 'bought' }];
      return lots.map(({ lotId, share }) => {
        const use = { yarnColourId, grams: grams * share };
        return isHeld ? { ...use, from: 'held', heldLotId: lotId } : { ...use, from: lotId };
      });
    }),
  );
}

/** Balls as sold, by colour, of some kinds. */
export function ballMgOfKinds(kinds: readonly Kind[]): ReadonlyMap<number, number> {
  return new Map(
    kinds.flatMap((kind) => strandsOfKind(kind).map(({ yarnColourId, yarn }) => [yarnColourId, yarn.ballMg] as const)),
  );
}

/**
 * The charge for opened balls: a pair's share, by weight, of what is left of a colour; a colour that no pair on order
 * uses leaves what is left of the last ball for one such pair alone.
 *
 * @param opened what is left by colour
 * @example openedChargeOf(new Map([[1, { leftG: 40, leftCents: 240, usedG: 160 }]]), new Map(), new Map())(1, 80) // => 120
 * @example openedChargeOf(new Map(), new Map([[1, { centsPerG: 6, from: 'offer' }]]), new Map([[1, 100000]]))(1, 80) // => 120
 */
export function openedChargeOf(
  opened: ReadonlyMap<number, OpenedBalls>,
  gramPrices: ReadonlyMap<number, YarnPrice>,
  ballMgOf: ReadonlyMap<number, number>,
): OpenedCharge {
  return (colour, grams) => {
    const known = opened.get(colour);
    if (known) return (known.leftCents * grams) / known.usedG;
    const ballMg = ballMgOf.get(colour);
    if (ballMg === undefined) return 0;
    return leftOfBall(0, grams, ballMg / 1000) * (gramPrices.get(colour)?.centsPerG ?? 0);
  };
}

/** Nothing is charged for opened balls. */
export const chargeNothing: OpenedCharge = () => 0;
