import { addDays, type Day, daysBetween } from '#core/shared/calendar.ts';
import { requireRange } from '#core/shared/check.ts';
import { countOf, formatGrams } from '#core/shared/format.ts';
import { sumCents } from '#core/shared/money.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';

/** What a parcel up to a weight costs to one part of the world, and the days it is in the post. */
export type PostageBand = {
  readonly id: number;
  /** Where it goes: bands of one name are one destination. */
  readonly name: string;
  readonly upToG: number;
  readonly cents: number;
  readonly days: number;
};

export type Parcel = {
  /** With its packing. */
  readonly massG: number;
  readonly pairs: number;
  readonly band: PostageBand;
};

// A parcel that weighs the limit to a hair is taken at the limit.
const hairG = 1e-6;

/**
 * What a parcel weighs: its pairs and the packing.
 *
 * @param pairsG grams of each pair in it, from 0
 * @param packingG box or bag, paper and tape, from 0
 * @throws {RangeError} when a mass is negative or not finite
 * @example parcelMassG([98, 98, 74], 60) // => 330
 */
export function parcelMassG(pairsG: readonly number[], packingG: number): number {
  for (const massG of pairsG) requireRange('parcelMassG: pairsG', massG, 0);
  return pairsG.reduce((sum, massG) => sum + massG, requireRange('parcelMassG: packingG', packingG, 0));
}

/** The bands of a destination, lightest first; of two with one limit the cheaper, then the quicker, leads. */
function lightestFirst(bands: readonly PostageBand[]): PostageBand[] {
  return [...bands].sort((a, b) => a.upToG - b.upToG || a.cents - b.cents || a.days - b.days || a.id - b.id);
}

function bandTaking(massG: number, bands: readonly PostageBand[]): PostageBand | undefined {
  return lightestFirst(bands).find((band) => massG <= band.upToG + hairG);
}

function noBands(): Problem {
  return {
    code: 'noBand',
    path: 'band',
    message: 'Enter what the post costs there first: a weight, a price and the days.',
  };
}

/**
 * The band of a parcel: the lightest of its destination that takes it.
 *
 * @param pairsG grams of each pair, from 0
 * @param packingG grams of packing of a parcel, from 0
 * @param bands of one destination, in any order
 * @returns the parcel with its band; a problem that says into how many parcels to split it when it is too heavy for
 *   every band, or that a single pair is, or that there is no band
 * @throws {RangeError} when a mass is negative or not finite
 * @example bandFor([98, 98], 60, [{ id: 1, name: 'Inland', upToG: 250, cents: 320, days: 2 }, { id: 2, name: 'Inland', upToG: 1000, cents: 495, days: 2 }]).value.band.id // => 2
 * @example bandFor([190], 60, [{ id: 1, name: 'Inland', upToG: 250, cents: 320, days: 2 }]).value.massG // => 250, the limit itself is taken
 * @example bandFor([600, 600], 60, [{ id: 1, name: 'Inland', upToG: 1000, cents: 495, days: 2 }]).ok // => false
 */
export function bandFor(pairsG: readonly number[], packingG: number, bands: readonly PostageBand[]): Result<Parcel> {
  const massG = parcelMassG(pairsG, packingG);
  const band = bandTaking(massG, bands);
  if (band) return succeed({ massG, pairs: pairsG.length, band });
  const split = splitParcels(pairsG, packingG, bands);
  if (!split.ok) return split;
  const most = lightestFirst(bands).at(-1)!.upToG;
  const parcels = countOf(split.value.length, 'parcel', 'parcels');
  const message = `The parcel weighs about ${formatGrams(massG)} and the post takes ${formatGrams(most)}: split it into ${parcels}.`;
  return refuse({ code: 'tooHeavy', path: 'band', message });
}

