import type { Kind } from '#core/batch/lines.ts';
import { costOfPair } from '#core/pricing/cost.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';

/** Materials beside yarn that go into every pair of a style: grip soles, labels. */
export type MaterialUse = { readonly name: string; readonly eachCents: number; readonly perPair: number };

/**
 * Cost of the other materials of one pair, exact cents.
 *
 * @example materialsOf([{ name: 'grip soles', eachCents: 150, perPair: 1 }, { name: 'label', eachCents: 10, perPair: 2 }]) // => 170
 */
export function materialsOf(uses: readonly MaterialUse[]): number {
  return uses.reduce((sum, use) => sum + use.eachCents * use.perPair, 0);
}

/** One pair to be costed. */
export type PairToCost = {
  readonly key: string;
  readonly kind: Kind;
  readonly minutes: number;
  readonly yarn: readonly { readonly yarnColourId: number; readonly grams: number }[];
  /** Price a gram of a colour for this pair: its lot's own, or the list's. */
  readonly priceOf: (yarnColourId: number) => YarnPrice;
};

export type PairCost = { readonly key: string; readonly kindKey: string; readonly cost: CostParts };
export type BatchCost = {
  readonly pairs: readonly PairCost[];
  /** The sum of the pairs, part by part. */
  readonly total: CostParts;
};

/** What an hour costs beside yarn. */
export type HourCosts = { readonly wageCentsPerHour: number; readonly overheadCentsPerHour: number };

/**
 * What each pair costs, in whole minor units whose parts sum, and the sum over all pairs.
 *
 * @param pairs in any order; the result keeps it
 * @param materialsCents other materials of one pair, by style version
 */
export function costPairs(
  pairs: readonly PairToCost[],
  materialsCents: (styleVersionId: number) => number,
  hours: HourCosts,
): BatchCost {
  // Like pairs at like yarn prices cost the same: thousands of pairs are some hundred different costs.
  const known = new Map<number, Map<number, Map<number, CostParts>>>();
  const costed = pairs.map((pair) => {
    let yarnCents = 0;
    for (const { yarnColourId, grams } of pair.yarn) yarnCents += grams * pair.priceOf(yarnColourId).centsPerG;
    const materials = materialsCents(pair.kind.shape.style.versionId);
    const byMinutes = entryOf(entryOf(known, yarnCents), pair.minutes);
    let cost = byMinutes.get(materials);
    if (!cost) {
      cost = costOfPair({
        yarnCents,
        materialsCents: materials,
        minutes: pair.minutes,
        wageCentsPerHour: hours.wageCentsPerHour,
        overheadCentsPerHour: hours.overheadCentsPerHour,
      });
      byMinutes.set(materials, cost);
    }
    return { key: pair.key, kindKey: pair.kind.key, cost };
  });
  return { pairs: costed, total: addCosts(costed.map((each) => each.cost)) };
}

function entryOf<T>(map: Map<number, Map<number, T>>, key: number): Map<number, T> {
  const found = map.get(key);
  if (found) return found;
  const made = new Map<number, T>();
  map.set(key, made);
  return made;
}

/**
 * The sum of costs, part by part.
 *
 * @example addCosts([]).totalCents // => 0
 */
export function addCosts(costs: readonly CostParts[]): CostParts {
  const sum = { yarnCents: 0, materialsCents: 0, labourCents: 0, overheadCents: 0, totalCents: 0 };
  for (const cost of costs) {
    sum.yarnCents += cost.yarnCents;
    sum.materialsCents += cost.materialsCents;
    sum.labourCents += cost.labourCents;
    sum.overheadCents += cost.overheadCents;
    sum.totalCents += cost.totalCents;
  }
  return sum;
}
