import { requireRange } from '#core/shared/check.ts';

/**
 * An uncertain amount. `sharedSd` is the error that a whole yarn-and-fabric of one knitter has in common (a wrong
 * loop length is wrong in every pair), `ownVariance` the sum of the squared errors that each piece has for itself.
 */
export type Estimate = { readonly mean: number; readonly sharedSd: number; readonly ownVariance: number };

export const noAmount: Estimate = { mean: 0, sharedSd: 0, ownVariance: 0 };

/**
 * The sum of estimates that share their error: means add, shared errors add, own variances add.
 *
 * @example addShared([{ mean: 10, sharedSd: 1, ownVariance: 4 }, { mean: 20, sharedSd: 2, ownVariance: 5 }]) // => { mean: 30, sharedSd: 3, ownVariance: 9 }
 * @example addShared([]) // => { mean: 0, sharedSd: 0, ownVariance: 0 }
 */
export function addShared(estimates: readonly Estimate[]): Estimate {
  let mean = 0;
  let sharedSd = 0;
  let ownVariance = 0;
  for (const estimate of estimates) {
    mean += estimate.mean;
    sharedSd += estimate.sharedSd;
    ownVariance += estimate.ownVariance;
  }
  return { mean, sharedSd, ownVariance };
}

/**
 * The sum of estimates whose shared errors have nothing to do with each other (other knitters, other fabrics):
 * means add, own variances add, shared errors add as squares.
 *
 * @example addIndependent([{ mean: 1, sharedSd: 3, ownVariance: 0 }, { mean: 1, sharedSd: 4, ownVariance: 1 }]) // => { mean: 2, sharedSd: 5, ownVariance: 1 }
 */
export function addIndependent(estimates: readonly Estimate[]): Estimate {
  const sum = addShared(estimates);
  return { ...sum, sharedSd: Math.sqrt(estimates.reduce((total, each) => total + each.sharedSd * each.sharedSd, 0)) };
}

/**
 * An estimate times a factor: a change of unit, or the same pair's second slipper.
 *
 * @param factor at least 0
 * @example scaleEstimate({ mean: 10, sharedSd: 1, ownVariance: 4 }, 2) // => { mean: 20, sharedSd: 2, ownVariance: 16 }
 */
export function scaleEstimate(estimate: Estimate, factor: number): Estimate {
  requireRange('scaleEstimate: factor', factor, 0);
  return {
    mean: estimate.mean * factor,
    sharedSd: estimate.sharedSd * factor,
    ownVariance: estimate.ownVariance * factor * factor,
  };
}

/**
 * One standard deviation of an estimate, both kinds of error together.
 *
 * @example sdOf({ mean: 100, sharedSd: 3, ownVariance: 16 }) // => 5
 */
export function sdOf(estimate: Estimate): number {
  return Math.sqrt(estimate.sharedSd * estimate.sharedSd + estimate.ownVariance);
}

/** How often the yarn bought should be enough, and the standard normal quantile that belongs to it. */
export const confidences = [
  { ratio: 0.5, z: 0, words: 'as likely as not' },
  { ratio: 0.8, z: 0.8416, words: '8 times in 10' },
  { ratio: 0.9, z: 1.2816, words: '9 times in 10' },
  { ratio: 0.95, z: 1.6449, words: '19 times in 20' },
  { ratio: 0.99, z: 2.3263, words: '99 times in 100' },
] as const;

/**
 * The amount that is enough with a given confidence: mean + z x sd.
 *
 * @param estimate the uncertain amount
 * @param confidence one of 0.5, 0.8, 0.9, 0.95, 0.99
 * @throws {RangeError} for any other confidence
 * Source: quantiles of the standard normal distribution, printed in any statistical table
 * @example enoughAt({ mean: 100, sharedSd: 10, ownVariance: 0 }, 0.9) // => 112.816
 * @example enoughAt({ mean: 100, sharedSd: 10, ownVariance: 0 }, 0.5) // => 100
 */
export function enoughAt(estimate: Estimate, confidence: number): number {
  const entry = confidences.find((each) => Math.abs(each.ratio - confidence) < 1e-9);
  if (!entry) {
    const known = confidences.map((each) => each.ratio).join(', ');
    throw new RangeError(`enoughAt: confidence must be one of ${known}, got ${confidence}`);
  }
  return estimate.mean + entry.z * sdOf(estimate);
}
