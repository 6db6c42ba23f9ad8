import { materialsOf } from '#core/pricing/cost-pairs.ts';
import { yarnPrices } from '#core/pricing/yarn-cost.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { LotRow } from '#db/stores/shelf.ts';
import type { StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** Yarn of one colour in a pair; of one lot where it is known from which it was weighed out. */
export type PairYarnUsed = {
  readonly yarnColourId: number;
  readonly grams: number;
  /** Who gave it; null for yarn that was bought, or nobody knows. */
  readonly donor: string | null;
  readonly paidCents: number;
  /** What it would have cost, where it was given. */
  readonly worthCents: number;
};

/** What went into a pair that was made: exact cents of its yarn, whole cents of all else. */
export type PairCosts = {
  readonly yarn: readonly PairYarnUsed[];
  readonly yarnCents: number;
  readonly materialsCents: number;
  readonly minutes: number;
};

function fromLot(lot: LotRow, yarnColourId: number, mg: number): PairYarnUsed {
  const part = mg / lot.boughtMg;
  const paidCents = lot.paidCents * part;
  const isGiven = lot.donor !== null && lot.worthCents !== null;
  return {
    yarnColourId,
    grams: mg / 1000,
    donor: lot.donor,
    paidCents,
    worthCents: isGiven ? lot.worthCents! * part : paidCents,
  };
}

/**
 * What went into stored pairs: yarn at what its own lot cost, and where no lot is known, as with pairs that were there
 * before, at what its colour costs now; time and grams as they were estimated when the pair was begun.
 */
export function pairCoster({ rows, plan, input }: WorkshopPlan): (pair: StoredPair) => PairCosts {
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const colourIds = rows.yarnColours.map(({ id }) => id);
  const prices = yarnPrices(colourIds, plan.lists.chosen, input.offers, input.shelf);
  return ({ row, frozen, colours }) => {
    const weighed = colours.flatMap(({ lotId, allottedMg, yarnColourId }) => {
      const lot = lotId === null ? undefined : lots.get(lotId);
      return lot && allottedMg > 0 ? [fromLot(lot, yarnColourId, allottedMg)] : [];
    });
    const known = new Set(weighed.map(({ yarnColourId }) => yarnColourId));
    const estimated = frozen.estimate.yarn
      .filter(({ yarnColourId }) => !known.has(yarnColourId))
      .map(({ yarnColourId, grams }): PairYarnUsed => {
        // A knitter's own yarn costs the workshop nothing.
        const cents = row.isOwnYarn ? 0 : grams * (prices.get(yarnColourId)?.centsPerG ?? 0);
        return { yarnColourId, grams, donor: null, paidCents: cents, worthCents: cents };
      });
    const yarn = [...weighed, ...estimated];
    return {
      yarn,
      yarnCents: roundHalfUp(yarn.reduce((sum, each) => sum + each.paidCents, 0)),
      materialsCents: roundHalfUp(materialsOf(input.materials.get(row.styleVersionId) ?? [])),
      minutes: frozen.estimate.minutes,
    };
  };
}
