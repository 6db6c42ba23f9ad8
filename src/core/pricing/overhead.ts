import { requireAbove0, requireRange } from '#core/shared/check.ts';
import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { ceilWhole } from '#core/shared/rounding.ts';

const rateRule = rule(
  {
    name: 'running costs an hour',
    unit: 'cents per h',
    mark: 'trade',
    source: 'job costing: costs of a usual month over the hours planned in it',
    words: '{costs of the month} / {planned hours}',
  },
  (costsCents: number, hours: number) => costsCents / hours,
);

/**
 * The overhead that each unit of a base carries: costs of a period / the base planned for it, usually hours.
 *
 * @param costs costs of the period, at least 0
 * @param base planned hours (or wages, or pairs) of the same period, above 0
 * @returns not rounded; minor units per hour when costs are minor units and the base is hours
 * @throws {RangeError} when an argument is out of range
 * Source: Principles of Accounting 2 (OpenStax, 2019), chapter 4
 * @example overheadRate(6000, 40) // => 150
 * @example overheadRate(250000, 100000) // => 2.5
 */
export function overheadRate(costs: number, base: number): number {
  requireRange('overheadRate: costs', costs, 0);
  requireAbove0('overheadRate: base', base);
  return rateRule.formula(costs, base);
}

/**
 * The workshop's overhead rate as a figure.
 *
 * @throws {RangeError} as `overheadRate`
 * @example overheadFigure(6000, 40).value // => 150
 */
export function overheadFigure(monthlyCents: number, plannedHours: number): Figure {
  overheadRate(monthlyCents, plannedHours);
  const costs = given('costs of the month', monthlyCents, 'cents', 'yours', 'in the settings');
  return work(rateRule, costs, given('planned hours', plannedHours, 'h', 'yours', 'in the settings'));
}

function neverEven(path: string): {
  readonly ok: false;
  readonly problems: readonly { code: string; path: string; message: string }[];
} {
  const message =
    'No number of pairs covers the fixed costs: a pair leaves nothing above its own costs. Raise the price or lower the cost.';
  return refuse({ code: 'neverEven', path, message });
}

/**
 * The pairs that must be sold before fixed costs (and a profit wished for) are covered: fixed / contribution, rounded up.
 *
 * @param fixedCents fixed costs, plus the profit wished, at least 0
 * @param contributionCents what one pair leaves after its own costs: price less variable cost
 * @returns whole pairs; a problem when a pair leaves nothing
 * @throws {RangeError} when an argument is not finite or the fixed costs are negative
 * Source: Principles of Accounting 2 (OpenStax, 2019), chapter 3
 * @example breakEvenPairs(18000, 80).value // => 225
 * @example breakEvenPairs(18001, 80).value // => 226
 * @example breakEvenPairs(18000, 0).ok // => false
 */
export function breakEvenPairs(fixedCents: number, contributionCents: number): Result<number> {
  requireRange('breakEvenPairs: fixedCents', fixedCents, 0);
  requireRange('breakEvenPairs: contributionCents', contributionCents, -Number.MAX_VALUE);
  if (fixedCents === 0) return succeed(0);
  return contributionCents > 0 ? succeed(ceilWhole(fixedCents / contributionCents)) : neverEven('price');
}

/** Kinds sold in a fixed proportion; a set holds `share` pairs of each kind. */
export type MixEntry = { readonly share: number; readonly contributionCents: number };

export type MixBreakEven = {
  /** What one set leaves. */
  readonly contributionCents: number;
  /** Sets to sell, exact, and rounded up. */
  readonly sets: number;
  readonly wholeSets: number;
  /** Pairs of each kind in the whole sets, same order as the mix. */
  readonly pairs: readonly number[];
};

/**
 * The break-even of several kinds sold in a fixed proportion: fixed / contribution of a set, in whole sets, rounded up.
 *
 * @param fixedCents fixed costs, at least 0
 * @param mix pairs of each kind in a set, and what a pair of it leaves; at least one entry, shares above 0
 * @returns sets and pairs; a problem when a set leaves nothing
 * @throws {RangeError} when an argument is out of range or the mix is empty
 * Source: Principles of Accounting 2 (OpenStax, 2019), chapter 3, composite unit
 * @example breakEvenMix(220000, [{ share: 3, contributionCents: 6 }, { share: 1, contributionCents: 4 }]).value // => { contributionCents: 22, sets: 10000, wholeSets: 10000, pairs: [30000, 10000] }
 */
export function breakEvenMix(fixedCents: number, mix: readonly MixEntry[]): Result<MixBreakEven> {
  requireRange('breakEvenMix: fixedCents', fixedCents, 0);
  if (mix.length === 0) throw new RangeError('breakEvenMix: mix must not be empty');
  let contributionCents = 0;
  for (const entry of mix) {
    requireAbove0('breakEvenMix: share', entry.share);
    requireRange('breakEvenMix: contributionCents', entry.contributionCents, -Number.MAX_VALUE);
    contributionCents += entry.share * entry.contributionCents;
  }
  if (contributionCents <= 0 && fixedCents > 0) return neverEven('mix');
  const sets = fixedCents === 0 ? 0 : fixedCents / contributionCents;
  const wholeSets = ceilWhole(sets);
  return succeed({ contributionCents, sets, wholeSets, pairs: mix.map((entry) => entry.share * wholeSets) });
}
