import { type Cover, coverNeed, packMg } from '#core/buying/cover-need.ts';
import type { Offer } from '#core/buying/offers.ts';
import { requireRange } from '#core/shared/check.ts';
import { type Estimate, enoughAt, sdOf } from '#core/shared/estimate.ts';

/**
 * The share of a standard normal distribution that lies below z.
 *
 * @returns 0 to 1, wrong by less than 7.5e-8
 * Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.17; checked against its table 26.1
 * @example Number(normalCdf(0).toFixed(6)) // => 0.5
 * @example Number(normalCdf(1.2816).toFixed(4)) // => 0.9
 */
export function normalCdf(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const sum = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * sum;
  return z >= 0 ? 1 - tail : tail;
}

/**
 * How likely the yarn runs short.
 *
 * @param need grams that will be used
 * @param haveG grams there are
 * @returns 0 to 1
 * Source: 1 - Phi((have - mean) / sd), the need taken as normally distributed (our own choice)
 * @example Number(chanceShort({ mean: 100, sharedSd: 10, ownVariance: 0 }, 110).toFixed(4)) // => 0.1587
 * @example chanceShort({ mean: 100, sharedSd: 0, ownVariance: 0 }, 100) // => 0
 */
export function chanceShort(need: Estimate, haveG: number): number {
  const sd = sdOf(need);
  if (sd === 0) return haveG >= need.mean ? 0 : 1;
  return 1 - normalCdf((haveG - need.mean) / sd);
}

/** A weighed pair tells its yarn to so much; our own choice, as is the least that stays unknown. */
const readingSd = 0.05;
const leastSd = 0.02;

/**
 * What is still unknown of a need once some of its pairs are weighed: the error that all pairs share is learned from
 * them, and they themselves are known.
 *
 * @param need grams of all pairs
 * @param pairs at least 1
 * @param readings pairs that will have been weighed
 * @returns one sd of what is still unknown, and one sd of what the readings will have told
 * Source: precision-weighted mean of prior and readings; readings 5 %, never surer than 2 % by them: our own choice
 * @example afterReadings({ mean: 1000, sharedSd: 0, ownVariance: 1600 }, 4, 3).leftSdG // => 20
 */
export function afterReadings(
  need: Estimate,
  pairs: number,
  readings: number,
): { readonly leftSdG: number; readonly learnedSdG: number } {
  requireRange('afterReadings: pairs', pairs, 1);
  const leftShare = Math.max(0, pairs - readings) / pairs;
  const leftMean = need.mean * leftShare;
  const prior = need.mean === 0 ? 0 : need.sharedSd / need.mean;
  const shared = prior === 0 ? 0 : 1 / Math.sqrt(1 / prior ** 2 + readings / readingSd ** 2);
  const sharedLeft = Math.min(prior, Math.max(leastSd, shared));
  const leftSdG = Math.hypot(leftMean * sharedLeft, Math.sqrt(need.ownVariance * leftShare));
  const learned = sdOf(need) ** 2 - leftSdG ** 2;
  return { leftSdG, learnedSdG: Math.sqrt(Math.max(0, learned)) };
}

/** A colour bought in two steps: whole packs now, the rest when some pairs are weighed. */
export type TwoSteps = {
  readonly now: Cover;
  /** Means of what is bought later, over what the weighed pairs may tell; a part of the times it is nothing. */
  readonly laterG: number;
  readonly laterCents: number;
  /** How likely nothing more is to buy. */
  readonly chanceOfNone: number;
};

/** Pairs weighed before the rest is bought, and the share of the likely need bought before; both our own choice. */
export const pairsToWeigh = 3;
const nowShare = 0.7;
const certainZ = 1.6449;
const leastChance = 1e-9;

/**
 * What to buy now of a colour and what later, when three pairs are weighed. Now: whole packs, the largest first, up to
 * 70 % of the likely need, or up to what is used 19 times in 20 where that is more; or what weighs at least as much and
 * costs less. Later: what is then missing to be as safe, by its cheapest packs. What a shop will have in stock by then
 * nobody knows, so it counts as enough.
 *
 * @param need grams of all pairs that are to be bought for
 * @param pairs how many they are
 * @param offers the packs that one shop sells of the colour
 * @param confidence how often all of it should be enough
 * @returns null where two steps make no sense: no pair left after three, no whole packs that are surely used, or no less
 * now than at once
 * Source: expected value, cover by cover; checked by drawing in the tests
 * @example twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 3, [], 0.9) // => null
 * @example twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, [{ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 100000, ballsPerPack: 1, priceCents: 500, stockPacks: null }], 0.9)?.now.grossMg // => 800000
 */
export function twoSteps(need: Estimate, pairs: number, offers: readonly Offer[], confidence: number): TwoSteps | null {
  if (pairs <= pairsToWeigh) return null;
  const safeG = enoughAt(need, confidence);
  const once = coverNeed(safeG * 1000, offers);
  const certainG = Math.max(nowShare * need.mean, need.mean - certainZ * sdOf(need));
  const now = coverNeed(fullPacksMg(certainG * 1000, offers), offers);
  // The first step must carry the pairs that are weighed.
  if (!once || !now || now.grossMg < (safeG * 1000 * pairsToWeigh) / pairs || now.grossMg >= once.grossMg) return null;
  return { now, ...laterOf(need, pairs, now.grossMg, offers, confidence) };
}

/** What packs, the largest first, come to without weighing more than so much. */
function fullPacksMg(mostMg: number, offers: readonly Offer[]): number {
  let leftMg = mostMg + 1e-3;
  for (const offer of [...offers].sort((a, b) => packMg(b) - packMg(a))) {
    const packs = Math.min(offer.stockPacks ?? Number.POSITIVE_INFINITY, Math.floor(leftMg / packMg(offer)));
    leftMg -= packs * packMg(offer);
  }
  return Math.round(mostMg + 1e-3 - leftMg);
}

function laterOf(need: Estimate, pairs: number, nowMg: number, offers: readonly Offer[], confidence: number) {
  const inStock = offers.map((offer) => ({ ...offer, stockPacks: null }));
  const { leftSdG, learnedSdG } = afterReadings(need, pairs, pairsToWeigh);
  // What is safe then is the mean as learned and the sd left; as seen now that mean is still to be drawn.
  const thenG = enoughAt({ mean: need.mean, sharedSd: leftSdG, ownVariance: 0 }, confidence);
  const chanceOfMore = (missingMg: number) =>
    chanceShort({ mean: thenG, sharedSd: learnedSdG, ownVariance: 0 }, (nowMg + missingMg) / 1000);
  const chanceOfNone = 1 - chanceOfMore(0);
  const later = { laterG: 0, laterCents: 0, chanceOfNone };
  let chance = 1 - chanceOfNone;
  for (let coveredMg = 0; chance >= leastChance; ) {
    // The cheapest cover of a hair more stays the cheapest up to all that it weighs.
    const cover = coverNeed(coveredMg + 1, inStock)!;
    coveredMg = cover.grossMg;
    const stillMore = chanceOfMore(coveredMg);
    later.laterG += ((chance - stillMore) * coveredMg) / 1000;
    later.laterCents += (chance - stillMore) * cover.goodsCents;
    chance = stillMore;
  }
  return later;
}
