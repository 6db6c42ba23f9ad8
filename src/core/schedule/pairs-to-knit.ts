import type { Handwork, PairYarn } from '#core/batch/handwork.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import type { Offer, Supplier } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { quickestDays, readyDays } from '#core/buying/yarn-days.ts';
import type { Assignment, PairToKnit } from '#core/schedule/assign.ts';
import type { DuePair } from '#core/schedule/late.ts';
import type { Day } from '#core/shared/calendar.ts';

type Workshop = {
  readonly today: Day;
  readonly shelf: readonly ShelfLot[];
  readonly suppliers: readonly Supplier[];
  readonly offers: readonly Offer[];
};

/** Who has a pair in hand, or is to have it; null for whoever has time. */
export function knitterOfPair({ started, pinnedKnitterId = null }: WantedPair): number | null {
  return started === null ? pinnedKnitterId : started.knitterId;
}

/**
 * The pairs as scheduling wants them: due day, the day their yarn could be here, and who has them in hand or is to.
 *
 * @param pairs in planning order; the result keeps it
 */
export function pairsToKnit(pairs: readonly WantedPair[], workshop: Workshop, handwork: Handwork): PairToKnit[] {
  const wanted = pairs.map((pair) => stillWanted(handwork.yarnOf(pair.kind, knitterOfPair(pair)), pair));
  const quickest = quickestDays(workshop.suppliers, workshop.offers);
  const ready = readyDays(wanted, workshop.shelf, quickest, workshop.today);
  return pairs.map((pair, index) => ({
    key: pair.key,
    dueDay: pair.dueDay,
    readyDay: ready[index]!,
    pinnedKnitterId: knitterOfPair(pair),
  }));
}

function stillWanted(yarn: readonly PairYarn[], { started }: WantedPair): readonly PairYarn[] {
  return started === null ? yarn : yarn.filter((each) => !started.heldColourIds.includes(each.yarnColourId));
}

/** Due day by pair key. */
export function dueDays(pairs: readonly WantedPair[]): (pairKey: string) => Day | null {
  const due = new Map(pairs.map((pair) => [pair.key, pair.dueDay]));
  return (pairKey) => due.get(pairKey) ?? null;
}

/** Pairs with the day they are due and the day they are finished, for the report on what is late. */
export function duePairs(pairs: readonly WantedPair[], weeks: readonly Assignment[]): DuePair[] {
  return pairs.map((pair, index) => ({
    pairKey: pair.key,
    orderId: pair.orderId,
    dueDay: pair.dueDay,
    finishDay: weeks[index]?.finishDay ?? null,
  }));
}

/** Minutes still to work on the pair at a position, by knitter: the whole pair, or what is left of one begun. */
export function minutesLeft(
  pairs: readonly WantedPair[],
  handwork: Handwork,
): (pair: { readonly key: string }, knitterId: number, index: number) => number {
  // One pair is asked for with one knitter after another, so the last one is kept at hand.
  let last: WantedPair | undefined;
  let minutes: ReadonlyMap<number, number> = new Map();
  return ({ key }, knitterId, index) => {
    const pair = pairs[index];
    if (pair?.key !== key) throw new RangeError(`minutesLeft: the pair at ${index} is not called ${key}`);
    if (pair !== last) {
      last = pair;
      minutes = handwork.minutesByKnitter(pair.kind);
    }
    const own = minutes.get(knitterId) ?? handwork.minutesOf(pair.kind, knitterId);
    return pair.started === null ? own : own * pair.started.workLeftRatio;
  };
}
