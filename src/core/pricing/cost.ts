import type { CostParts } from '#core/pricing/outlet.ts';
import { requireRange } from '#core/shared/check.ts';
import { type Figure, given, rule, sumOf, work } from '#core/shared/figure.ts';
import { sumCents } from '#core/shared/money.ts';
import { roundParts } from '#core/shared/round-parts.ts';

/** What goes into a pair. Yarn may be a fraction of a minor unit: grams used x cost of a gram. */
export type CostInput = {
  readonly yarnCents: number;
  readonly materialsCents: number;
  readonly minutes: number;
  readonly wageCentsPerHour: number;
  readonly overheadCentsPerHour: number;
  /** What is left of opened balls, charged to this pair; may be a fraction. 0 when left out. */
  readonly openedBallCents?: number;
  /** Share of all pairs that go wrong, 0 to 0.9; 0 when left out. */
  readonly spareRatio?: number;
};

export type CostFigures = {
  readonly yarn: Figure;
  readonly materials: Figure;
  readonly labour: Figure;
  readonly overhead: Figure;
  readonly openedBall: Figure | null;
  readonly spares: Figure | null;
  readonly total: Figure;
};

const source = 'job costing: material, work and running costs by the hour';
const text = (name: string, words: string) => ({ name, unit: 'cents', mark: 'trade', source, words }) as const;
const labourRule = rule(text('work', '{minutes} / 60 x {wage}'), (minutes: number, wage: number) => {
  return (minutes / 60) * wage;
});
const overheadRule = rule(
  text('running costs', '{minutes} / 60 x {running costs an hour}'),
  (minutes: number, rate: number) => {
    return (minutes / 60) * rate;
  },
);
const totalRule = rule(
  text('cost of a pair', '{yarn} + {other materials} + {work} + {running costs}'),
  (yarn: number, materials: number, labour: number, overhead: number) => yarn + materials + labour + overhead,
);
const spareMinutesRule = rule(
  {
    name: 'minutes, with those of pairs that go wrong',
    unit: 'min',
    mark: 'trade',
    source: 'good pairs = pairs begun x (1 - share that goes wrong)',
    words: '{minutes} / (1 - {pairs that go wrong})',
  },
  (minutes: number, ratio: number) => minutes / (1 - ratio),
);
const sparesRule = rule(
  text('pairs that go wrong', '{all but the work} x {pairs that go wrong} / (1 - {pairs that go wrong})'),
  (cents: number, ratio: number) => (cents * ratio) / (1 - ratio),
);

/** Above this share of pairs that go wrong no price is worth making. Our own choice, as for spares. */
const mostSpareRatio = 0.9;

function checkInput(where: string, { spareRatio = 0, ...amounts }: CostInput): void {
  for (const [name, value] of Object.entries(amounts)) requireRange(`${where}: ${name}`, value, 0);
  requireRange(`${where}: spareRatio`, spareRatio, 0, mostSpareRatio);
}

/** Written out, since a plan costs thousands of pairs; what is out of range is then named by `checkInput`. */
function isInRange(input: CostInput): boolean {
  const { yarnCents, materialsCents, minutes, wageCentsPerHour, overheadCentsPerHour } = input;
  const { openedBallCents = 0, spareRatio = 0 } = input;
  const least = Math.min(yarnCents, materialsCents, minutes, wageCentsPerHour, overheadCentsPerHour, openedBallCents);
  const sum = yarnCents + materialsCents + minutes + wageCentsPerHour + overheadCentsPerHour + openedBallCents;
  return least >= 0 && Number.isFinite(sum) && spareRatio >= 0 && spareRatio <= mostSpareRatio;
}

/**
 * The work that a good pair has to pay for: its own, and its share of the work on pairs that go wrong.
 *
 * @param minutes of the pair itself, at least 0
 * @param spareRatio share of all pairs that go wrong, 0 to 0.9
 * @throws {RangeError} when an argument is out of range
 * @example minutesWithSpares(190, 0.05) // => 200
 * @example minutesWithSpares(190, 0) // => 190
 */
export function minutesWithSpares(minutes: number, spareRatio: number): number {
  requireRange('minutesWithSpares: minutes', minutes, 0);
  requireRange('minutesWithSpares: spareRatio', spareRatio, 0, mostSpareRatio);
  return spareMinutesRule.formula(minutes, spareRatio);
}

