import type { Kind } from '#core/batch/lines.ts';
import { costOfPair } from '#core/pricing/cost.ts';
import { chargeNothing, type OpenedCharge } from '#core/pricing/opened-balls.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';
import { entryOf, newMap } from '#core/shared/entry-of.ts';

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

/**
 * What a pair of another style takes beside yarn when it is to be as complete as this one: what the other style has, and
 * what only this one has, like a grip line that was entered for one style.
 *
 * @returns all of it, and the names of what the other style lacks, in the order they were entered
 * @example keepMaterials([{ name: 'grip', eachCents: 90, perPair: 1 }], []).kept // => ['grip']
 */
export function keepMaterials(
  own: readonly MaterialUse[],
  other: readonly MaterialUse[],
): { readonly uses: readonly MaterialUse[]; readonly kept: readonly string[] } {
  const lacking = own.filter(({ name }) => !other.some((use) => use.name === name));
  return { uses: [...other, ...lacking], kept: lacking.map(({ name }) => name) };
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
export type HourCosts = {
  readonly wageCentsPerHour: number;
  readonly overheadCentsPerHour: number;
  /** Share of all pairs that go wrong; it counts in what a pair costs, and not in a batch, where spares are pairs. */
  readonly spareRatio?: number;
};

/**
 * What each pair costs, in whole minor units whose parts sum, and the sum over all pairs.
 *
 * @param pairs in any order; the result keeps it
 * @param materialsCents other materials of one pair, by style version
 * @param openedCharge what is charged for opened balls; nothing when left out
 */
export function costPairs(
  pairs: readonly PairToCost[],
  materialsCents: (styleVersionId: number) => number,
  hours: HourCosts,
  openedCharge: OpenedCharge = chargeNothing,
): BatchCost {
  const { wageCentsPerHour, overheadCentsPerHour } = hours;
  const costOf = ({ kind, minutes, yarn, priceOf }: PairToCost): CostParts => {
    let yarnCents = 0;
    let openedBallCents = 0;
    for (const { yarnColourId, grams } of yarn) {
      yarnCents += grams * priceOf(yarnColourId).centsPerG;
      openedBallCents += openedCharge(yarnColourId, grams);
    }
    return costOfPair({
      yarnCents,
      materialsCents: materialsCents(kind.shape.style.versionId),
      minutes,
      wageCentsPerHour,
      overheadCentsPerHour,
      openedBallCents,
    });
  };
  // Like pairs in like hands have one list of yarn; at like prices and minutes they cost the same.
  const known = new Map<PairToCost['yarn'], Map<number, { pair: PairToCost; cost: CostParts }>>();
  const costed = pairs.map((pair) => {
    const alike = entryOf(known, pair.yarn, newMap);
    const other = alike.get(pair.minutes);
    const isSame = other?.pair.priceOf === pair.priceOf && other.pair.kind === pair.kind;
    const cost = isSame ? other.cost : costOf(pair);
    if (!isSame) alike.set(pair.minutes, { pair, cost });
    return { key: pair.key, kindKey: pair.kind.key, cost };
  });
  return { pairs: costed, total: addCosts(costed.map((each) => each.cost)) };
}

/**
 * The sum of costs, part by part.
 *
 * @example addCosts([]).totalCents // => 0
 */
export function addCosts(costs: readonly CostParts[]): CostParts {
  const sum = { yarnCents: 0, materialsCents: 0, labourCents: 0, overheadCents: 0, totalCents: 0 };
  let openedBallCents = 0;
  let sparesCents = 0;
  for (const cost of costs) {
    sum.yarnCents += cost.yarnCents;
    sum.materialsCents += cost.materialsCents;
    sum.labourCents += cost.labourCents;
    sum.overheadCents += cost.overheadCents;
    sum.totalCents += cost.totalCents;
    openedBallCents += cost.openedBallCents ?? 0;
    sparesCents += cost.sparesCents ?? 0;
  }
  return {
    ...sum,
    ...(openedBallCents > 0 ? { openedBallCents } : {}),
    ...(sparesCents > 0 ? { sparesCents } : {}),
  };
}
