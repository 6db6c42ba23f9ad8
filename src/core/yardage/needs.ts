import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import { addIndependent, addShared, type Estimate, noAmount, scaleEstimate } from '#core/shared/estimate.ts';
import type { Spec } from '#core/styles/spec.ts';

/** Some like pairs in one hand. */
export type PairsOfKind = { readonly kind: Kind; readonly spec: Spec; readonly count: number };

/** Yarn of one colour for some pairs: grams and metres, with their errors. */
export type ColourAmount = { readonly yarnColourId: number; readonly grams: Estimate; readonly metres: Estimate };

type Sums = { readonly grams: Estimate; readonly metres: Estimate };

/** Yarn of one colour in one pair, for one role and fabric; `group` names the yarn, fabric and hand whose error it shares. */
export type PairAmount = ColourAmount & { readonly group: string; readonly fabric: string };

/**
 * The sum of strands held together: they make the same loops, so what one takes too much the other does too, and their
 * own errors add like the shared ones.
 *
 * @example addStrands({ mean: 10, sharedSd: 1, ownVariance: 4 }, { mean: 10, sharedSd: 1, ownVariance: 4 }) // => { mean: 20, sharedSd: 2, ownVariance: 16 }
 */
export function addStrands(a: Estimate, b: Estimate): Estimate {
  return { ...addShared([a, b]), ownVariance: (Math.sqrt(a.ownVariance) + Math.sqrt(b.ownVariance)) ** 2 };
}

/**
 * Yarn of one pair by colour, role and fabric, with its errors: grams and metres, all strands of a colour together.
 *
 * @param kind the pair's kind
 * @param spec its counts in the knitter's hand
 * @throws {RangeError} when the kind has no yarn for a strand of the spec
 */
export function pairAmounts(kind: Kind, spec: Spec): readonly PairAmount[] {
  let ofKind = knownAmounts.get(kind);
  if (!ofKind) {
    ofKind = new Map();
    knownAmounts.set(kind, ofKind);
  }
  const known = ofKind.get(spec);
  if (known) return known;
  const amounts = amountsOf(kind, spec);
  ofKind.set(spec, amounts);
  return amounts;
}

// A kind and a spec never change, and a plan asks for their yarn again and again.
const knownAmounts = new WeakMap<Kind, Map<Spec, readonly PairAmount[]>>();

function amountsOf(kind: Kind, spec: Spec): readonly PairAmount[] {
  const strands = strandsOfKind(kind);
  const amounts = new Map<string, PairAmount>();
  for (const each of spec.metres) {
    const strand = strands.find((known) => known.role === each.role && known.strand === each.strand);
    if (!strand) throw new RangeError(`pairAmounts: the kind has no yarn for ${each.role}, strand ${each.strand + 1}`);
    const { yarnColourId, yarn } = strand;
    const key = `${each.role}/${each.fabric}/${yarnColourId}`;
    const grams = scaleEstimate(each.metres, yarn.tex / 1000);
    const known = amounts.get(key);
    amounts.set(key, {
      yarnColourId,
      group: `${spec.handKey}/${yarn.id}/${each.fabric}`,
      fabric: each.fabric,
      grams: known ? addStrands(known.grams, grams) : grams,
      metres: known ? addStrands(known.metres, each.metres) : each.metres,
    });
  }
  return [...amounts.values()];
}

function times(estimate: Estimate, count: number): Estimate {
  return {
    mean: estimate.mean * count,
    sharedSd: estimate.sharedSd * count,
    ownVariance: estimate.ownVariance * count,
  };
}

/**
 * Grams and metres of each colour in one pair of a kind, means only: what to weigh out.
 *
 * @param kind the pair's kind
 * @param spec its counts in the knitter's hand
 * @returns one entry per colour, in the order of the style's roles
 */
export function yarnOfPair(kind: Kind, spec: Spec): { yarnColourId: number; grams: number; metres: number }[] {
  const byColour = new Map<number, { grams: number; metres: number }>();
  for (const entry of pairAmounts(kind, spec)) {
    const sum = byColour.get(entry.yarnColourId) ?? { grams: 0, metres: 0 };
    byColour.set(entry.yarnColourId, {
      grams: sum.grams + entry.grams.mean,
      metres: sum.metres + entry.metres.mean,
    });
  }
  return [...byColour].map(([yarnColourId, sum]) => ({ yarnColourId, ...sum }));
}

/**
 * Yarn of each colour for a set of pairs. Within a knitter's yarn and fabric the shared errors add (a wrong loop length
 * is wrong in every pair); across them they are independent; each pair's own errors add as squares.
 *
 * @param groups like pairs with their counts, any order; an empty list gives an empty one
 * @param onlyColourId leaves all other colours out
 * @returns one amount per colour, by colour id
 */
export function yarnNeeds(groups: readonly PairsOfKind[], onlyColourId?: number): ColourAmount[] {
  const byColour = new Map<number, Map<string, Sums>>();
  for (const { kind, spec, count } of groups) {
    if (count === 0) continue;
    for (const entry of pairAmounts(kind, spec)) {
      if (onlyColourId !== undefined && entry.yarnColourId !== onlyColourId) continue;
      let ofColour = byColour.get(entry.yarnColourId);
      if (!ofColour) {
        ofColour = new Map();
        byColour.set(entry.yarnColourId, ofColour);
      }
      const sums = ofColour.get(entry.group) ?? { grams: noAmount, metres: noAmount };
      ofColour.set(entry.group, {
        grams: addShared([sums.grams, times(entry.grams, count)]),
        metres: addShared([sums.metres, times(entry.metres, count)]),
      });
    }
  }
  return [...byColour]
    .sort(([a], [b]) => a - b)
    .map(([yarnColourId, ofColour]) => ({
      yarnColourId,
      grams: addIndependent([...ofColour.values()].map((sums) => sums.grams)),
      metres: addIndependent([...ofColour.values()].map((sums) => sums.metres)),
    }));
}