/**
 * Parcels that the post takes, for pairs too heavy for one: the heaviest pair first, each into the first parcel with room
 * (first fit decreasing), and each parcel in its lightest band.
 *
 * @param pairsG grams of each pair, from 0; without pairs there is one parcel, of packing alone
 * @param packingG grams of packing of each parcel, from 0
 * @param bands of one destination
 * @returns at most 11/9 of the fewest parcels possible and 6/9 (seldom more than the fewest), in the order they are filled;
 *   a problem when one pair alone is too heavy, or there is no band
 * @throws {RangeError} when a mass is negative or not finite
 * Source: first fit decreasing; the bound is Dosa's (2007), from memory
 * @example splitParcels([600, 300, 600], 60, [{ id: 1, name: 'Inland', upToG: 1000, cents: 495, days: 2 }]).value.map((parcel) => parcel.massG) // => [960, 660]
 */
export function splitParcels(
  pairsG: readonly number[],
  packingG: number,
  bands: readonly PostageBand[],
): Result<readonly Parcel[]> {
  parcelMassG(pairsG, packingG);
  const most = lightestFirst(bands).at(-1)?.upToG;
  if (most === undefined) return refuse(noBands());
  const parcels: { massG: number; pairs: number }[] = [];
  for (const massG of [...pairsG].sort((a, b) => b - a)) {
    const room = parcels.find((parcel) => parcel.massG + massG <= most + hairG);
    if (room) {
      room.massG += massG;
      room.pairs += 1;
    } else {
      parcels.push({ massG: packingG + massG, pairs: 1 });
    }
  }
  if (parcels.length === 0) parcels.push({ massG: packingG, pairs: 0 });
  const heaviest = Math.max(...parcels.map((parcel) => parcel.massG));
  if (heaviest > most + hairG) {
    const message = `One pair weighs ${formatGrams(heaviest)} with its packing and the post takes ${formatGrams(most)}: enter the postage by hand.`;
    return refuse({ code: 'pairTooHeavy', path: 'band', message });
  }
  return succeed(parcels.map((parcel) => ({ ...parcel, band: bandTaking(parcel.massG, bands)! })));
}

/**
 * What some parcels cost to send, and the days until the last of them is there.
 *
 * @param parcels any number
 * @example postageOf([{ massG: 960, pairs: 2, band: { id: 1, name: 'Inland', upToG: 1000, cents: 495, days: 2 } }, { massG: 200, pairs: 1, band: { id: 2, name: 'Inland', upToG: 250, cents: 320, days: 3 } }]) // => { cents: 815, days: 3 }
 * @example postageOf([]) // => { cents: 0, days: 0 }
 */
export function postageOf(parcels: readonly Parcel[]): { readonly cents: number; readonly days: number } {
  return {
    cents: sumCents(parcels.map((parcel) => parcel.band.cents)),
    days: Math.max(0, ...parcels.map((parcel) => parcel.band.days)),
  };
}

/** When to post, and whether that day is still to come. */
export type PostBy = {
  readonly day: Day;
  /** Below 0 when the day has passed. */
  readonly daysLeft: number;
  readonly isPast: boolean;
  /** When it would be there, posted today or on its day, whichever is later. */
  readonly arrivesDay: Day;
};

/**
 * The last day to post: the day it is to be there less the days in the post, counted in calendar days. A day that has passed
 * is given as it is and says so, with the day on which it can be there now.
 *
 * @param arriveByDay the day it is to be there
 * @param postDays whole days in the post, from 0
 * @param today the day it is
 * @throws {RangeError} when a day is no day or the days are not whole
 * @example postBy('2026-12-20', 3, '2026-11-25') // => { day: '2026-12-17', daysLeft: 22, isPast: false, arrivesDay: '2026-12-20' }
 * @example postBy('2026-11-26', 3, '2026-11-25') // => { day: '2026-11-23', daysLeft: -2, isPast: true, arrivesDay: '2026-11-28' }
 */
export function postBy(arriveByDay: Day, postDays: number, today: Day): PostBy {
  requireRange('postBy: postDays', postDays, 0);
  const day = addDays(arriveByDay, -postDays);
  const daysLeft = daysBetween(today, day);
  return { day, daysLeft, isPast: daysLeft < 0, arrivesDay: daysLeft < 0 ? addDays(today, postDays) : arriveByDay };
}
