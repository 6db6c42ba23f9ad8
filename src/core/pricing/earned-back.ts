import { breakEvenMix } from '#core/pricing/overhead.ts';
import { requireAbove0, requireRange } from '#core/shared/check.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import { ceilWhole, roundHalfUp } from '#core/shared/rounding.ts';

/**
 * What pairs carry of the running costs: the hours in them at the rate that their prices were reckoned with.
 *
 * @param minutes of work in all of them, at least 0
 * @param overheadCentsPerHour the rate, at least 0
 * @returns whole minor units, half up
 * @throws {RangeError} when an argument is out of range
 * Source: applied overhead = rate x hours, Principles of Accounting 2 (OpenStax, 2019), chapter 4
 * @example carriedCents(374400, 3350) // => 20904000
 * @example carriedCents(0, 40) // => 0
 */
export function carriedCents(minutes: number, overheadCentsPerHour: number): number {
  requireRange('carriedCents: minutes', minutes, 0);
  requireRange('carriedCents: overheadCentsPerHour', overheadCentsPerHour, 0);
  return roundHalfUp((minutes / 60) * overheadCentsPerHour);
}

/** So many pairs of one kind at one price, and what each leaves above its own costs. */
export type MixPairs = { readonly pairs: number; readonly contributionCents: number };

export type BreakEvenPair = {
  /** What a pair leaves on average over the mix, exact. */
  readonly contributionCents: number;
  /** Pairs of this mix to sell, rounded up. */
  readonly pairs: number;
};

/**
 * The pairs to sell, mixed as they are on order, before fixed costs are earned back: fixed / average contribution, up.
 *
 * @param fixedCents fixed costs of the period, at least 0
 * @param mix at least one entry, pairs above 0
 * @returns a problem when the mix leaves nothing
 * @throws {RangeError} when an argument is out of range
 * Source: break-even of a sales mix, Principles of Accounting 2 (OpenStax, 2019), chapter 3
 * @example breakEvenOfMix(220000, [{ pairs: 3, contributionCents: 6 }, { pairs: 1, contributionCents: 4 }]).value // => { contributionCents: 5.5, pairs: 40000 }
 * @example breakEvenOfMix(100, [{ pairs: 1, contributionCents: -1 }]).ok // => false
 */
export function breakEvenOfMix(fixedCents: number, mix: readonly MixPairs[]): Result<BreakEvenPair> {
  const all = mix.reduce((sum, { pairs }) => sum + requireAbove0('breakEvenOfMix: pairs', pairs), 0);
  const entries = mix.map(({ pairs, contributionCents }) => ({ share: pairs / all, contributionCents }));
  const even = breakEvenMix(fixedCents, entries);
  if (!even.ok) return even;
  return succeed({ contributionCents: even.value.contributionCents, pairs: ceilWhole(even.value.sets) });
}
