import type { Handwork, PairYarn } from '#core/batch/handwork.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import type { LotPart, Want } from '#core/buying/lots.ts';
import type { Assignment } from '#core/schedule/assign.ts';
import type { Day } from '#core/shared/calendar.ts';
import { entryOf } from '#core/shared/entry-of.ts';
import type { Spec } from '#core/styles/spec.ts';
import { type AmountSettings, type ColourAmount, enoughMg, type PairsOfKind, yarnNeeds } from '#core/yardage/needs.ts';

/** What a pair wants of a lot, and what each of the two lists buys for it where no lot has it; whole mg. */
export type PairWant = Want & { readonly likelyMg: number; readonly safeMg: number };

/** What a list must buy of a colour so that each pair finds its own in a lot, and the largest of these; whole mg. */
export type NeedOfPairs = { readonly needMg: number; readonly largestPairMg: number };

/**
 * A colour still to buy: the estimate over all its pairs, which tells how likely it runs short, and what each list needs,
 * which is a few grams more than is enough for all of them together.
 */
export type ToBuy = ColourAmount & { readonly likely: NeedOfPairs; readonly safe: NeedOfPairs };

/** Yarn that pairs want: as groups of like pairs for the sums, and pair by pair for the lots. */
export type Wants = {
  readonly groups: readonly PairsOfKind[];
  /** Pair by pair and colour by colour, what is enough for that pair alone; what is held already left out. */
  readonly wants: readonly PairWant[];
  readonly pairs: readonly PairWants[];
};

export type PairWants = {
  readonly pair: WantedPair;
  readonly knitterId: number | null;
  readonly yarn: readonly PairYarn[];
  readonly like: LikePairs;
};

/** Which pair's colour comes from which lot, and what is left to buy. */
export type Placed = {
  /** Lot by `placementKey(pairKey, colourId)`; a colour that is not here is to be bought, or already held. */
  readonly lotOf: ReadonlyMap<string, number>;
  /** The lots of a pair to give that may mix them, by the same key; none of these is in `lotOf`. */
  readonly mixedOf: ReadonlyMap<string, readonly LotPart[]>;
  readonly toBuy: readonly ToBuy[];
  /** The last good day for each colour still to buy. */
  readonly neededByDay: (latest: ReadonlyMap<string, Day>) => ReadonlyMap<number, Day>;
  /** The day a pair's yarn is all here. */
  readonly arrivalDay: (pairKey: string, arrivals: ReadonlyMap<number, Day>, today: Day) => Day;
};

function isHeld(pair: WantedPair, yarnColourId: number): boolean {
  return pair.started?.heldColourIds.includes(yarnColourId) ?? false;
}

/** So many pairs of a kind, counted. */
function countPairs(entries: readonly PairWants[]): PairsOfKind[] {
  const counts = new Map<LikePairs, number>();
  for (const { like } of entries) counts.set(like, (counts.get(like) ?? 0) + 1);
  return [...counts].map(([{ kind, spec }, count]) => ({ kind, spec, count }));
}

/**
 * The yarn each pair wants at its knitter's counts: what is enough for that pair alone. What a pair wants of a lot thus
 * never hangs on what else is ordered, and a lot's pairs together have a little more than is enough for all of them.
 * A pair that was begun and waits for its yarn wants what was written down for it then.
 *
 * @param pairs in planning order
 * @param assigned one per pair, same order
 * @param settings how often the safe amount is enough, and which of the two a pair wants of a lot
 */
export function wantsOf(
  pairs: readonly WantedPair[],
  assigned: readonly Assignment[],
  handwork: Handwork,
  settings: AmountSettings,
): Wants {
  // `yarnOf` gives like pairs in one hand one list, so the list tells them apart.
  const likeOf = new Map<readonly PairYarn[], LikePairs>();
  const wants: PairWant[] = [];
  const withKnitter = pairs.map((pair, index): PairWants => {
    const knitterId = assigned[index]?.knitterId ?? null;
    const yarn = handwork.yarnOf(pair.kind, knitterId);
    const like = entryOf(likeOf, yarn, () => likePairs(pair.kind, handwork.specOf(pair.kind, knitterId), settings));
    for (const alone of like.alone) {
      const { yarnColourId } = alone;
      if (pair.started !== null && isHeld(pair, yarnColourId)) continue;
      const settledMg = pair.started?.waitsMg?.get(yarnColourId);
      const likelyMg = settledMg ?? alone.likelyMg;
      const safeMg = settledMg ?? alone.safeMg;
      const mg = settings.buyAt === 'safe' ? safeMg : likelyMg;
      // One plain object a want: a large plan has tens of thousands.
      const want = { pairKey: pair.key, yarnColourId, mg, likelyMg, safeMg };
      wants.push(pair.mayMixLots ? { ...want, mayMix: true } : want);
    }
    return { pair, knitterId, yarn, like };
  });
  return { groups: countPairs(withKnitter), wants, pairs: withKnitter };
}

