import { describe, expect, it } from 'vitest';
import { checkFoot, type FootInput } from '#core/sizing/girths.ts';
import { oddBetween, oddMeasures, ratiosSeen } from '#core/sizing/odd-feet.ts';
import { readReference } from '#tests/support/reference.ts';

/** The 6 068 feet of the survey. */
const feet = readReference('ansur2-foot.csv').map((row) => ({
  person: row.sex === 'F' ? ('woman' as const) : ('man' as const),
  lengthMm: Number(row.footlength),
  ballGirthMm: Number(row.balloffootcircumference),
  heelAnkleGirthMm: Number(row.heelanklecircumference),
}));
const measuresOf = (foot: FootInput) => oddMeasures(foot).map(({ measure }) => measure);

describe('oddMeasures', () => {
  it('asks about none of the 6 068 feet of the survey', () => {
    expect(feet).toHaveLength(6068);
    expect(feet.filter((foot) => oddMeasures(foot).length > 0)).toEqual([]);
  });

  it('has limits within a hundredth of the narrowest and widest of them', () => {
    const ratios = {
      ballToLength: feet.map((foot) => foot.ballGirthMm / foot.lengthMm),
      heelToLength: feet.map((foot) => foot.heelAnkleGirthMm / foot.lengthMm),
      heelToBall: feet.map((foot) => foot.heelAnkleGirthMm / foot.ballGirthMm),
    };
    for (const [name, seen] of Object.entries(ratios)) {
      const { least, most } = ratiosSeen[name as keyof typeof ratios];
      expect(Math.min(...seen) - least).toBeGreaterThanOrEqual(0);
      expect(Math.min(...seen) - least).toBeLessThan(0.01);
      expect(most - Math.max(...seen)).toBeGreaterThanOrEqual(0);
      expect(most - Math.max(...seen)).toBeLessThan(0.01);
    }
  });

  it('asks about a length that nobody of the survey had', () => {
    for (const person of ['woman', 'man'] as const) {
      const lengths = feet.filter((foot) => foot.person === person).map((foot) => foot.lengthMm);
      const [least, most] = [Math.min(...lengths), Math.max(...lengths)];
      for (const lengthMm of [least, most]) expect(measuresOf({ person, lengthMm })).toEqual([]);
      for (const lengthMm of [least - 1, most + 1]) expect(measuresOf({ person, lengthMm })).toEqual(['length']);
    }
  });

  it('lets every child of the table pass, and asks about a longer foot than any of 12 years', () => {
    const children = readReference('child-foot-length-by-age.csv').filter(
      (row) => row.sex === 'B' && Number(row.age_years_completed) <= 12,
    );
    const lengths = children.flatMap((row) => [Number(row.min_mm), Number(row.max_mm)]);
    for (const lengthMm of lengths) expect(measuresOf({ person: 'child', lengthMm })).toEqual([]);
    expect(measuresOf({ person: 'child', lengthMm: Math.max(...lengths) + 1 })).toEqual(['length']);
    // A child of two, and one of twelve: our estimates are 145 and 217 mm.
    for (const [lengthMm, girthMm] of [
      [143, 145],
      [237, 217],
    ] as const) {
      const foot = (share: number) => ({ person: 'child' as const, lengthMm, ballGirthMm: girthMm * share });
      expect([0.81, 1, 1.19].map((share) => measuresOf(foot(share)))).toEqual([[], [], []]);
      expect([0.78, 1.22].map((share) => measuresOf(foot(share)))).toEqual([['ballGirth'], ['ballGirth']]);
    }
  });

  it('finds a girth of 40 cm on a foot of 24 cm odd, which no check refuses', () => {
    const foot = { person: 'woman' as const, lengthMm: 240, ballGirthMm: 400 };
    expect(checkFoot(foot)).toEqual([]);
    // 1.1 x 24 = 26.4 and 0.77 x 24 = 18.48.
    expect(oddMeasures(foot)).toEqual([
      { measure: 'ballGirth', message: expect.stringMatching(/40\.0\scm is odd here: 18\.5\scm to 26\.4\scm/) },
    ]);
  });

  it('measures a heel by the ball where that is known, else by the length', () => {
    const foot = { person: 'woman' as const, lengthMm: 240 };
    expect(measuresOf({ ...foot, heelAnkleGirthMm: 360 })).toEqual(['heelAnkleGirth']);
    expect(measuresOf({ ...foot, heelAnkleGirthMm: 350 })).toEqual([]);
    expect(measuresOf({ ...foot, ballGirthMm: 210, heelAnkleGirthMm: 340 })).toEqual(['heelAnkleGirth']);
    expect(measuresOf({ ...foot, ballGirthMm: 230, heelAnkleGirthMm: 340 })).toEqual([]);
  });
});

describe('oddBetween', () => {
  const foot = (lengthMm: number, ballGirthMm: number | null = null, heelAnkleGirthMm: number | null = null) => ({
    person: 'woman' as const,
    ...{ lengthMm, ballGirthMm, heelAnkleGirthMm },
  });
  it('asks about more than a centimetre of length, and two of girth', () => {
    expect(oddBetween(foot(245), foot(235))).toEqual([]);
    expect(oddBetween(foot(245), foot(234)).map(({ measure }) => measure)).toEqual(['length']);
    expect(oddBetween(foot(245, 230, 300), foot(245, 210, 280))).toEqual([]);
    expect(oddBetween(foot(245, 230, 300), foot(245, 209, 279)).map(({ measure }) => measure)).toEqual([
      'ballGirth',
      'heelAnkleGirth',
    ]);
  });
  it('compares only what was measured of both', () => {
    expect(oddBetween(foot(245, 230), foot(245))).toEqual([]);
  });
});
