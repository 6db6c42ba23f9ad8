import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesInWords } from '#core/shared/figure.ts';
import { type Person, persons } from '#core/sizing/foot.ts';
import { checkFoot, footFigures, footFrom, girthRules } from '#core/sizing/girths.ts';
import { girthSafetyMm } from '#core/styles/count-rules.ts';
import { readReference } from '#tests/support/reference.ts';

type Line = { slope: number; intercept: number; residualSd: number };

/** Ordinary least squares of y on x, with the residual standard deviation of n - 2 degrees of freedom. */
function leastSquares(xs: readonly number[], ys: readonly number[]): Line {
  const meanX = xs.reduce((sum, x) => sum + x, 0) / xs.length;
  const meanY = ys.reduce((sum, y) => sum + y, 0) / ys.length;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  xs.forEach((x, index) => {
    const dx = x - meanX;
    const dy = ys[index]! - meanY;
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  });
  const slope = xy / xx;
  return { slope, intercept: meanY - slope * meanX, residualSd: Math.sqrt((yy - slope * xy) / (xs.length - 2)) };
}

// The raw rows of the 2012 US Army survey (see tests/reference/SOURCES.md).
const survey = readReference('ansur2-foot.csv');
const women = survey.filter((row) => row.sex === 'F');
const men = survey.filter((row) => row.sex === 'M');
const groups: Readonly<Record<'woman' | 'man' | 'unknown', typeof survey>> = {
  woman: women,
  man: men,
  unknown: survey,
};
const column = (rows: typeof survey, name: string) => rows.map((row) => Number(row[name]));

describe('girthRules, against the raw rows of the survey', () => {
  it('has every soldier', () => {
    expect([women.length, men.length]).toEqual([1986, 4082]);
  });

  it.each([
    ['woman', 'ballGirth', 'balloffootcircumference'],
    ['woman', 'heelAnkleGirth', 'heelanklecircumference'],
    ['man', 'ballGirth', 'balloffootcircumference'],
    ['man', 'heelAnkleGirth', 'heelanklecircumference'],
    ['unknown', 'ballGirth', 'balloffootcircumference'],
    ['unknown', 'heelAnkleGirth', 'heelanklecircumference'],
  ] as const)('%s %s is the least-squares line to the rounding of its constants', (person, girth, name) => {
    const line = leastSquares(column(groups[person], 'footlength'), column(groups[person], name));
    const { formula } = girthRules[person][girth];
    const sdMm = person === 'unknown' ? 0.006 : 0.001;
    expect(formula(0)).toBeCloseTo(line.intercept, person === 'unknown' ? 1.9 : 2.9);
    expect(formula(1) - formula(0)).toBeCloseTo(line.slope, person === 'unknown' ? 4 : 5);
    const sd = girth === 'ballGirth' ? girthRules[person].ballGirthSdMm : girthRules[person].heelAnkleGirthSdMm;
    expect(Math.abs(sd - line.residualSd)).toBeLessThanOrEqual(sdMm);
  });

  it('agrees with the table of regressions', () => {
    for (const row of readReference('foot-anthropometry-regressions.csv')) {
      const rules = girthRules[row.sex === 'F' ? 'woman' : 'man'];
      const rule = { balloffootcircumference: rules.ballGirth, heelanklecircumference: rules.heelAnkleGirth }[row.y!];
      if (rule) expect(rule.formula(250)).toBeCloseTo(Number(row.slope) * 250 + Number(row.intercept_mm), 9);
    }
  });

  it('lets nineteen feet in twenty through with the safety on an estimated girth', () => {
    for (const person of ['woman', 'man'] as const) {
      const passing = groups[person].filter((row) => {
        const foot = footFrom({ person, lengthMm: Number(row.footlength) });
        return foot.heelAnkleGirthMm + girthSafetyMm >= Number(row.heelanklecircumference);
      });
      const share = passing.length / groups[person].length;
      expect(share).toBeGreaterThan(0.93);
      expect(share).toBeLessThan(0.97);
    }
  });
});

