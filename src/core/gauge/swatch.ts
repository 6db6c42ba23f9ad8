import type { Gauge } from '#core/gauge/hand.ts';
import type { Day } from '#core/shared/calendar.ts';
import { requireAbove0, requireRange } from '#core/shared/check.ts';

/** A knitted square as it was counted, measured and perhaps weighed. */
export type SwatchReading = {
  readonly id: number;
  /** `yarnsKey` of the strands it was knitted with. */
  readonly yarnsKey: string;
  /** tex of all strands together. */
  readonly tex: number;
  readonly fabric: string;
  /** Counted over `widthMm` and `heightMm`; of the whole square when it was weighed. */
  readonly stitches: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly massG: number | null;
  readonly isWashed: boolean;
  readonly needleMm: number | null;
  readonly madeDay: Day | null;
};

/**
 * Stitches (or rows) in 10 cm, from a count over any length.
 *
 * @param count stitches or rows, above 0, halves allowed
 * @param lengthMm the length they were counted over, above 0
 * Source: the definition of gauge
 * @example per10Cm(24, 180) // => 13.333333333333334
 */
export function per10Cm(count: number, lengthMm: number): number {
  return (requireAbove0('per10Cm: count', count) * 100) / requireAbove0('per10Cm: lengthMm', lengthMm);
}

/**
 * Yarn in one stitch of a weighed square, cm: grams over stitches made, over the grams of a metre.
 *
 * @param massG weight of the whole square, above 0
 * @param stitches stitches across the whole square, above 0
 * @param rows rows of the whole square, above 0
 * @param tex grams in 1000 m of all strands together, above 0
 * @returns cm; every strand runs the same length, so two strands need no halving
 * Source: mass = stitches x rows x yarn in one stitch x tex; tex by ISO 1144
 * @example loopOfWeighed(18, 24, 25, 1000) // => 3, 18 m of yarn in 600 stitches
 */
export function loopOfWeighed(massG: number, stitches: number, rows: number, tex: number): number {
  const made = requireAbove0('loopOfWeighed: stitches', stitches) * requireAbove0('loopOfWeighed: rows', rows);
  const metres = requireAbove0('loopOfWeighed: massG', massG) / (requireAbove0('loopOfWeighed: tex', tex) / 1000);
  return (metres / made) * 100;
}

/**
 * Relative error of the yarn in one stitch of a weighed square, one standard deviation: 3.6 % for reading half stitches,
 * the drift of a hand and the metres on the ball band, and the scale's step, 29 % of it being one standard deviation of
 * a reading that is anywhere within the step.
 *
 * @param massG weight of the square, above 0
 * @param scaleStepG smallest step the scale shows, above 0
 * @returns a ratio: 0.04 is 4 %
 * Source: our own choice, by simulation; a step's standard deviation is step / square root of 12
 * @example weighedLoopSd(29, 1) // => 0.03736308338453881
 * @example weighedLoopSd(10, 1) // => 0.04622769732530488
 */
export function weighedLoopSd(massG: number, scaleStepG: number): number {
  const scalePercent =
    (29 * requireRange('weighedLoopSd: scaleStepG', scaleStepG, 0)) / requireAbove0('weighedLoopSd: massG', massG);
  return Math.sqrt(3.6 ** 2 + scalePercent ** 2) / 100;
}

/**
 * A measure of some squares, each counting by its area.
 *
 * @param measures at least one, in the order of `areas`
 * @param areas above 0
 * @example meanByArea([13, 15], [400, 100]) // => 13.4
 * @example meanByArea([13], [400]) // => 13
 */
export function meanByArea(measures: readonly number[], areas: readonly number[]): number {
  if (measures.length === 1) return measures[0]!;
  const area = areas.reduce((sum, each) => sum + each, 0);
  return measures.reduce((sum, measure, index) => sum + measure * areas[index]!, 0) / area;
}

/** Square cm, as somebody with a ruler would say it. */
export function areaOf(swatch: Pick<SwatchReading, 'widthMm' | 'heightMm'>): number {
  return (swatch.widthMm * swatch.heightMm) / 100;
}

function meanOf(swatches: readonly SwatchReading[], measureOf: (swatch: SwatchReading) => number): number {
  return meanByArea(swatches.map(measureOf), swatches.map(areaOf));
}

/**
 * One gauge out of squares of the same strands, fabric and needle: means weighted by area, since a large square is
 * read more surely. Washed squares count alone where there are any, because slippers get washed. The yarn in one stitch
 * comes from the weighed ones; its error is their mean error, not a smaller one: the ball band's metres are wrong alike
 * in all of them.
 *
 * @param swatches at least one
 * @param scaleStepG smallest step the scale shows, above 0
 * @throws {RangeError} when there is none, or a measure is not above 0
 * Source: our own choice
 * @example gaugeOfSwatches([{ id: 1, yarnsKey: '5', tex: 1000, fabric: 'stocking', stitches: 24, rows: 25, widthMm: 180, heightMm: 140, massG: null, isWashed: true, needleMm: 7, madeDay: null }], 1).stitchesPer10Cm // => 13.333333333333334
 */
export function gaugeOfSwatches(swatches: readonly SwatchReading[], scaleStepG: number): Gauge {
  const washed = swatches.filter((swatch) => swatch.isWashed);
  const counted = washed.length > 0 ? washed : swatches;
  const first = counted[0];
  if (!first) throw new RangeError('gaugeOfSwatches: swatches must not be empty');
  const weighed = counted.filter((swatch) => swatch.massG !== null);
  return {
    yarnsKey: first.yarnsKey,
    fabric: first.fabric,
    stitchesPer10Cm: meanOf(counted, (swatch) => per10Cm(swatch.stitches, swatch.widthMm)),
    rowsPer10Cm: meanOf(counted, (swatch) => per10Cm(swatch.rows, swatch.heightMm)),
    source: 'swatch',
    isWashed: washed.length > 0,
    loopCm:
      weighed.length === 0
        ? null
        : meanOf(weighed, (swatch) => loopOfWeighed(swatch.massG!, swatch.stitches, swatch.rows, swatch.tex)),
    loopRelativeSd: weighed.length === 0 ? null : meanOf(weighed, (swatch) => weighedLoopSd(swatch.massG!, scaleStepG)),
    needleMm: first.needleMm,
    counted: { squares: counted, scaleStepG },
  };
}

/** Later made first; without a day, later entered first. */
function compareLatest(a: SwatchReading, b: SwatchReading): number {
  const [dayA, dayB] = [a.madeDay ?? '', b.madeDay ?? ''];
  return dayA === dayB ? b.id - a.id : dayA < dayB ? 1 : -1;
}

/**
 * The gauges of one hand out of all its squares: one for each set of strands, fabric and needle. Squares on another
 * needle are another gauge; the needle of the latest square comes first, and the first match counts.
 *
 * @param swatches of one hand, in any order; an empty list gives none
 * @param scaleStepG smallest step the scale shows, above 0
 * @example gaugesFromSwatches([], 1) // => []
 */
export function gaugesFromSwatches(swatches: readonly SwatchReading[], scaleStepG: number): Gauge[] {
  const groups = new Map<string, SwatchReading[]>();
  for (const swatch of [...swatches].sort(compareLatest)) {
    const key = `${swatch.yarnsKey}|${swatch.fabric}|${swatch.needleMm ?? ''}`;
    groups.set(key, [...(groups.get(key) ?? []), swatch]);
  }
  return [...groups.values()].map((group) => gaugeOfSwatches(group, scaleStepG));
}
