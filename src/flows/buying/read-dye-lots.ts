import { placementKey } from '#core/buying/lots.ts';
import { takenFrom } from '#core/buying/lots-after.ts';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { isOneLot, joinLots } from '#core/buying/same-lots.ts';
import { type PairWant, wantsOf } from '#core/buying/wants.ts';
import type { Day } from '#core/shared/calendar.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { sizeWordsOf } from '#flows/batch/start-batch.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';
import { type LotName, lotNamer } from '#flows/shelf/lot-names.ts';
import { type ShortLot, shortLots } from '#flows/shelf/short-pairs.ts';

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
    /** Null while it is on its way. */
    readonly name: LotName | null;
    readonly place: string | null;
    readonly fromDay: Day | null;
  } | null;
  readonly freeG: number;
  readonly usedG: number;
  readonly pairs: readonly LotPairs[];
  /** The least that is enough for one pair more; null where no pair is left that would want it. */
  readonly nextPairG: number | null;
  /** By how much it falls short of that. */
  readonly shortG: number | null;
};

export type ColourLots = {
  readonly colour: NamedColour;
  readonly lots: readonly LotUse[];
  readonly mixing: number;
  /** Lots of it that lack yarn for begun pairs. */
  readonly short: readonly ShortLot[];
};

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

  const { placed } = plan;
  const lacking = shortLots(rows);
  const nameOf = lotNamer(rows);
  return plan.needs.map(({ yarnColourId }) => {
    const own = wants.filter((want) => want.yarnColourId === yarnColourId);
    const keyOf = ({ pairKey }: PairWant) => placementKey(pairKey, yarnColourId);
    const mixedOf = (want: PairWant) => placed.mixedOf.get(keyOf(want));
    const toBuy = own.filter((want) => !placed.lotOf.has(keyOf(want)) && !mixedOf(want));
    // A lot that is here may also save a pair from waiting for what is on its way.
    const onWay = own.filter((want) => isOnWayLot(placed.lotOf.get(keyOf(want)) ?? mixedOf(want)?.[0]?.lotId ?? 0));
    const leastOf = (isHere: boolean) => {
      const others = isHere ? [...toBuy, ...onWay] : toBuy;
      return others.length === 0 ? null : Math.min(...others.map(({ mg }) => mg));
    };
    const uses = joinLots(input.shelf.filter((lot) => lot.yarnColourId === yarnColourId))
      .filter((lot) => lot.freeMg > 0)
      .map((lot): LotUse => {
        const taken = takenFrom(new Set(lot.rows.map(({ id }) => id)), own, placed);
        const entries = taken.map(({ want: { pairKey }, mg }) => ({ pairKey, mg }));
        const usedMg = entries.reduce((sum, { mg }) => sum + mg, 0);
        const nextMg = leastOf(lot.fromDay === undefined);
        const first = rows.lots.find(({ id }) => id === lot.id);
        const places = lot.rows.flatMap(({ id }) => placeOf.get(id) ?? []);
        return {
          lot: {
            id: lot.id,
            name: first ? nameOf(first) : null,
            place: places.length === 0 ? null : [...new Set(places)].join(', '),
            fromDay: lot.fromDay ?? null,
          },
          freeG: lot.freeMg / 1000,
          usedG: usedMg / 1000,
          pairs: pairsOf(entries),
          nextPairG: nextMg === null ? null : nextMg / 1000,
          shortG: nextMg === null ? null : Math.max(0, nextMg - (lot.freeMg - usedMg)) / 1000,
        };
      });
    const usedG = toBuy.reduce((sum, { mg }) => sum + mg, 0) / 1000;
    const bought: LotUse[] =
      toBuy.length === 0
        ? []
        : [{ lot: null, freeG: usedG, usedG, pairs: pairsOf(toBuy), nextPairG: null, shortG: null }];
    const mixing = own.filter((want) => {
      const parts = mixedOf(want);
      return parts !== undefined && !isOneLot(parts, input.shelf);
    }).length;
    const short = lacking.filter((lot) => lot.yarnColourId === yarnColourId);
    return { colour: named.get(yarnColourId)!, lots: [...uses, ...bought], mixing, short };
  });
}