type AloneAmount = Pick<PairWant, 'yarnColourId' | 'likelyMg' | 'safeMg'>;

/** Pairs of a kind in one hand, and what is enough for one of them alone by colour. */
type LikePairs = { readonly kind: Kind; readonly spec: Spec; readonly alone: readonly AloneAmount[] };

function likePairs(kind: Kind, spec: Spec, { confidence }: AmountSettings): LikePairs {
  const alone = yarnNeeds([{ kind, spec, count: 1 }]).map(({ yarnColourId, grams }) => {
    return { yarnColourId, likelyMg: enoughMg(grams, 0.5), safeMg: enoughMg(grams, confidence) };
  });
  return { kind, spec, alone };
}

type Sum = { -readonly [K in keyof NeedOfPairs]: NeedOfPairs[K] };
type SumsOfColour = { readonly entries: PairWants[]; readonly likely: Sum; readonly safe: Sum };

const noSums = (): SumsOfColour => ({
  entries: [],
  likely: { needMg: 0, largestPairMg: 0 },
  safe: { needMg: 0, largestPairMg: 0 },
});

function addPair(sum: Sum, mg: number): void {
  sum.needMg += mg;
  if (mg > sum.largestPairMg) sum.largestPairMg = mg;
}

/**
 * The amounts of colours still to buy, summed with their errors, and what each pair must find for itself. A pair may have
 * one colour on a lot and still lack the other, so each colour sums over its own pairs.
 */
function amountsToBuy(left: readonly PairWant[], wants: Wants): ToBuy[] {
  const byColour = new Map<number, SumsOfColour>();
  // What is left comes in the order of the pairs.
  let at = 0;
  for (const want of left) {
    while (wants.pairs[at]!.pair.key !== want.pairKey) at += 1;
    const own = entryOf(byColour, want.yarnColourId, noSums);
    own.entries.push(wants.pairs[at]!);
    addPair(own.likely, want.likelyMg);
    addPair(own.safe, want.safeMg);
  }
  return [...byColour]
    .sort(([a], [b]) => a - b)
    .map(([colour, { entries, likely, safe }]) => ({
      ...yarnNeeds(countPairs(entries), colour)[0]!,
      likely,
      safe,
    }));
}

const nothing: readonly number[] = [];

function laterOf(one: Day, other: Day): Day {
  if (other > one) return other;
  return one;
}

/**
 * What the lots' answer means for the plan: which lot each pair's colour comes from, what is to buy, when, and when a
 * pair's yarn is all here.
 *
 * @param placement what `placeOnLots` gave for `wants.wants`
 */
export function placementOf(
  placement: {
    readonly placed: ReadonlyMap<string, number>;
    readonly left: readonly PairWant[];
    readonly mixed?: ReadonlyMap<string, readonly LotPart[]>;
    readonly waits?: ReadonlyMap<string, Day>;
  },
  wants: Wants,
): Placed {
  const leftByPair = new Map<string, number[]>();
  for (const { pairKey, yarnColourId } of placement.left) {
    const colours = leftByPair.get(pairKey);
    if (colours) colours.push(yarnColourId);
    else leftByPair.set(pairKey, [yarnColourId]);
  }
  return {
    lotOf: placement.placed,
    mixedOf: placement.mixed ?? new Map(),
    toBuy: amountsToBuy(placement.left, wants),
    neededByDay: (latest) => {
      const byColour = new Map<number, Day>();
      for (const [pairKey, colours] of leftByPair) {
        const day = latest.get(pairKey);
        if (day === undefined) continue;
        for (const colour of colours) {
          const known = byColour.get(colour);
          if (known === undefined || day < known) byColour.set(colour, day);
        }
      }
      return byColour;
    },
    arrivalDay: (pairKey, arrivals, today) => {
      let latest = laterOf(today, placement.waits?.get(pairKey) ?? today);
      for (const colour of leftByPair.get(pairKey) ?? nothing) latest = laterOf(latest, arrivals.get(colour) ?? today);
      return latest;
    },
  };
}
