import { type LotLeft, type Placement, placeOnLots, type Want } from '#core/buying/lots.ts';
import { lotsAfter } from '#core/buying/lots-after.ts';
import type { Day } from '#core/shared/calendar.ts';

/**
 * Places groups of wants one after another, each so that the most grams of it find a place on what those before it left:
 * pairs that are begun come before pairs that are not. A colour that all groups find a place for together is placed so,
 * since nobody then takes from anybody.
 *
 * @param groups the wants of a pair all in one group
 * @param lots as for `placeOnLots`
 * @returns as `placeOnLots` gives it for all of them; a group that is alone is placed as there
 * @example placeInTurn([[{ pairKey: 'a', yarnColourId: 1, mg: 40 }], [{ pairKey: 'b', yarnColourId: 1, mg: 60 }]], [{ id: 4, yarnColourId: 1, freeMg: 70 }]).left // => [{ pairKey: 'b', yarnColourId: 1, mg: 60 }]
 */
export function placeInTurn<W extends Want>(groups: readonly (readonly W[])[], lots: readonly LotLeft[]): Placement<W> {
  const filled = groups.filter((group) => group.length > 0);
  if (filled.length < 2) return placeOnLots(filled[0] ?? [], lots);
  const all = filled.flat();
  const short = new Set(placeOnLots(all, lots).left.map(({ yarnColourId }) => yarnColourId));
  const parts = [
    placeOnLots(
      all.filter(({ yarnColourId }) => !short.has(yarnColourId)),
      lots,
    ),
  ];
  let left = lots;
  for (const group of filled) {
    const wants = group.filter(({ yarnColourId }) => short.has(yarnColourId));
    const own = placeOnLots(wants, left);
    left = lotsAfter(left, wants, { lotOf: own.placed, mixedOf: own.mixed });
    parts.push(own);
  }
  return {
    placed: new Map(parts.flatMap((part) => [...part.placed])),
    mixed: new Map(parts.flatMap((part) => [...part.mixed])),
    left: parts.flatMap((part) => part.left),
    waits: latestOf(parts.flatMap((part) => [...part.waits])),
  };
}

/** By pair, the last of its days. */
function latestOf(days: readonly (readonly [pairKey: string, day: Day])[]): ReadonlyMap<string, Day> {
  const latest = new Map<string, Day>();
  for (const [pairKey, day] of days) {
    const known = latest.get(pairKey);
    if (known === undefined || day > known) latest.set(pairKey, day);
  }
  return latest;
}
