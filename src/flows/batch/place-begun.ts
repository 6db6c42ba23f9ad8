import { type LotPart, placementKey, placeOnLots } from '#core/buying/lots.ts';
import { lotsAfter } from '#core/buying/lots-after.ts';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { type PairWant, type Placed, wantsOf } from '#core/buying/wants.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { heldByQuotes } from '#flows/orders/quote-place.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** Which lots the colours of pairs come from, by `placementKey`. */
export type Places = Pick<Placed, 'lotOf' | 'mixedOf'>;

/**
 * The lots that pairs get when they are started. Where the plan has all of a colour for them on lots that are here, it
 * stays so. Else they are placed anew, so that the most of it finds a lot: they come before all pairs that are not begun,
 * after those that are begun and wait, and leave what quotes hold.
 *
 * @param keys the pairs that are started
 */
export function placesToStart(workshopPlan: WorkshopPlan, keys: ReadonlySet<string>): Places {
  const { plan, input, settings } = workshopPlan;
  const { wants } = wantsOf(plan.wanted.pairs, plan.weeks, plan.handwork, settings);
  const begun = new Set(plan.wanted.pairs.flatMap(({ key, started }) => (started === null ? [] : [key])));
  const inPlan = (want: PairWant) => {
    const key = placementKey(want.pairKey, want.yarnColourId);
    return { key, lotId: plan.placed.lotOf.get(key), parts: plan.placed.mixedOf.get(key) };
  };
  const isHere = (want: PairWant) => {
    const { lotId, parts } = inPlan(want);
    return lotId === undefined ? (parts?.every((part) => !isOnWayLot(part.lotId)) ?? false) : !isOnWayLot(lotId);
  };
  const ownWants = groupBy(
    wants.filter(({ pairKey }) => keys.has(pairKey)),
    ({ yarnColourId }) => yarnColourId,
  );
  const lotOf = new Map<string, number>();
  const mixedOf = new Map<string, readonly LotPart[]>();
  const anew: PairWant[] = [];
  for (const own of ownWants.values()) {
    if (!own.every(isHere)) anew.push(...own);
    else {
      for (const want of own) {
        const { key, lotId, parts } = inPlan(want);
        if (lotId !== undefined) lotOf.set(key, lotId);
        else if (parts) mixedOf.set(key, parts);
      }
    }
  }
  if (anew.length === 0) return { lotOf, mixedOf };
  const held = heldByQuotes(workshopPlan);
  const here = input.shelf
    .filter(({ id }) => !isOnWayLot(id))
    .map((lot) => ({ ...lot, freeMg: Math.max(0, lot.freeMg - (held.get(lot.id) ?? 0)) }));
  const waiting = wants.filter((want) => begun.has(want.pairKey));
  const ofWaiting = (key: string) => begun.has(key.slice(0, key.lastIndexOf('/')));
  const left = lotsAfter(here, waiting, {
    lotOf: plan.placed.lotOf,
    mixedOf: new Map([...plan.placed.mixedOf].filter(([key]) => ofWaiting(key))),
  });
  const { placed, mixed } = placeOnLots(anew, left);
  return { lotOf: new Map([...lotOf, ...placed]), mixedOf: new Map([...mixedOf, ...mixed]) };
}
