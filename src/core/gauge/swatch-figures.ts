import type { Yarn } from '#core/gauge/hand.ts';
import { areaOf, loopOfWeighed, meanByArea, per10Cm, type SwatchReading, weighedLoopSd } from '#core/gauge/swatch.ts';
import { type Figure, given, rule, sumOf, type Unit, work } from '#core/shared/figure.ts';
import { formatDay, formatNumber } from '#core/shared/format.ts';

/** How a gauge comes about from the squares it was counted on, down to the ruler and the scale. */

const per10CmRule = (name: string, counted: string, across: string) =>
  rule(
    {
      name,
      unit: 'per 10 cm',
      mark: 'published',
      source: 'the definition of gauge',
      words: `{${counted}} x 100 / {${across}}`,
    },
    (count: number, lengthMm: number) => per10Cm(count, lengthMm),
  );
const stitchesRule = per10CmRule('stitches in 10 cm', 'stitches of the square', 'width of the square');
const rowsRule = per10CmRule('rows in 10 cm', 'rows of the square', 'height of the square');

const loopRule = rule(
  {
    name: 'yarn in one stitch',
    unit: 'cm',
    mark: 'published',
    source: 'weight = stitches x yarn in one stitch x weight of a length of yarn; tex is grams in 1000 m (ISO 1144)',
    words: '{weight of the square} / ({stitches of the square} x {rows of the square}) / ({tex} / 1000) x 100',
  },
  (massG: number, stitches: number, rows: number, tex: number) => loopOfWeighed(massG, stitches, rows, tex),
);

const loopErrorRule = rule(
  {
    name: 'error of one stitch',
    unit: 'percent',
    mark: 'ours',
    source: 'by simulation: 3.6 % for half stitches, the hand and the ball band; the scale errs by 29 % of its step',
    words:
      'square root of (3.6 x 3.6 + (29 x {step of the scale} / {weight of the square}) x (29 x {step of the scale} / {weight of the square})) / 100',
  },
  (stepG: number, massG: number) => weighedLoopSd(massG, stepG),
);

/** A square by its day, or by its place among several. */
function nameOf(square: SwatchReading, place: number, inAll: number): string {
  if (square.madeDay !== null) return `square of ${formatDay(square.madeDay)}`;
  return inAll === 1 ? 'your square' : `square ${place + 1}`;
}

/** One square's own figure, or the mean of several by their areas. */
function overSquares(
  squares: readonly SwatchReading[],
  name: string,
  unit: Unit,
  figureOf: (square: SwatchReading, named: string) => Figure,
): Figure {
  const names = squares.map((square, place) => nameOf(square, place, squares.length));
  const figures = squares.map((square, place) => figureOf(square, names[place]!));
  if (figures.length === 1) return figures[0]!;
  const areas = squares.map((square, place) => {
    const size = `${formatNumber(square.widthMm / 10, 1)} x ${formatNumber(square.heightMm / 10, 1)} cm, ${names[place]}`;
    return given('area of the square', areaOf(square), 'count', 'yours', size);
  });
  const parts = squares.map((_, place) => `{measure ${place + 1}} x {area ${place + 1}}`).join(' + ');
  const all = squares.map((_, place) => `{area ${place + 1}}`).join(' + ');
  const mean = rule(
    {
      name,
      unit,
      mark: 'ours',
      source: 'a large square is read more surely: each counts by its area in square cm',
      words: `(${parts}) / (${all})`,
    },
    (...values: number[]) =>
      meanByArea(
        values.filter((_, index) => index % 2 === 0),
        values.filter((_, index) => index % 2 === 1),
      ),
  );
  return work(mean, ...figures.flatMap((figure, place) => [figure, areas[place]!]));
}

/** Stitches in 10 cm of some squares, as `gaugeOfSwatches` has them. */
export function stitchesOfSquares(squares: readonly SwatchReading[]): Figure {
  return overSquares(squares, 'stitches in 10 cm', 'per 10 cm', (square, named) =>
    work(
      stitchesRule,
      given('stitches of the square', square.stitches, 'stitches', 'yours', `counted, ${named}`),
      given('width of the square', square.widthMm, 'mm', 'yours', `measured, ${named}`),
    ),
  );
}

/** Rows in 10 cm of some squares, as `gaugeOfSwatches` has them. */
export function rowsOfSquares(squares: readonly SwatchReading[]): Figure {
  return overSquares(squares, 'rows in 10 cm', 'per 10 cm', (square, named) =>
    work(
      rowsRule,
      given('rows of the square', square.rows, 'rows', 'yours', `counted, ${named}`),
      given('height of the square', square.heightMm, 'mm', 'yours', `measured, ${named}`),
    ),
  );
}

/**
 * tex of the strands together, each from the metres on its ball band.
 *
 * @param yarns one per strand, at least one
 */
export function texFigure(yarns: readonly Yarn[]): Figure {
  return sumOf(
    'tex',
    'tex',
    yarns.map((yarn) => given('tex', yarn.tex, 'tex', 'yours', texWords(yarn))),
  );
}

/**
 * Where the tex of a yarn comes from.
 *
 * @example texWords({ name: 'Fell Bulky', tex: 1000 }) // => 'Fell Bulky: 100\u00a0000 / 100\u00a0m in 100\u00a0g'
 */
export function texWords({ name, tex }: Pick<Yarn, 'name' | 'tex'>): string {
  return `${name}: 100\u00a0000 / ${formatNumber(100_000 / tex, 1)}\u00a0m in 100\u00a0g`;
}

const weighedOf = (squares: readonly SwatchReading[]) => squares.filter(({ massG }) => massG !== null);

const weightOf = (square: SwatchReading, named: string) =>
  given('weight of the square', square.massG!, 'g', 'yours', `weighed, ${named}`);

/** Yarn in one stitch of the weighed squares among some, as `gaugeOfSwatches` has it. */
export function loopOfSquares(squares: readonly SwatchReading[], yarns: readonly Yarn[]): Figure {
  const tex = texFigure(yarns);
  return overSquares(weighedOf(squares), 'yarn in one stitch', 'cm', (square, named) =>
    work(
      loopRule,
      weightOf(square, named),
      given('stitches of the square', square.stitches, 'stitches', 'yours', `counted, ${named}`),
      given('rows of the square', square.rows, 'rows', 'yours', `counted, ${named}`),
      tex,
    ),
  );
}

/** The relative error of that yarn, as `gaugeOfSwatches` has it. */
export function loopErrorOfSquares(squares: readonly SwatchReading[], scaleStepG: number): Figure {
  const step = given('step of the scale', scaleStepG, 'g', 'yours', 'in the settings');
  return overSquares(weighedOf(squares), 'error of one stitch', 'percent', (square, named) =>
    work(loopErrorRule, step, weightOf(square, named)),
  );
}
