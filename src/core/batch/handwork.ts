import type { Kind } from '#core/batch/lines.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { entryOf, newMap } from '#core/shared/entry-of.ts';
import type { Spec } from '#core/styles/spec.ts';
import type { Specs } from '#core/styles/specify.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { minutesOfPair } from '#core/timing/minutes.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';

/** Yarn of one colour in one pair: what to weigh out. */
export type PairYarn = { readonly yarnColourId: number; readonly grams: number; readonly metres: number };

/** What a kind is in a knitter's hands: counts, minutes, yarn. Nobody (null) means the reference knitter. */
export type Handwork = {
  readonly specOf: (kind: Kind, knitterId: number | null) => Spec;
  readonly minutesOf: (kind: Kind, knitterId: number | null) => number;
  /** Minutes by knitter, for loops over everybody. */
  readonly minutesByKnitter: (kind: Kind) => ReadonlyMap<number, number>;
  /** The same list object for like pairs in one hand. */
  readonly yarnOf: (kind: Kind, knitterId: number | null) => readonly PairYarn[];
};

/**
 * Looks up counts, minutes and yarn of a kind for a knitter, each worked out once.
 *
 * @param specs counts for every shape in every knitter's hand
 * @param knitters at least one; the reference knitter among them
 * @param referenceKnitterId stands in where nobody is named, or somebody unknown
 * @throws {RangeError} when there is no knitter, or a shape was not specified in a hand
 */
export function handworkOf(specs: Specs, knitters: readonly Knitter[], referenceKnitterId: number): Handwork {
  const byId = new Map(knitters.map((knitter) => [knitter.id, knitter]));
  const reference = byId.get(referenceKnitterId) ?? knitters[0];
  if (!reference) throw new RangeError('handworkOf: knitters must not be empty');
  const knitterOf = (id: number | null) => (id === null ? reference : (byId.get(id) ?? reference));
  // Looked up by the object first: thousands of pairs share a kind, and its key is long.
  const byObject = new Map<Kind, Known>();
  const byKey = new Map<string, Known>();
  const knownOf = (kind: Kind): Known =>
    byObject.get(kind) ?? entryOf(byObject, kind, () => entryOf(byKey, kind.key, nothingYet));
  const specIn = (kind: Kind, known: Known, handKey: string): Spec => {
    const spec = known.specs.get(handKey) ?? specs.get(`${kind.shape.key}|${handKey}`);
    if (!spec) throw new RangeError(`handworkOf: ${kind.shape.key} was not specified in ${handKey}`);
    known.specs.set(handKey, spec);
    return spec;
  };
  const minutesBySpec = new Map<number, Map<Spec, number>>();
  const minutesIn = (kind: Kind, known: Known, knitter: Knitter): number => {
    const spec = specIn(kind, known, knitter.handKey);
    const ofKnitter = entryOf(minutesBySpec, knitter.id, newMap);
    const minutes = entryOf(ofKnitter, spec, () => minutesOfPair(spec.operations, knitter.rates));
    known.minutes.set(knitter.id, minutes);
    return minutes;
  };
  const yarnIn = (kind: Kind, known: Known, handKey: string): readonly PairYarn[] =>
    entryOf(known.yarn, handKey, () => yarnOfPair(kind, specIn(kind, known, handKey)));
  // What is known already is found without making anything: these are asked thousands of times in a plan.
  return {
    specOf: (kind, knitterId) => specIn(kind, knownOf(kind), knitterOf(knitterId).handKey),
    minutesOf: (kind, knitterId) => {
      const knitter = knitterOf(knitterId);
      const known = knownOf(kind);
      return known.minutes.get(knitter.id) ?? minutesIn(kind, known, knitter);
    },
    minutesByKnitter: (kind) => {
      const known = knownOf(kind);
      if (known.minutes.size < knitters.length) for (const knitter of knitters) minutesIn(kind, known, knitter);
      return known.minutes;
    },
    yarnOf: (kind, knitterId) => {
      const { handKey } = knitterOf(knitterId);
      const known = knownOf(kind);
      return known.yarn.get(handKey) ?? yarnIn(kind, known, handKey);
    },
  };
}

const nothingYet = (): Known => ({ specs: new Map(), minutes: new Map(), yarn: new Map() });

type Known = {
  readonly specs: Map<string, Spec>;
  readonly minutes: Map<number, number>;
  readonly yarn: Map<string, readonly PairYarn[]>;
};

/**
 * The hand of the reference knitter: whose counts say what fits, and what is shown before anybody is chosen.
 *
 * @throws {RangeError} when there is no knitter, or her hand is not among the hands
 */
export function referenceHand(workshop: {
  readonly knitters: readonly Knitter[];
  readonly hands: readonly Hand[];
  readonly referenceKnitterId: number;
}): Hand {
  const { knitters, hands, referenceKnitterId } = workshop;
  const reference = knitters.find((knitter) => knitter.id === referenceKnitterId) ?? knitters[0];
  const hand = hands.find((each) => each.key === reference?.handKey);
  if (!hand) throw new RangeError(`referenceHand: no hand is called ${reference?.handKey}`);
  return hand;
}
