import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import { entryOf, newMap } from '#core/shared/entry-of.ts';
import { addIndependent, addShared, type Estimate, enoughAt, noAmount, scaleEstimate } from '#core/shared/estimate.ts';
import type { Spec } from '#core/styles/spec.ts';

/** Some like pairs in one hand. */
export type PairsOfKind = { readonly kind: Kind; readonly spec: Spec; readonly count: number };

/** Yarn of one colour for some pairs: grams and metres, with their errors. */
export type ColourAmount = { readonly yarnColourId: number; readonly grams: Estimate; readonly metres: Estimate };

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
  return entryOf(entryOf(knownAmounts, spec, newMap), kind, () => amountsOf(kind, spec));
}

// A kind and a spec never change, and a plan asks for their yarn again and again; specs go with their plan.
const knownAmounts = new WeakMap<Spec, Map<Kind, readonly PairAmount[]>>();

/** Yarn of one strand in one role and fabric: the same in every colour. */
type StrandAmount = Omit<PairAmount, 'yarnColourId'> & { readonly role: string; readonly strand: number };

const knownStrandAmounts = new WeakMap<Spec, readonly StrandAmount[]>();

function strandAmountsOf(kind: Kind, spec: Spec): readonly StrandAmount[] {
  const strands = strandsOfKind(kind);
  return spec.metres.map(({ role, strand, fabric, metres }) => {
    const yarn = strands.find((each) => each.role === role && each.strand === strand)?.yarn;
    if (!yarn) throw new RangeError(`pairAmounts: the kind has no yarn for ${role}, strand ${strand + 1}`);
    const grams = scaleEstimate(metres, yarn.tex / 1000);
    return { role, strand, fabric, group: `${spec.handKey}/${yarn.id}/${fabric}`, grams, metres };
  });
}

function amountsOf(kind: Kind, spec: Spec): readonly PairAmount[] {
  const amounts: PairAmount[] = [];
  const roles: string[] = [];
  for (const each of entryOf(knownStrandAmounts, spec, () => strandAmountsOf(kind, spec))) {
    const { role, fabric, group, grams, metres } = each;
    const yarnColourId = kind.colours[role]?.[each.strand];
    if (yarnColourId === undefined) {
      throw new RangeError(`pairAmounts: no colour for ${role}, strand ${each.strand + 1}`);
    }
    const together = amounts.findIndex(
      (known, index) => known.yarnColourId === yarnColourId && known.fabric === fabric && roles[index] === role,
    );
    const known = amounts[together];
    if (known) {
      amounts[together] = {
        ...known,
        group,
        grams: addStrands(known.grams, grams),
        metres: addStrands(known.metres, metres),
      };
    } else {
      amounts.push({ yarnColourId, group, fabric, grams, metres });
      roles.push(role);
    }
  }
  return amounts;
}

type MutableEstimate = { -readonly [K in keyof Estimate]: Estimate[K] };
type Sums = { readonly grams: MutableEstimate; readonly metres: MutableEstimate };

const noSums = (): Sums => ({ grams: { ...noAmount }, metres: { ...noAmount } });

/** Adds so many like amounts that share their error. */
function addTimes(sum: MutableEstimate, { mean, sharedSd, ownVariance }: Estimate, count: number): void {
  sum.mean += mean * count;
  sum.sharedSd += sharedSd * count;
  sum.ownVariance += ownVariance * count;
}

/**
 * Grams and metres of each colour in one pair of a kind, means only: what to weigh out.
 *
 * @param kind the pair's kind
 * @param spec its counts in the knitter's hand
 * @returns one entry per colour, in the order of the style's roles
 */
export function yarnOfPair(kind: Kind, spec: Spec): { yarnColourId: number; grams: number; metres: number }[] {
  const sums: { yarnColourId: number; grams: number; metres: number }[] = [];
  for (const { yarnColourId, grams, metres } of pairAmounts(kind, spec)) {
    const sum = sums.find((each) => each.yarnColourId === yarnColourId);
    if (sum) {
      sum.grams += grams.mean;
      sum.metres += metres.mean;
    } else sums.push({ yarnColourId, grams: grams.mean, metres: metres.mean });
  }
  return sums;
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
      const ofColour = entryOf(byColour, entry.yarnColourId, newMap);
      const sums = entryOf(ofColour, entry.group, noSums);
      addTimes(sums.grams, entry.grams, count);
      addTimes(sums.metres, entry.metres, count);
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

/** What of the settings says how much yarn a pair is given. */
export type AmountSettings = { readonly confidence: number; readonly buyAt: 'likely' | 'safe' };

/**
 * How sure a pair is to have enough of what it takes from a lot: as sure as the list that the plan counts with. One
 * place says so, so that what is bought, planned, put aside and started is the same amount.
 *
 * @example confidenceOfWants({ confidence: 0.9, buyAt: 'safe' }) // => 0.9
 * @example confidenceOfWants({ confidence: 0.9, buyAt: 'likely' }) // => 0.5
 */
export function confidenceOfWants({ confidence, buyAt }: AmountSettings): number {
  return buyAt === 'safe' ? confidence : 0.5;
}

/**
 * The whole milligrams that are enough of an amount in grams, the next one up.
 *
 * @param confidence one of the confidences of `enoughAt`
 * @example enoughMg({ mean: 100, sharedSd: 10, ownVariance: 0 }, 0.9) // => 112816
 */
export function enoughMg(grams: Estimate, confidence: number): number {
  return Math.ceil(enoughAt(grams, confidence) * 1000 - 1e-6);
}

/**
 * What is enough of each colour for one pair alone: how much a lot must hold for it, and what is weighed out.
 *
 * @param confidence one of the confidences of `enoughAt`
 * @returns whole milligrams, the next one up, by colour id
 */
export function enoughForPair(kind: Kind, spec: Spec, confidence: number): { yarnColourId: number; mg: number }[] {
  return yarnNeeds([{ kind, spec, count: 1 }]).map(({ yarnColourId, grams }) => ({
    yarnColourId,
    mg: enoughMg(grams, confidence),
  }));
}
