import type { ShelfLot } from '#core/buying/shelf.ts';
import type { Day } from '#core/shared/calendar.ts';
import { splitCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** Packs of one offer in a purchase: what a pack cost that day, and how many of them are here. */
export type PurchasedPacks = {
  readonly id: number;
  readonly yarnColourId: number;
  readonly packMg: number;
  readonly packs: number;
  readonly arrivedPacks: number;
  readonly priceCents: number;
};

/** What was ordered of a shop at once. `offCents` was taken off the goods as a whole. */
export type Purchase = {
  readonly expectedDay: Day;
  readonly shippingCents: number;
  readonly offCents: number;
  readonly lines: readonly PurchasedPacks[];
};

/**
 * What each line of a purchase cost when it is here: its goods, less its share of what was taken off, and its share of
 * the postage, both by the value of the goods. The lines add up to the bill.
 *
 * @param lines packs and the price of one, whole minor units
 * @param offCents never more than the goods
 * @returns whole minor units, in the order of the lines
 * @example landedByLine([{ packs: 2, priceCents: 500 }, { packs: 1, priceCents: 500 }], 300, 0) // => [1200, 600]
 * @example landedByLine([{ packs: 2, priceCents: 500 }, { packs: 1, priceCents: 500 }], 0, 150) // => [900, 450]
 */
export function landedByLine(
  lines: readonly { readonly packs: number; readonly priceCents: number }[],
  shippingCents: number,
  offCents: number,
): readonly number[] {
  if (lines.length === 0) return [];
  const goods = lines.map((line) => line.packs * line.priceCents);
  // Goods for nothing share the postage evenly.
  const postage = splitCents(shippingCents, goods);
  const off = splitCents(offCents, goods);
  return goods.map((cents, i) => cents + postage[i]! - off[i]!);
}

/**
 * What a part of a line cost: packs after those that came before. The parts add up to the line when all of it is here.
 *
 * @param landedCents the whole line, postage included
 * @param packs packs of the line, at least 1
 * @param before packs that came before
 * @param now packs that come now
 * @example partCents(1000, 3, 0, 1) // => 333
 * @example partCents(1000, 3, 1, 2) // => 667
 */
export function partCents(landedCents: number, packs: number, before: number, now: number): number {
  const upTo = (count: number) => roundHalfUp((landedCents * count) / packs);
  return upTo(before + now) - upTo(before);
}

const firstOnWayId = 2 ** 40;

/**
 * The number under which a purchase's line counts as a lot while it is on its way; no lot on the shelf gets that far.
 *
 * @example onWayLotId(7) - onWayLotId(0) // => 7
 */
export function onWayLotId(purchaseLineId: number): number {
  return firstOnWayId + purchaseLineId;
}

/**
 * Whether a lot stands for what is on its way: nothing can be weighed out of it yet.
 *
 * @example isOnWayLot(onWayLotId(7)) // => true
 * @example isOnWayLot(7) // => false
 */
export function isOnWayLot(lotId: number): boolean {
  return lotId >= firstOnWayId;
}

/**
 * What of a purchase is still on its way, a lot for each line: it counts as shelf from the day it is expected, and from
 * today where that day is past. One shop sends one dye lot of a colour where it is asked for one, so its lines of a colour
 * are rows of one lot until they are here.
 *
 * @param purchase ordered, and not all of it here
 * @returns one lot for each line that lacks packs, at what they cost with their postage
 * @example lotsOnTheirWay({ expectedDay: '2026-12-01', shippingCents: 0, offCents: 0, lines: [] }, '2026-11-25') // => []
 */
export function lotsOnTheirWay(purchase: Purchase, today: Day): ShelfLot[] {
  const landed = landedByLine(purchase.lines, purchase.shippingCents, purchase.offCents);
  const isPast = purchase.expectedDay < today;
  const firstOf = (colour: number) => purchase.lines.find((line) => line.yarnColourId === colour)!.id;
  return purchase.lines.flatMap(({ id, yarnColourId, packMg, packs, arrivedPacks }, i) => {
    const missing = packs - arrivedPacks;
    if (missing <= 0) return [];
    const boughtMg = missing * packMg;
    return [
      {
        id: onWayLotId(id),
        yarnColourId,
        dyeLot: '',
        freeMg: boughtMg,
        paidCents: partCents(landed[i]!, packs, arrivedPacks, missing),
        boughtMg,
        fromDay: isPast ? today : purchase.expectedDay,
        lotKey: `parcel ${firstOf(yarnColourId)}`,
      },
    ];
  });
}
