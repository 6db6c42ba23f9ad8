import { describe, expect, it } from 'vitest';
import type { Yarn } from '#core/gauge/hand.ts';
import { gaugeOfSwatches, type SwatchReading } from '#core/gauge/swatch.ts';
import {
  loopErrorOfSquares,
  loopOfSquares,
  rowsOfSquares,
  stitchesOfSquares,
  texFigure,
} from '#core/gauge/swatch-figures.ts';
import type { Figure } from '#core/shared/figure.ts';
import { workingOf } from '#core/shared/working.ts';
import { faultsIn } from '#tests/support/adds-up.ts';

const square: SwatchReading = {
  id: 1,
  yarnsKey: '5',
  tex: 1000,
  fabric: 'stocking',
  stitches: 26,
  rows: 36,
  widthMm: 200,
  heightMm: 200,
  massG: 28,
  isWashed: true,
  needleMm: 7,
  madeDay: '2026-09-12',
};
const small: SwatchReading = {
  ...square,
  id: 2,
  stitches: 15,
  rows: 20,
  widthMm: 100,
  heightMm: 100,
  massG: 9,
  madeDay: null,
};
const yarn = { id: 5, name: 'Fell Bulky', tex: 1000 } as Yarn;

/** Names of what was typed or chosen, at the ends of the tree. */
function leavesOf(figure: Figure): string[] {
  return figure.inputs.length === 0 ? [figure.rule.name] : figure.inputs.flatMap(leavesOf);
}

describe('figures of weighed squares', () => {
  it('lead from the ruler and the scale to the yarn in one stitch', () => {
    const loop = loopOfSquares([square], [yarn]);
    // 28 g / (26 x 36 stitches) / 1 g a metre = 2.9915 cm
    expect(loop.value).toBeCloseTo(2.991453, 6);
    expect(leavesOf(loop)).toEqual(['weight of the square', 'stitches of the square', 'rows of the square', 'tex']);
    const step = workingOf(loop, 'EUR');
    expect(step.formulaText).toBe('28\u00a0g / (26 stitches \u00d7 36 rows) / (1,000\u00a0tex / 1000) \u00d7 100');
    expect(step.steps.map(({ source }) => source)).toEqual([
      'weighed, square of Sat 12 Sep 2026',
      'counted, square of Sat 12 Sep 2026',
      'counted, square of Sat 12 Sep 2026',
      'Fell Bulky: 100\u00a0000 / 100\u00a0m in 100\u00a0g',
    ]);
  });

  it('weigh several squares by their area, as the gauge does', () => {
    const squares = [square, small];
    const stitches = stitchesOfSquares(squares);
    expect(stitches.value).toBeCloseTo(13.4, 12); // (400 x 13 + 100 x 15) / 500
    expect(rowsOfSquares(squares).value).toBeCloseTo(18.4, 12); // (400 x 18 + 100 x 20) / 500
    // small: 9 / 300 = 3 cm; (400 x 2.991453 + 100 x 3) / 500 = 2.993162
    expect(loopOfSquares(squares, [yarn]).value).toBeCloseTo(2.993162, 6);
  });

  it('are the gauge of the plan to the last bit, and add up on paper', () => {
    for (const squares of [[square], [small], [square, small], [{ ...small, stitches: 14.5 }, square]]) {
      const gauge = gaugeOfSwatches(squares, 0.1);
      const pairs: readonly [Figure, number | null][] = [
        [stitchesOfSquares(squares), gauge.stitchesPer10Cm],
        [rowsOfSquares(squares), gauge.rowsPer10Cm],
        [loopOfSquares(squares, [yarn]), gauge.loopCm],
        [loopErrorOfSquares(squares, 0.1), gauge.loopRelativeSd],
      ];
      for (const [figure, planned] of pairs) {
        expect(figure.value).toBe(planned);
        expect(faultsIn(figure, workingOf(figure, 'EUR'))).toEqual([]);
      }
    }
  });

  it('take the error from the step of the scale', () => {
    // sqrt(3.6^2 + (29 x 1 / 28)^2) = sqrt(12.96 + 1.0727) = 3.74602 %
    expect(loopErrorOfSquares([square], 1).value).toBeCloseTo(0.0374602, 6);
  });

  it('leave out squares that were not weighed', () => {
    expect(loopOfSquares([{ ...small, massG: null }, square], [yarn]).value).toBeCloseTo(2.991453, 6);
  });
});

describe('texFigure', () => {
  it('adds strands, each from its own ball band', () => {
    const medium = { ...yarn, name: 'Fell Medium', tex: 500 };
    const both = texFigure([medium, { ...medium, name: 'Fell Sock', tex: 250 }]);
    expect(both.value).toBe(750);
    expect(both.inputs.map(({ rule }) => rule.source)).toEqual([
      'Fell Medium: 100\u00a0000 / 200\u00a0m in 100\u00a0g',
      'Fell Sock: 100\u00a0000 / 400\u00a0m in 100\u00a0g',
    ]);
  });
});
