import { type LotLeft, type Placement, placeOnLots, type Want } from '#core/buying/lots.ts';
import { lotsAfter } from '#core/buying/lots-after.ts';

/**
 * Places groups of wants one after another, each so that the most grams of it find a place on what those before it left:
 * pairs that are begun come before pairs that are not.
 *
 * @param groups the wants of a pair all in one group
 * @param lots as for `placeOnLots`
 * @returns as `placeOnLots` gives it for all of them; a group that is alone is placed as there
 * @example placeInTurn([[{ pairKey: 'a', yarnColourId: 1, mg: 40 }], [{ pairKey: 'b', yarnColourId: 1, mg: 60 }]], [{ id: 4, yarnColourId: 1, freeMg: 70 }]).left // => [{ pairKey: 'b', yarnColourId: 1, mg: 60 }]
 */
export function placeInTurn<W extends Want>(groups: readonly (readonly W[])[], lots: readonly LotLeft[]): Placement<W> {
  const filled = groups.filter((group) => group.length > 0);
  const [first = [], ...others] = filled;
  const start = placeOnLots(first, lots);
  if (others.length === 0) return start;
  let left = lotsAfter(lots, first, { lotOf: start.placed, mixedOf: start.mixed });
  return others.reduce<Placement<W>>((all, group) => {
    const own = placeOnLots(group, left);
    left = lotsAfter(left, group, { lotOf: own.placed, mixedOf: own.mixed });
    return {
      placed: new Map([...all.placed, ...own.placed]),
      mixed: new Map([...all.mixed, ...own.mixed]),
      left: [...all.left, ...own.left],
      waits: new Map([...all.waits, ...own.waits]),
    };
  }, start);
}
