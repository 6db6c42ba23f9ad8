import { placementKey } from '#core/buying/lots.ts';
import { isOnWayLot } from '#core/buying/purchases.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { wantsOf } from '#core/buying/wants.ts';
import type { Day } from '#core/shared/calendar.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { sizeWordsOf } from '#flows/batch/start-batch.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

/** Pairs of one order in one size that take a colour from a lot. */
export type LotPairs = {
  readonly orderId: number | null;
  readonly name: string;
  readonly number: number | null;
  readonly sizeWords: string;
  readonly pairs: number;
  readonly grams: number;
};

export type LotUse = {
  /** Null for the yarn that is still to buy: one new lot. */
  readonly lot: {
    readonly id: number;
    readonly dyeLot: string;
    readonly place: string | null;
    readonly fromDay: Day | null;
  } | null;
  readonly freeG: number;
  readonly usedG: number;
  readonly pairs: readonly LotPairs[];
  /** By how much it falls short of one pair more; null where no pair is left that would want it. */
  readonly shortG: number | null;
};

export type ColourLots = { readonly colour: NamedColour; readonly lots: readonly LotUse[]; readonly mixing: number };

/** Which pairs take each colour from which dye lot, and what a lot lacks for one pair more. */
export function readDyeLots(workshopPlan: WorkshopPlan): ColourLots[] {
  const { plan, input, rows, settings } = workshopPlan;
  const named = coloursOf(rows);
  const { wants } = wantsOf(plan.wanted.pairs, plan.weeks, plan.handwork, settings);
  const pairByKey = new Map(plan.wanted.pairs.map((pair) => [pair.key, pair]));
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const outlets = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.name]));
  const placeOf = new Map(rows.lots.map((lot) => [lot.id, lot.place]));

  function pairsOf(entries: readonly { readonly pairKey: string; readonly mg: number }[]): LotPairs[] {
    const groups = new Map<string, LotPairs>();
    for (const { pairKey, mg } of entries) {
      const pair = pairByKey.get(pairKey)!;
      const order = pair.orderId === null ? undefined : orders.get(pair.orderId);
      const customer = order?.customerId ? customers.get(order.customerId) : undefined;
      const name = order ? (customer ?? outlets.get(order.outletId) ?? '') : 'spare';
      const sizeWords = sizeWordsIn(sizeWordsOf(pair, workshopPlan), workshopPlan.settings.unitSystem);
      const key = `${pair.orderId}/${sizeWords}`;
      const known = groups.get(key);
      groups.set(key, {
        orderId: pair.orderId,
        name,
        number: order?.number ?? null,
        sizeWords,
        pairs: (known?.pairs ?? 0) + 1,
        grams: (known?.grams ?? 0) + mg / 1000,
      });
    }
    return [...groups.values()];
  }

  return plan.needs.map(({ yarnColourId }) => {
    const own = wants.filter((want) => want.yarnColourId === yarnColourId);
    const keyOf = (pairKey: string) => placementKey(pairKey, yarnColourId);
    const toBuy = own.filter(({ pairKey }) => {
      return !plan.placed.lotOf.has(keyOf(pairKey)) && !plan.placed.mixedOf.has(keyOf(pairKey));
    });
    // A lot that is here may also save a pair from waiting for what is on its way.
    const onWay = own.filter(({ pairKey }) => isOnWayLot(plan.placed.lotOf.get(keyOf(pairKey)) ?? 0));
    const shortOf = (lot: ShelfLot, usedMg: number) => {
      const others = lot.fromDay === undefined ? [...toBuy, ...onWay] : toBuy;
      if (others.length === 0) return null;
      return Math.max(0, Math.min(...others.map(({ mg }) => mg)) - (lot.freeMg - usedMg)) / 1000;
    };
    const uses = input.shelf
      .filter((lot) => lot.yarnColourId === yarnColourId && lot.freeMg > 0)
      .map((lot): LotUse => {
        const entries = own.flatMap(({ pairKey, mg }) => {
          if (plan.placed.lotOf.get(keyOf(pairKey)) === lot.id) return [{ pairKey, mg }];
          const part = plan.placed.mixedOf.get(keyOf(pairKey))?.find(({ lotId }) => lotId === lot.id);
          return part ? [{ pairKey, mg: part.mg }] : [];
        });
        const usedMg = entries.reduce((sum, { mg }) => sum + mg, 0);
        return {
          lot: { id: lot.id, dyeLot: lot.dyeLot, place: placeOf.get(lot.id) ?? null, fromDay: lot.fromDay ?? null },
          freeG: lot.freeMg / 1000,
          usedG: usedMg / 1000,
          pairs: pairsOf(entries),
          shortG: shortOf(lot, usedMg),
        };
      });
    const usedG = toBuy.reduce((sum, { mg }) => sum + mg, 0) / 1000;
    const bought: LotUse[] =
      toBuy.length === 0 ? [] : [{ lot: null, freeG: usedG, usedG, pairs: pairsOf(toBuy), shortG: null }];
    const mixing = own.filter(({ pairKey }) => plan.placed.mixedOf.has(keyOf(pairKey))).length;
    return { colour: named.get(yarnColourId)!, lots: [...uses, ...bought], mixing };
  });
}
