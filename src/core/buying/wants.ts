import type { Handwork, PairYarn } from '#core/batch/handwork.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import type { LotPart, Want } from '#core/buying/lots.ts';
import type { Assignment } from '#core/schedule/assign.ts';
import type { Day } from '#core/shared/calendar.ts';
import { entryOf } from '#core/shared/entry-of.ts';
import type { Spec } from '#core/styles/spec.ts';
import {
  type AmountSettings,
  type ColourAmount,
  enoughForPair,
  type PairsOfKind,
  yarnNeeds,
} from '#core/yardage/needs.ts';

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

type PairWants = {
  readonly pair: WantedPair;
  readonly knitterId: number | null;
  readonly yarn: readonly PairYarn[];
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

/** Like pairs in one knitter's hand, counted; `yarnOf` gives like pairs one list, so the list tells them apart. */
function groupPairs(entries: readonly PairWants[], handwork: Handwork): PairsOfKind[] {
  const groups = new Map<readonly PairYarn[], PairsOfKind & { count: number }>();
  for (const { pair, knitterId, yarn } of entries) {
    const group = groups.get(yarn);
    if (group) group.count += 1;
    else groups.set(yarn, { kind: pair.kind, spec: handwork.specOf(pair.kind, knitterId), count: 1 });
  }
  return [...groups.values()];
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
  const withKnitter = pairs.map((pair, index) => {
    const knitterId = assigned[index]?.knitterId ?? null;
    return { pair, knitterId, yarn: handwork.yarnOf(pair.kind, knitterId) };
  });
  const groups = groupPairs(withKnitter, handwork);
  const enoughOf = new Map<readonly PairYarn[], readonly AloneAmount[]>();
  const wants: PairWant[] = [];
  for (const { pair, knitterId, yarn } of withKnitter) {
    const alone = entryOf(enoughOf, yarn, () => aloneOf(pair, handwork.specOf(pair.kind, knitterId), settings));
    for (const amount of alone) {
      const { yarnColourId } = amount;
      if (pair.started !== null && isHeld(pair, yarnColourId)) continue;
      const settledMg = pair.started?.waitsMg?.get(yarnColourId);
      const likelyMg = settledMg ?? amount.likelyMg;
      const safeMg = settledMg ?? amount.safeMg;
      const mg = settings.buyAt === 'safe' ? safeMg : likelyMg;
      // One plain object a want: a large plan has tens of thousands.
      const want = { pairKey: pair.key, yarnColourId, mg, likelyMg, safeMg };
      wants.push(pair.mayMixLots ? { ...want, mayMix: true } : want);
    }
  }
  return { groups, wants, pairs: withKnitter };
}

type AloneAmount = Pick<PairWant, 'yarnColourId' | 'likelyMg' | 'safeMg'>;

/** What is enough for one pair alone by colour, likely and safe. */
function aloneOf({ kind }: WantedPair, spec: Spec, { confidence }: AmountSettings): AloneAmount[] {
  const likely = enoughForPair(kind, spec, 0.5);
  return enoughForPair(kind, spec, confidence).map(({ yarnColourId, mg: safeMg }, i) => {
    return { yarnColourId, likelyMg: likely[i]!.mg, safeMg };
  });
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
function amountsToBuy(left: readonly PairWant[], wants: Wants, handwork: Handwork): ToBuy[] {
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
      ...yarnNeeds(groupPairs(entries, handwork), colour)[0]!,
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
 * @param handwork counts by knitter, for the amounts still to buy
 */
export function placementOf(
  placement: {
    readonly placed: ReadonlyMap<string, number>;
    readonly left: readonly PairWant[];
    readonly mixed?: ReadonlyMap<string, readonly LotPart[]>;
    readonly waits?: ReadonlyMap<string, Day>;
  },
  wants: Wants,
  handwork: Handwork,
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
    toBuy: amountsToBuy(placement.left, wants, handwork),
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
