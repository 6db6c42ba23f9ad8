import { formatLength, type UnitSystem } from '#core/shared/measures.ts';
import type { FootInput } from '#core/sizing/girths.ts';
import { girthRules } from '#core/sizing/girths.ts';

export type FootMeasure = 'length' | 'ballGirth' | 'heelAnkleGirth';

/** Something odd about a foot, which may yet be so. */
export type OddMeasure = { readonly measure: FootMeasure; readonly message: string };

type Limits = { readonly least: number; readonly most: number };

/** The shortest and longest feet measured, mm. */
const lengthsSeen: Readonly<Record<FootInput['person'], Limits & { readonly who: string }>> = {
  woman: { least: 198, most: 286, who: 'the 1,986 women of the survey' },
  man: { least: 216, most: 323, who: 'the 4,082 men of the survey' },
  // The table of children begins at two years; a baby's foot may be shorter.
  child: { least: 0, most: 288, who: 'the children up to 12 years of the table' },
  // It may be a child's.
  unknown: { least: 0, most: 323, who: 'the 6,068 grown-ups of the survey' },
};

/** The narrowest and widest grown-up feet measured, as ratios of two measures, rounded outwards to a hundredth. */
export const ratiosSeen = {
  ballToLength: { least: 0.77, most: 1.1 },
  heelToLength: { least: 1.12, most: 1.47 },
  heelToBall: { least: 1.17, most: 1.58 },
} as const;

/** No table of children's girths could be read: theirs may be a fifth beside our own estimate. Our own choice. */
const childShare = 0.2;

/** The two feet of a person seldom differ more than so, mm. Our own choice: the survey measured one foot of each. */
export const mostApartMm: Readonly<Record<FootMeasure, number>> = { length: 10, ballGirth: 20, heelAnkleGirth: 20 };

const measureWords: Readonly<Record<FootMeasure, string>> = {
  length: 'lengths',
  ballGirth: 'girths around the ball',
  heelAnkleGirth: 'girths around heel and ankle',
};

const isOutside = (value: number, { least, most }: Limits) => value < least || value > most;
const times = (mm: number, { least, most }: Limits): Limits => ({ least: mm * least, most: mm * most });

function isChilds({ person, lengthMm }: FootInput): boolean {
  return person === 'child' || (person === 'unknown' && lengthMm < lengthsSeen.woman.least);
}

function ballLimits(foot: FootInput): Limits {
  if (!isChilds(foot)) return times(foot.lengthMm, ratiosSeen.ballToLength);
  const estimateMm = girthRules.child.ballGirth.formula(foot.lengthMm);
  return times(estimateMm, { least: 1 - childShare, most: 1 + childShare });
}

function heelLimits(foot: FootInput): Limits {
  if (foot.ballGirthMm != null) return times(foot.ballGirthMm, ratiosSeen.heelToBall);
  if (!isChilds(foot)) return times(foot.lengthMm, ratiosSeen.heelToLength);
  const { least, most } = ballLimits(foot);
  return { least: least * ratiosSeen.heelToBall.least, most: most * ratiosSeen.heelToBall.most };
}

/**
 * What is odd about the measures of one foot: a length that nobody of the survey had, or a girth outside what its length
 * lets expect. Each may be so, and is to be asked about rather than refused. At most one for each measure.
 *
 * @param foot measures in mm that `checkFoot` has nothing against
 * @param system what the sentences are in
 * @returns empty where nothing is odd
 * Source: extremes of the 6 068 feet of the 2012 survey of US Army personnel (NATICK/TR-15/007) for grown-ups; for children
 * the longest foot of 12 years of UM-HSRI-77-17 (1977), their girths our own choice
 * @example oddMeasures({ person: 'woman', lengthMm: 240, ballGirthMm: 225, heelAnkleGirthMm: 305 }) // => []
 * @example oddMeasures({ person: 'woman', lengthMm: 240, ballGirthMm: 400 })[0].measure // => 'ballGirth', at most 1.1 x 240 = 264 were seen
 * @example oddMeasures({ person: 'child', lengthMm: 150, ballGirthMm: 150 }) // => [], our estimate is 0.77 x 150 + 35 = 150.5
 * @example oddMeasures({ person: 'man', lengthMm: 200 })[0].measure // => 'length'
 */
export function oddMeasures(foot: FootInput, system: UnitSystem = 'metric'): readonly OddMeasure[] {
  const { person, lengthMm, ballGirthMm = null, heelAnkleGirthMm = null } = foot;
  const show = (mm: number) => formatLength(mm, system);
  const odd: OddMeasure[] = [];
  const { who, ...lengths } = lengthsSeen[person];
  if (isOutside(lengthMm, lengths)) {
    const [how, end] = lengthMm < lengths.least ? ['shorter', lengths.least] : ['longer', lengths.most];
    const message = `A foot of ${show(lengthMm)} is ${how} than any of ${who} (${show(end)}). Is it right, and whose foot it is?`;
    odd.push({ measure: 'length', message });
  }
  const say = (measure: FootMeasure, words: string, mm: number, { least, most }: Limits) => {
    const message = `${words} of ${show(mm)} is odd here: ${show(least)} to ${show(most)} would be plausible. Measure again, or say that it is right.`;
    odd.push({ measure, message });
  };
  const ball = ballLimits(foot);
  if (ballGirthMm !== null && isOutside(ballGirthMm, ball)) {
    say('ballGirth', 'A girth around the ball', ballGirthMm, ball);
  }
  const heel = heelLimits(foot);
  if (heelAnkleGirthMm !== null && isOutside(heelAnkleGirthMm, heel)) {
    say('heelAnkleGirth', 'A girth around heel and ankle', heelAnkleGirthMm, heel);
  }
  return odd;
}

/**
 * What is odd about a pair of feet: measures in which left and right differ more than feet of one person mostly do.
 *
 * @param left measures in mm
 * @param right the same of the other foot; what was not measured of both is passed over
 * @param system what the sentences are in
 * @returns empty where nothing is odd
 * Source: our own choice, `mostApartMm`
 * @example oddBetween({ person: 'man', lengthMm: 274 }, { person: 'man', lengthMm: 268 }) // => [], 6 mm
 * @example oddBetween({ person: 'woman', lengthMm: 245 }, { person: 'woman', lengthMm: 100 })[0].message // => 'The lengths of left and right differ by 14.5\u00a0cm; more than 1.0\u00a0cm is rare. Measure again, or say that it is right.'
 */
export function oddBetween(left: FootInput, right: FootInput, system: UnitSystem = 'metric'): readonly OddMeasure[] {
  const both: readonly (readonly [FootMeasure, number | null | undefined, number | null | undefined])[] = [
    ['length', left.lengthMm, right.lengthMm],
    ['ballGirth', left.ballGirthMm, right.ballGirthMm],
    ['heelAnkleGirth', left.heelAnkleGirthMm, right.heelAnkleGirthMm],
  ];
  return both.flatMap(([measure, one, other]) => {
    const apartMm = one == null || other == null ? 0 : Math.abs(one - other);
    if (apartMm <= mostApartMm[measure]) return [];
    const [apart, most] = [apartMm, mostApartMm[measure]].map((mm) => formatLength(mm, system));
    const message = `The ${measureWords[measure]} of left and right differ by ${apart}; more than ${most} is rare. Measure again, or say that it is right.`;
    return [{ measure, message }];
  });
}