describe('footFrom', () => {
  it('estimates what was not measured, by person', () => {
    // 0.58953 x 270 + 92.15 = 251.3231; 1.00667 x 270 + 70.487 = 342.2879
    const man = footFrom({ person: 'man', lengthMm: 270 });
    expect(man.ballGirthMm).toBeCloseTo(251.3231, 4);
    expect(man.heelAnkleGirthMm).toBeCloseTo(342.2879, 4);
    // 0.7541 x 250 + 45.83 = 234.355; 1.1504 x 250 + 30.04 = 317.64
    const unknown = footFrom({ person: 'unknown', lengthMm: 250 });
    expect(unknown.ballGirthMm).toBeCloseTo(234.355, 4);
    expect(unknown.heelAnkleGirthMm).toBeCloseTo(317.64, 4);
    expect([man.isBallGirthMeasured, man.isHeelAnkleGirthMeasured]).toEqual([false, false]);
  });

  it('takes a child’s heel-ankle girth from the ball girth that was measured', () => {
    const child = footFrom({ person: 'child', lengthMm: 170, ballGirthMm: 170 });
    expect(child.heelAnkleGirthMm).toBeCloseTo(231.2, 9);
    expect([child.isBallGirthMeasured, child.isHeelAnkleGirthMeasured]).toEqual([true, false]);
  });

  it('treats an empty measure like one left out', () => {
    const left = footFrom({ person: 'woman', lengthMm: 240 });
    expect(footFrom({ person: 'woman', lengthMm: 240, ballGirthMm: null, heelAnkleGirthMm: undefined })).toEqual(left);
  });

  it.each([
    { person: 'woman', lengthMm: 59.9 },
    { person: 'woman', lengthMm: 360.1 },
    { person: 'woman', lengthMm: Number.NaN },
    { person: 'woman', lengthMm: 240, ballGirthMm: 22 },
    { person: 'woman', lengthMm: 240, heelAnkleGirthMm: Number.POSITIVE_INFINITY },
    { person: 'woman', lengthMm: 240, ballGirthMm: 230, heelAnkleGirthMm: 229 },
  ] as const)('throws where checkFoot has a sentence: %o', (input) => {
    expect(() => footFrom(input)).toThrow(RangeError);
    expect(checkFoot(input)).toHaveLength(1);
  });

  it('takes the ends of the range', () => {
    expect(footFrom({ person: 'child', lengthMm: 60 }).lengthMm).toBe(60);
    expect(footFrom({ person: 'man', lengthMm: 360 }).lengthMm).toBe(360);
  });

  it('never has a longer foot with a smaller girth', () => {
    const length = fc.double({ min: 60, max: 360, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom<Person>(...persons), length, length, (person, a, b) => {
        const [short, long] = [Math.min(a, b), Math.max(a, b)].map((lengthMm) => footFrom({ person, lengthMm }));
        return short!.ballGirthMm <= long!.ballGirthMm && short!.heelAnkleGirthMm <= long!.heelAnkleGirthMm;
      }),
    );
  });
});

describe('checkFoot', () => {
  it('lists every problem at once, each at its field', () => {
    const problems = checkFoot(
      { person: 'woman', lengthMm: 24, ballGirthMm: 22, heelAnkleGirthMm: 31 },
      { length: 'left.length', ballGirth: 'left.ball', heelAnkleGirth: 'left.heel' },
    );
    expect(problems.map(({ path }) => path)).toEqual(['left.length', 'left.ball', 'left.heel']);
  });
});

describe('footFigures', () => {
  it('is the same foot as footFrom, for every person and every choice of measures', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<Person>(...persons),
        fc.double({ min: 100, max: 300, noNaN: true }),
        fc.option(fc.double({ min: 60, max: 250, noNaN: true })),
        fc.option(fc.double({ min: 260, max: 400, noNaN: true })),
        (person, lengthMm, ballGirthMm, heelAnkleGirthMm) => {
          const foot = footFrom({ person, lengthMm, ballGirthMm, heelAnkleGirthMm });
          const figures = footFigures(foot);
          expect(figures.length.value).toBe(foot.lengthMm);
          expect(figures.ballGirth.value).toBe(foot.ballGirthMm);
          expect(figures.heelAnkleGirth.value).toBe(foot.heelAnkleGirthMm);
        },
      ),
    );
  });

  it('marks what was measured and gives the spread of what was not', () => {
    const figures = footFigures(footFrom({ person: 'woman', lengthMm: 240, heelAnkleGirthMm: 300 }));
    expect([figures.ballGirth.rule.mark, figures.ballGirth.sd]).toEqual(['published', 9.37]);
    expect([figures.heelAnkleGirth.rule.mark, figures.heelAnkleGirth.sd]).toEqual(['yours', 0]);
  });

  it('names each input in its words', () => {
    for (const person of persons) {
      const { ballGirth, heelAnkleGirth } = footFigures(footFrom({ person, lengthMm: 240 }));
      for (const figure of [ballGirth, heelAnkleGirth]) {
        expect(namesInWords(figure.rule.words)).toHaveLength(figure.inputs.length);
      }
    }
  });
});
