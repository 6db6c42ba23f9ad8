import type { CostParts } from '#core/pricing/outlet.ts';
import { requireRange } from '#core/shared/check.ts';
import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { sumCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** What goes into a pair. Yarn may be a fraction of a minor unit: grams used x cost of a gram. */
export type CostInput = {
  readonly yarnCents: number;
  readonly materialsCents: number;
  readonly minutes: number;
  readonly wageCentsPerHour: number;
  readonly overheadCentsPerHour: number;
};

export type CostFigures = {
  readonly yarn: Figure;
  readonly materials: Figure;
  readonly labour: Figure;
  readonly overhead: Figure;
  readonly total: Figure;
};

const source = 'job costing: material, labour and overhead by the hour';
const text = (name: string, words: string) => ({ name, unit: 'cents', mark: 'trade', source, words }) as const;
const labourRule = rule(text('labour', '{minutes} / 60 x {wage}'), (minutes: number, wage: number) => {
  return (minutes / 60) * wage;
});
const overheadRule = rule(text('overhead', '{minutes} / 60 x {overhead rate}'), (minutes: number, rate: number) => {
  return (minutes / 60) * rate;
});
const totalRule = rule(
  text('cost of a pair', '{yarn} + {other materials} + {labour} + {overhead}'),
  (yarn: number, materials: number, labour: number, overhead: number) => yarn + materials + labour + overhead,
);

function checkInput(where: string, input: CostInput): void {
  for (const [name, value] of Object.entries(input)) requireRange(`${where}: ${name}`, value, 0);
}

/** Whole minor units whose sum is the exact sum rounded half up: rounded down, the rest to the largest remainders, ties to the first. */
function roundParts(exactCents: readonly number[]): number[] {
  const parts = exactCents.map((exact) => Math.floor(exact + 1e-9));
  let left = roundHalfUp(exactCents.reduce((sum, exact) => sum + exact, 0)) - sumCents(parts);
  const byRemainder = exactCents
    .map((exact, index) => ({ index, remainder: exact - parts[index]! }))
    .sort((a, b) => b.remainder - a.remainder || a.index - b.index);
  for (const { index } of byRemainder) {
    if (left <= 0) break;
    parts[index]! += 1;
    left -= 1;
  }
  return parts;
}

/**
 * What a pair costs: yarn + other materials + minutes / 60 x wage + minutes / 60 x overhead rate.
 * The exact sum is rounded once, half up; the parts are whole and add up to it (largest remainder, ties to the first).
 *
 * @param input yarn and materials in minor units, minutes of both slippers, rates in minor units per hour; all from 0
 * @returns whole minor units
 * @throws {RangeError} when a value is negative or not finite
 * Source: job costing, Principles of Accounting 2 (OpenStax, 2019), chapter 4
 * @example costOfPair({ yarnCents: 712.5, materialsCents: 40, minutes: 210, wageCentsPerHour: 1200, overheadCentsPerHour: 100 }) // => { yarnCents: 713, materialsCents: 40, labourCents: 4200, overheadCents: 350, totalCents: 5303 }
 * @example costOfPair({ yarnCents: 0, materialsCents: 0, minutes: 0, wageCentsPerHour: 0, overheadCentsPerHour: 0 }).totalCents // => 0
 */
export function costOfPair(input: CostInput): CostParts {
  checkInput('costOfPair', input);
  const [yarnCents, materialsCents, labourCents, overheadCents] = roundParts([
    input.yarnCents,
    input.materialsCents,
    labourRule.formula(input.minutes, input.wageCentsPerHour),
    overheadRule.formula(input.minutes, input.overheadCentsPerHour),
  ]) as [number, number, number, number];
  const totalCents = yarnCents + materialsCents + labourCents + overheadCents;
  return { yarnCents, materialsCents, labourCents, overheadCents, totalCents };
}

/**
 * The same cost in figures, not rounded; its total rounds half up to that of `costOfPair`.
 *
 * @param input as for `costOfPair`
 * @param known where the yarn and the minutes came from, when their own working is at hand
 * @throws {RangeError} when a value is negative or not finite
 * @example costFigures({ yarnCents: 712.5, materialsCents: 40, minutes: 210, wageCentsPerHour: 1200, overheadCentsPerHour: 100 }).total.value // => 5302.5
 */
export function costFigures(
  input: CostInput,
  known: { readonly yarn?: Figure | undefined; readonly minutes?: Figure | undefined } = {},
): CostFigures {
  checkInput('costFigures', input);
  const minutes = known.minutes ?? given('minutes', input.minutes, 'min', 'ours');
  const yarn = known.yarn ?? given('yarn', input.yarnCents, 'cents', 'yours');
  const materials = given('other materials', input.materialsCents, 'cents', 'yours');
  const labour = work(labourRule, minutes, given('wage', input.wageCentsPerHour, 'cents per h', 'yours'));
  const rate = given('overhead rate', input.overheadCentsPerHour, 'cents per h', 'yours');
  const overhead = work(overheadRule, minutes, rate);
  return { yarn, materials, labour, overhead, total: work(totalRule, yarn, materials, labour, overhead) };
}
