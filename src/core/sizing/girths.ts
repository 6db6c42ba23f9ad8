import { type Figure, given, type Rule, rule, withSd, work } from '#core/shared/figure.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Foot, Person } from '#core/sizing/foot.ts';
import { footLengthRangeMm } from '#core/sizing/foot-range.ts';

export { footLengthRangeMm } from '#core/sizing/foot-range.ts';

/** What is known of a foot, mm. Girths that were not measured are left out, or null. */
export type FootInput = {
  readonly person: Person;
  readonly lengthMm: number;
  readonly ballGirthMm?: number | null | undefined;
  readonly heelAnkleGirthMm?: number | null | undefined;
};

/** A foot in figures, mm. */
export type FootFigures = {
  readonly length: Figure;
  readonly ballGirth: Figure;
  readonly heelAnkleGirth: Figure;
};

/** How the girths of a person's foot are estimated, with the spread of real feet around the estimate, mm. */
export type GirthRules = {
  readonly ballGirth: Rule<[number]>;
  readonly ballGirthSdMm: number;
  readonly heelAnkleGirth: Rule<[number]>;
  readonly heelAnkleGirthSdMm: number;
  /** What the heel-ankle rule starts from. */
  readonly heelAnkleFrom: 'length' | 'ballGirth';
};

const survey =
  '2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007: our least squares on its public rows';

function lineRule(name: string, slope: number, interceptMm: number): Rule<[number]> {
  const words = `${slope} x {foot length} + ${interceptMm}`;
  return rule({ name, unit: 'mm', mark: 'published', source: survey, words }, (lengthMm: number) => {
    return slope * lengthMm + interceptMm;
  });
}

// Slopes, intercepts and residual sds: least squares over 1 986 women and 4 082 men (pooled: 6 068).
export const girthRules: Readonly<Record<Person, GirthRules>> = {
  woman: {
    ballGirth: lineRule('ball girth', 0.57317, 86.942),
    ballGirthSdMm: 9.37,
    heelAnkleGirth: lineRule('heel and ankle girth', 0.98833, 66.903),
    heelAnkleGirthSdMm: 9.127,
    heelAnkleFrom: 'length',
  },
  man: {
    ballGirth: lineRule('ball girth', 0.58953, 92.15),
    ballGirthSdMm: 10.378,
    heelAnkleGirth: lineRule('heel and ankle girth', 1.00667, 70.487),
    heelAnkleGirthSdMm: 10.113,
    heelAnkleFrom: 'length',
  },
  unknown: {
    ballGirth: lineRule('ball girth', 0.7541, 45.83),
    ballGirthSdMm: 10.57,
    heelAnkleGirth: lineRule('heel and ankle girth', 1.1504, 30.04),
    heelAnkleGirthSdMm: 10.21,
    heelAnkleFrom: 'length',
  },
  // No table of children's girths could be read. The line runs through six published foot widths of children, the 1.36
  // is the adults' mean ratio of the two girths; both spreads are guesses. Below 100 mm of length it is a guess altogether.
  child: {
    ballGirth: rule(
      {
        name: 'ball girth',
        unit: 'mm',
        mark: 'ours',
        source: "fitted to six published widths of children's feet; below 10 cm of length a guess",
        words: '0.77 x {foot length} + 35',
      },
      (lengthMm: number) => 0.77 * lengthMm + 35,
    ),
    ballGirthSdMm: 8,
    heelAnkleGirth: rule(
      {
        name: 'heel and ankle girth',
        unit: 'mm',
        mark: 'ours',
        source: "the adults' mean ratio of the two girths, taken over to children",
        words: '1.36 x {ball girth}',
      },
      (ballGirthMm: number) => 1.36 * ballGirthMm,
    ),
    heelAnkleGirthSdMm: 9,
    heelAnkleFrom: 'ballGirth',
  },
};

type Paths = { readonly length: string; readonly ballGirth: string; readonly heelAnkleGirth: string };

const usualPaths: Paths = { length: 'footLength', ballGirth: 'ballGirth', heelAnkleGirth: 'heelAnkleGirth' };
// Wider than any foot from 60 to 360 mm can have; they catch slips of the unit. Our own choice.
const ballGirthRangeMm = { least: 60, most: 400 };
const heelAnkleRangeMm = { least: 80, most: 560 };

const rangeWords = {
  metric: { length: '6 and 36 cm, like 24.5 cm', ball: '6 and 40 cm, like 22.5 cm', heel: '8 and 56 cm, like 31 cm' },
  imperial: {
    length: '2.4 and 14.2 in, like 9.6 in',
    ball: '2.4 and 15.7 in, like 8.9 in',
    heel: '3.2 and 22 in, like 12.2 in',
  },
} as const;

const isWithin = (value: number, range: { readonly least: number; readonly most: number }) =>
  Number.isFinite(value) && value >= range.least && value <= range.most;

/**
 * What is wrong with the measures of a foot, in sentences for the form; when nothing is, `footFrom` will not throw.
 *
 * @param input the measures, mm
 * @param paths fields that the problems belong to
 * @param system what the sentences are in
 * @returns every problem at once; empty when the foot can be knitted for
 * @example checkFoot({ person: 'woman', lengthMm: 240 }) // => []
 * @example checkFoot({ person: 'woman', lengthMm: 24 })[0].message // => 'Enter the length of the foot between 6 and 36 cm, like 24.5 cm.'
 * @example checkFoot({ person: 'woman', lengthMm: 240, ballGirthMm: 225, heelAnkleGirthMm: 220 })[0].code // => 'heelBelowBall'
 */