/**
 * What a pair costs: yarn + other materials + minutes / 60 x wage + minutes / 60 x overhead rate, and where asked for
 * what is left of opened balls and a share of the pairs that go wrong. Of those the work is labour, the rest is apart.
 * The exact sum is rounded once, half up; the parts are whole and add up to it (largest remainder, ties to the first).
 *
 * @param input yarn and materials in minor units, minutes of both slippers, rates in minor units per hour; all from 0
 * @returns whole minor units
 * @throws {RangeError} when a value is negative or not finite
 * Source: job costing, Principles of Accounting 2 (OpenStax, 2019), chapter 4
 * @example costOfPair({ yarnCents: 712.5, materialsCents: 40, minutes: 210, wageCentsPerHour: 1200, overheadCentsPerHour: 100 }) // => { yarnCents: 713, materialsCents: 40, labourCents: 4200, overheadCents: 350, totalCents: 5303 }
 * @example costOfPair({ yarnCents: 700, materialsCents: 40, minutes: 190, wageCentsPerHour: 1200, overheadCentsPerHour: 100, spareRatio: 0.05 }) // => { yarnCents: 700, materialsCents: 40, labourCents: 4000, overheadCents: 317, sparesCents: 55, totalCents: 5112 }
 * @example costOfPair({ yarnCents: 0, materialsCents: 0, minutes: 0, wageCentsPerHour: 0, overheadCentsPerHour: 0 }).totalCents // => 0
 */
export function costOfPair(input: CostInput): CostParts {
  if (!isInRange(input)) checkInput('costOfPair', input);
  const { openedBallCents: opened = 0, spareRatio = 0 } = input;
  const minutes = spareMinutesRule.formula(input.minutes, spareRatio);
  const labour = labourRule.formula(minutes, input.wageCentsPerHour);
  const overhead = overheadRule.formula(input.minutes, input.overheadCentsPerHour);
  const exact = [input.yarnCents, input.materialsCents, labour, overhead];
  if (opened > 0) exact.push(opened);
  if (spareRatio > 0) {
    exact.push(sparesRule.formula(input.yarnCents + input.materialsCents + overhead + opened, spareRatio));
  }
  const parts = roundParts(exact);
  const [yarnCents, materialsCents, labourCents, overheadCents] = parts as [number, number, number, number];
  const cost = { yarnCents, materialsCents, labourCents, overheadCents, totalCents: sumCents(parts) };
  if (opened === 0 && spareRatio === 0) return cost;
  return {
    ...cost,
    ...(opened > 0 ? { openedBallCents: parts[4]! } : {}),
    ...(spareRatio > 0 ? { sparesCents: parts.at(-1)! } : {}),
  };
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
  known: {
    readonly yarn?: Figure | undefined;
    readonly minutes?: Figure | undefined;
    readonly materials?: Figure | undefined;
    readonly overheadRate?: Figure | undefined;
    readonly openedBall?: Figure | undefined;
  } = {},
): CostFigures {
  checkInput('costFigures', input);
  const { openedBallCents = 0, spareRatio = 0 } = input;
  const minutes = known.minutes ?? given('minutes', input.minutes, 'min', 'ours');
  const yarn = known.yarn ?? given('yarn', input.yarnCents, 'cents', 'yours');
  const materials = known.materials ?? given('other materials', input.materialsCents, 'cents', 'yours');
  const wrong = given('pairs that go wrong', spareRatio, 'ratio', 'yours', 'of all pairs');
  const allMinutes = spareRatio > 0 ? work(spareMinutesRule, minutes, wrong) : minutes;
  const labour = work(
    labourRule,
    allMinutes,
    given('wage', input.wageCentsPerHour, 'cents per h', 'yours', 'in the settings'),
  );
  const rate = known.overheadRate ?? given('running costs an hour', input.overheadCentsPerHour, 'cents per h', 'yours');
  const overhead = work(overheadRule, minutes, rate);
  const openedBall =
    openedBallCents > 0
      ? (known.openedBall ?? given('left of an opened ball', openedBallCents, 'cents', 'yours'))
      : null;
  const outlay = [yarn, materials, overhead, ...(openedBall ? [openedBall] : [])];
  const spares = spareRatio > 0 ? work(sparesRule, sumOf('all but the work', 'cents', outlay), wrong) : null;
  const more = [...(openedBall ? [openedBall] : []), ...(spares ? [spares] : [])];
  const total =
    more.length === 0
      ? work(totalRule, yarn, materials, labour, overhead)
      : sumOf('cost of a pair', 'cents', [yarn, materials, labour, overhead, ...more]);
  return { yarn, materials, labour, overhead, openedBall, spares, total };
}
