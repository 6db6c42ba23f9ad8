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
  readonly nowPacks: number;
  /** The mean of what is bought later, over what the weighed pairs may tell. */
  readonly laterPacks: number;
  readonly oncePacks: number;
  /** How likely nothing more is to buy. */
  readonly chanceOfNone: number;
};

/** Pairs weighed before the rest is bought, and the share of the likely need bought before; both our own choice. */
export const pairsToWeigh = 3;
const nowShare = 0.7;
const certainZ = 1.6449;
const mostPacks = 10_000;

/**
 * What to buy now of a colour and what later, when three pairs are weighed. Now: whole packs up to 70 % of the likely
 * need, or up to what is used 19 times in 20 where that is more. Later: what is then missing to be as safe.
 *
 * @param need grams of all pairs that are to be bought for
 * @param pairs how many they are
 * @param packG grams of one pack, above 0
 * @param confidence how often all of it should be enough
 * @returns null where two steps make no sense: no pair left after three, or no whole pack that is surely used
 * @example twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 3, 100, 0.9) // => null
 * @example twoSteps({ mean: 1000, sharedSd: 100, ownVariance: 0 }, 10, 100, 0.9)?.nowPacks // => 8
 */
export function twoSteps(need: Estimate, pairs: number, packG: number, confidence: number): TwoSteps | null {
  requireRange('twoSteps: packG', packG, 1e-6);
  if (pairs <= pairsToWeigh) return null;
  const certainG = Math.max(nowShare * need.mean, need.mean - certainZ * sdOf(need));
  const nowPacks = Math.floor(certainG / packG + 1e-9);
  const oncePacks = Math.ceil(enoughAt(need, confidence) / packG - 1e-9);
  // The first step must carry the pairs that are weighed.
  if (nowPacks * packG < (enoughAt(need, confidence) * pairsToWeigh) / pairs || nowPacks >= oncePacks) return null;
  const { leftSdG, learnedSdG } = afterReadings(need, pairs, pairsToWeigh);
  // What is safe then is the mean as learned and the sd left; as seen now that mean is still to be drawn.
  const thenG = enoughAt({ mean: need.mean, sharedSd: leftSdG, ownVariance: 0 }, confidence);
  const chanceOfMore = (packs: number) =>
    chanceShort({ mean: thenG, sharedSd: learnedSdG, ownVariance: 0 }, (nowPacks + packs) * packG);
  let laterPacks = 0;
  for (let packs = 0; packs < mostPacks; packs += 1) {
    const chance = chanceOfMore(packs);
    laterPacks += chance;
    if (chance < 1e-9) break;
  }
  return { nowPacks, laterPacks, oncePacks, chanceOfNone: 1 - chanceOfMore(0) };
}