export function checkFoot(
  input: FootInput,
  paths: Paths = usualPaths,
  system: UnitSystem = 'metric',
): readonly Problem[] {
  const words = rangeWords[system];
  const problems: Problem[] = [];
  const ballGirthMm = input.ballGirthMm ?? null;
  const heelAnkleGirthMm = input.heelAnkleGirthMm ?? null;
  if (!isWithin(input.lengthMm, footLengthRangeMm)) {
    const message = `Enter the length of the foot between ${words.length}.`;
    problems.push({ code: 'lengthOutOfRange', path: paths.length, message });
  }
  if (ballGirthMm !== null && !isWithin(ballGirthMm, ballGirthRangeMm)) {
    const message = `Enter the girth around the ball of the foot between ${words.ball}, or leave it empty.`;
    problems.push({ code: 'ballGirthOutOfRange', path: paths.ballGirth, message });
  }
  if (heelAnkleGirthMm !== null && !isWithin(heelAnkleGirthMm, heelAnkleRangeMm)) {
    const message = `Enter the girth around heel and front of the ankle between ${words.heel}, or leave it empty.`;
    problems.push({ code: 'heelAnkleOutOfRange', path: paths.heelAnkleGirth, message });
  }
  if (problems.length === 0 && heelAnkleGirthMm !== null && ballGirthMm !== null && heelAnkleGirthMm < ballGirthMm) {
    const message =
      'Measure around the heel and the front of the ankle again: it is about a third more than around the ball of the foot.';
    problems.push({ code: 'heelBelowBall', path: paths.heelAnkleGirth, message });
  }
  return problems;
}

/**
 * A foot ready for the plan: girths that were not measured are estimated from the length, and flagged.
 *
 * @param input the measures, mm
 * @returns measures in mm, not rounded
 * @throws {RangeError} when `checkFoot` has something to say
 * Source: regressions of the 2012 US Army survey for adults; for children our own rule
 * @example footFrom({ person: 'child', lengthMm: 200 }) // => { person: 'child', lengthMm: 200, ballGirthMm: 189, heelAnkleGirthMm: 257.04, isBallGirthMeasured: false, isHeelAnkleGirthMeasured: false }
 * @example footFrom({ person: 'woman', lengthMm: 240 }).ballGirthMm // => 224.5028, 0.57317 x 240 + 86.942
 * @example footFrom({ person: 'man', lengthMm: 270, ballGirthMm: 250, heelAnkleGirthMm: 340 }).heelAnkleGirthMm // => 340
 */
export function footFrom(input: FootInput): Foot {
  const problem = checkFoot(input)[0];
  if (problem) {
    const got = `${input.lengthMm}, ${input.ballGirthMm ?? '-'}, ${input.heelAnkleGirthMm ?? '-'}`;
    throw new RangeError(`footFrom: ${problem.code}, got ${got}`);
  }
  const rules = girthRules[input.person];
  const ballGirthMm = input.ballGirthMm ?? rules.ballGirth.formula(input.lengthMm);
  const start = rules.heelAnkleFrom === 'length' ? input.lengthMm : ballGirthMm;
  return {
    person: input.person,
    lengthMm: input.lengthMm,
    ballGirthMm,
    heelAnkleGirthMm: input.heelAnkleGirthMm ?? rules.heelAnkleGirth.formula(start),
    isBallGirthMeasured: input.ballGirthMm != null,
    isHeelAnkleGirthMeasured: input.heelAnkleGirthMm != null,
  };
}

/**
 * The same foot in figures: measured girths as they were entered, estimated ones worked from the same rules as
 * `footFrom`, with the spread of real feet.
 *
 * @param foot a foot made by `footFrom`
 * @param length where the length came from (a label, an age, a band), when it was not measured
 * @returns figures in mm
 * @example footFigures({ person: 'child', lengthMm: 200, ballGirthMm: 189, heelAnkleGirthMm: 257.04, isBallGirthMeasured: false, isHeelAnkleGirthMeasured: false }).heelAnkleGirth.value // => 257.04, 1.36 x 189
 */
export function footFigures(
  foot: Foot,
  length: Figure = given('foot length', foot.lengthMm, 'mm', 'yours', 'measured'),
): FootFigures {
  const rules = girthRules[foot.person];
  const ballGirth = foot.isBallGirthMeasured
    ? given('ball girth', foot.ballGirthMm, 'mm', 'yours', 'measured')
    : withSd(work(rules.ballGirth, length), rules.ballGirthSdMm);
  const heelAnkleGirth = foot.isHeelAnkleGirthMeasured
    ? given('heel and ankle girth', foot.heelAnkleGirthMm, 'mm', 'yours', 'measured')
    : withSd(
        work(rules.heelAnkleGirth, rules.heelAnkleFrom === 'length' ? length : ballGirth),
        rules.heelAnkleGirthSdMm,
      );
  return { length, ballGirth, heelAnkleGirth };
}
