import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { YarnCategory } from '#core/gauge/hand.ts';
import {
  categoriesOfTex,
  categoriesOfWraps,
  isFarFromWeight,
  joinBalls,
  strandsForSlipper,
  weightNames,
  workOutBall,
} from '#core/shelf/unlabelled.ts';

// The published bands, row by row, from the table of yarn weights that is kept with the tests.
const table = readFileSync(new URL('../../reference/yarn-weights.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','))
  .map((cells) => ({
    category: Number(cells[0]),
    name: cells[1]!.toLowerCase(),
    wraps: [Number(cells[9]), Number(cells[10])] as const,
    metres: [Number(cells[11]), Number(cells[12] || Number.POSITIVE_INFINITY)] as const,
  }));

describe('categoriesOfWraps', () => {
  it('names every published band that a whole number of wraps lies in', () => {
    for (let wraps = 1; wraps <= 40; wraps += 1) {
      const published = table.filter((row) => wraps >= row.wraps[0] && wraps <= row.wraps[1]);
      expect([wraps, categoriesOfWraps(wraps)]).toEqual([wraps, published.map((row) => row.category)]);
    }
  });

  it('is open at both ends and names both neighbours of a gap', () => {
    expect(categoriesOfWraps(60)).toEqual([0]);
    expect(categoriesOfWraps(0.5)).toEqual([7]);
    expect(categoriesOfWraps(4.5)).toEqual([6, 7]);
  });

  it('is never empty', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 200, noNaN: true }), (wraps) => {
        expect(categoriesOfWraps(wraps).length).toBeGreaterThan(0);
      }),
    );
  });

  it('throws for no wraps', () => {
    expect(() => categoriesOfWraps(0)).toThrow(RangeError);
  });
});

describe('categoriesOfTex', () => {
  it('names every published band that metres in 100 g lie in', () => {
    for (const metres of [50, 80, 100, 110, 125, 130, 150, 200, 220, 250, 300, 350, 400, 600, 900]) {
      const published = table.filter((row) => metres >= row.metres[0] && metres <= row.metres[1]);
      expect([metres, categoriesOfTex(100_000 / metres)]).toEqual([metres, published.map((row) => row.category)]);
    }
  });

  it('has a name for each category', () => {
    expect(weightNames).toEqual(table.map((row) => row.name));
  });
});

describe('workOutBall', () => {
  it('reckons metres and tex from the scale', () => {
    // 84 g at 0.8 g a metre are 105 m; 0.8 g a metre is 800 g in 1000 m.
    expect(workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: 9 }, 0)).toEqual({
      metres: 105,
      metresSd: 0,
      tex: 800,
      categories: [4, 5],
      category: 4,
      isAtOdds: false,
    });
  });

  it('prefers the fit that weight and wraps agree on', () => {
    // 12 wraps fit fine, light and medium; 1000 / 6.7 x 100 g = 149 m in 100 g is medium alone.
    expect(workOutBall({ massG: 50, tenMetresG: 6.7, wrapsPerInch: 12 }, 0).category).toBe(4);
    // Without wraps: 100 000 / 900 = 111 m in 100 g is bulky alone.
    expect(workOutBall({ massG: 50, tenMetresG: 9, wrapsPerInch: null }, 0).categories).toEqual([5]);
  });

  it('says when wraps and weight disagree, and goes by the wraps', () => {
    const ball = workOutBall({ massG: 50, tenMetresG: 8, wrapsPerInch: 20 }, 0);
    expect(ball).toMatchObject({ isAtOdds: true, categories: [1], category: 1 });
  });

  it('says how far the scale rounds the length', () => {
    // A step of 1 g has sd 0.2887 g: of 8 g 3.61 %, of 84 g 0.34 %, together 3.62 % of 105 m = 3.81 m.
    expect(workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: null }, 1).metresSd).toBeCloseTo(3.806, 2);
  });

  it.each([
    [{ massG: 0, tenMetresG: 8, wrapsPerInch: null }],
    [{ massG: 10, tenMetresG: 0, wrapsPerInch: null }],
    [{ massG: 10, tenMetresG: 8, wrapsPerInch: -1 }],
    [{ massG: Number.NaN, tenMetresG: 8, wrapsPerInch: null }],
  ])('throws for %o', (ball) => {
    expect(() => workOutBall(ball, 1)).toThrow(RangeError);
  });
});

describe('joinBalls', () => {
  const ball = (massG: number, tenMetresG: number, wrapsPerInch: number | null = null) =>
    Object.freeze({ massG, ...workOutBall({ massG, tenMetresG, wrapsPerInch }, 0) });

  it('makes a yarn of each thickness, and tells one thickness of two yarn weights apart', () => {
    const balls = [ball(84, 8, 9), ball(31, 8, 9), ball(52, 5.1), ball(20, 8, 20)];
    expect(joinBalls(balls, 'thickness').map((yarn) => yarn.balls)).toEqual([[0, 1], [2], [3]]);
  });

  it('makes one yarn of a yarn weight, as thick as its balls end to end', () => {
    // 100 g at 7 g and 100 g at 8 g in ten metres: 200 g in 142.86 + 125 m = 746.7 tex.
    const [medium, ...others] = joinBalls([ball(100, 7, 10), ball(100, 8, 10)], 'weight');
    expect(others).toEqual([]);
    expect(medium).toMatchObject({ balls: [0, 1], category: 4, categories: [4] });
    expect(medium!.tex).toBeCloseTo(746.67, 1);
  });

  it('joins all: the yarn weight of most grams, and every fit named', () => {
    const [all] = joinBalls([ball(30, 5), ball(80, 9), ball(10, 5)], 'all');
    expect(all).toMatchObject({ balls: [0, 1, 2], category: 5, categories: [3, 4, 5] });
  });

  it('loses no ball, no gram and no metre', () => {
    const typed = fc.record({ massG: fc.integer({ min: 1, max: 200 }), ten: fc.integer({ min: 1, max: 20 }) });
    fc.assert(
      fc.property(fc.array(typed, { maxLength: 12 }), fc.constantFrom('thickness', 'weight', 'all'), (rows, by) => {
        const balls = rows.map(({ massG, ten }) => ball(massG, ten));
        const yarns = joinBalls(balls, by as 'all');
        expect(yarns.flatMap((yarn) => yarn.balls).sort((a, b) => a - b)).toEqual(balls.map((_, index) => index));
        for (const yarn of yarns) {
          const grams = yarn.balls.reduce((sum, index) => sum + balls[index]!.massG, 0);
          const metres = yarn.balls.reduce((sum, index) => sum + balls[index]!.metres, 0);
          expect((metres * yarn.tex) / 1000).toBeCloseTo(grams, 6);
        }
      }),
    );
  });
});

describe('strandsForSlipper', () => {
  it('comes near 1000 tex', () => {
    // Bulky one strand, medium two: common practice.
    expect([1250, 1000, 800, 500, 400, 250].map(strandsForSlipper)).toEqual([1, 1, 1, 2, 3, 3]);
  });
});

describe('isFarFromWeight', () => {
  it.each([
    // 1000 m in 100 g: lace.
    [100, 6, true],
    [100, 0, false],
    [100, 1, false],
    // 125 m in 100 g: medium or bulky by the tables, so light and super bulky are one away.
    [800, 2, true],
    [800, 3, false],
    [800, 6, false],
    [800, 7, true],
  ])('tex %i as weight %i: %s', (tex, category, expected) => {
    expect(isFarFromWeight(category as YarnCategory, tex)).toBe(expected);
  });
});
