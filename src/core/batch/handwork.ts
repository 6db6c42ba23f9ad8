import type { Kind } from '#core/batch/lines.ts';
import type { Hand } from '#core/gauge/hand.ts';
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
  const minutes = new Map<string, number>();
  const yarn = new Map<string, readonly PairYarn[]>();
  const specOf = (kind: Kind, knitterId: number | null): Spec => {
    const { handKey } = knitterOf(knitterId);
    const spec = specs.get(`${kind.shape.key}|${handKey}`);
    if (!spec) throw new RangeError(`handworkOf: ${kind.shape.key} was not specified in ${handKey}`);
    return spec;
  };
  return {
    specOf,
    minutesOf: (kind, knitterId) => {
      const knitter = knitterOf(knitterId);
      const key = `${kind.shape.key}|${knitter.id}`;
      const known = minutes.get(key);
      if (known !== undefined) return known;
      const value = minutesOfPair(specOf(kind, knitterId).operations, knitter.rates);
      minutes.set(key, value);
      return value;
    },
    yarnOf: (kind, knitterId) => {
      const key = `${kind.key}|${knitterOf(knitterId).handKey}`;
      const known = yarn.get(key);
      if (known) return known;
      const value = yarnOfPair(kind, specOf(kind, knitterId));
      yarn.set(key, value);
      return value;
    },
  };
}

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
