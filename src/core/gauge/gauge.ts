import type { Gauge, GaugeSource, Hand, Tightness, Yarn, YarnCategory } from '#core/gauge/hand.ts';
import { yarnsKey } from '#core/gauge/hand.ts';
import {
  loopErrorOfSquares,
  loopOfSquares,
  rowsOfSquares,
  stitchesOfSquares,
  texFigure,
  texWords,
} from '#core/gauge/swatch-figures.ts';
import { entryOf } from '#core/shared/entry-of.ts';
import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';

/** What a swatch in another fabric than stocking stitch says of that fabric itself. */
export type OwnFabric = {
  /** Rows in 10 cm. */
  readonly rows: Figure;
  /** Yarn in one of its stitches, cm, with its relative error; null when the swatch was not weighed. */
  readonly loop: Figure | null;
  readonly loopError: Figure | null;
};

/** The gauge one hand gets with one set of strands, as figures that can show their working. */
export type GaugeFigures = {
  readonly yarns: readonly Yarn[];
  readonly source: GaugeSource;
  /** Stocking stitch, in 10 cm; stitches of garter stitch for a piece in it that has a swatch of its own. */
  readonly stitches: Figure;
  readonly rows: Figure;
  /** Yarn in one stocking stitch, cm. */
  readonly loop: Figure;
  /** Relative error of a weighed or unravelled loop; null when the loop comes from the gauge alone. */
  readonly loopError: Figure | null;
  readonly needleMm: number;
  readonly texTotal: number;
  /** Fabrics that have a swatch of their own, by name. */
  readonly own: Readonly<Record<string, OwnFabric>>;
};

/**
 * Middle of the stitches in 10 cm that belong to each yarn category, lace 0 to jumbo 7.
 * Source: Craft Yarn Council, Standard Yarn Weight System, as reproduced in print and on line: 33-40, 27-32, 23-26, 21-24, 16-20,
 * 12-15, 7-11, 6 and fewer stitches in 4 in (taken as 10 cm).
 */
export const usualStitchesByCategory: readonly number[] = [36.5, 29.5, 24.5, 22.5, 18, 13.5, 9, 6];

/** Stitches in 10 cm against the yarn's usual gauge, for a knitter known only in words. Our own choice. */
export const tightnessFactor: Readonly<Record<Tightness, number>> = { loose: 0.92, usual: 1, tight: 1.08 };

/** Rows to a stitch where only stitches are known: 4 rows to 3 stitches, taught in hand knitting. */
const rowsPerStitch = 4 / 3;

const rules = {
  usual: rule(
    {
      name: 'usual gauge of the strands',
      unit: 'per 10 cm',
      mark: 'published',
      source:
        'Standard Yarn Weight System (Craft Yarn Council), middle of the band; strands by the square root of their tex',
      words: '{stitches for one strand} x square root of ({tex of one strand} / {tex of all strands})',
    },
    (stitches: number, texOne: number, texTotal: number) => stitches * Math.sqrt(texOne / texTotal),
  ),
  guessed: rule(
    {
      name: 'stitches in 10 cm',
      unit: 'per 10 cm',
      mark: 'ours',
      source: 'a guess until you measure: loose knitters get 0.92 of the usual stitches, tight ones 1.08',
      words: '{usual gauge of the strands} x {how you knit}',
    },
    (usual: number, factor: number) => usual * factor,
  ),
  rows: rule(
    {
      name: 'rows in 10 cm',
      unit: 'per 10 cm',
      mark: 'trade',
      source: 'common practice: 4 rows are as tall as 3 stitches are wide',
      words: '{stitches in 10 cm} x 4 / 3',
    },
    (stitches: number) => stitches * rowsPerStitch,
  ),
  loop: rule(
    {
      name: 'yarn in one stitch',
      unit: 'cm',
      mark: 'published',
      source:
        'plain knit loop geometry, Munden 1959 (as quoted in textile handbooks): stitches in a square cm = Ks / loop length squared',
      words: 'square root of ({Ks} / ({stitches in 10 cm} / 10 x {rows in 10 cm} / 10))',
    },
    (ks: number, stitches: number, rows: number) => Math.sqrt(ks / ((stitches / 10) * (rows / 10))),
  ),
};

/** Ks of plain knit wool: 21.6 wet relaxed (washed), 19.0 dry relaxed. Source: Munden 1959, from memory via handbooks. */
const ksWashed = 21.6;
const ksUnwashed = 19.0;

/** Ks of garter counts, and the relative error of a loop from them. Our own choice:
 * two knitters’ weighed garter pieces gave 28 and 33. */
const ksGarter = 30;
const garterError = given('error of one stitch', 0.11, 'percent', 'ours', 'of garter counts');

/** Relative error of a loop measured without a scale to speak of. Our own choice, by simulation. */
const unravelledSd = 0.06;

/** Relative error of a stocking loop from its stitches and rows, and where they are a guess too. Our own choice. */
export const stockingLoopSd = 0.07;
export const guessedLoopSd = 0.12;

/**
 * Sum of the linear densities of strands held together.
 * Source: the tex system, ISO 1144: tex is grams per kilometre, so strands side by side add.
 *
 * @example texTogether([{ tex: 500 }, { tex: 500 }]) // => 1000
 */
export function texTogether(yarns: readonly { readonly tex: number }[]): number {
  return yarns.reduce((sum, yarn) => sum + yarn.tex, 0);
}

/**
 * The loop length that a plain knit gauge implies, cm: sqrt(Ks / (stitches per cm x rows per cm)).
 *
 * @param stitchesPer10Cm above 0
 * @param rowsPer10Cm above 0
 * @param ks shape constant: 19.0 as it comes off the needles, 21.6 washed
 * Source: Munden 1959
 * @example loopLengthCm(13, 18, 21.6) // => 3.0382181012509996
 */
export function loopLengthCm(stitchesPer10Cm: number, rowsPer10Cm: number, ks: number): number {
  return rules.loop.formula(ks, stitchesPer10Cm, rowsPer10Cm);
}

/**
 * The needle for a slipper when nothing is said: 7 mm from 800 tex up, else the middle of the category's band.
 * Common practice for bulky yarn or two strands of medium; bands as in the Standard Yarn Weight System.
 *
 * @example usualNeedleMm(1000, 5) // => 7
 * @example usualNeedleMm(500, 4) // => 5
 */
export function usualNeedleMm(tex: number, category: YarnCategory): number {
  if (tex >= 800) return 7;
  return [1.75, 2.75, 3.5, 4, 5, 7, 10, 13][category]!;
}

function guessedStitches(hand: Hand, yarns: readonly Yarn[]): Figure {
  const first = yarns[0]!;
  const stitchesOfOne = first.usualStitches ?? usualStitchesByCategory[first.category]!;
  const one = given(
    'stitches for one strand',
    stitchesOfOne,
    'per 10 cm',
    first.usualStitches === null ? 'published' : 'yours',
    first.usualStitches === null ? 'Standard Yarn Weight System, middle of the band' : 'from the ball band',
  );
  const usual = work(
    rules.usual,
    one,
    given('tex of one strand', first.tex, 'tex', 'yours', texWords(first)),
    texFigure(yarns),
  );
  return work(
    rules.guessed,
    usual,
    given('how you knit', tightnessFactor[hand.tightness], 'ratio', 'ours', hand.tightness),
  );
}

/** Stitches, rows, loop and its error of a gauge, down to the squares they were counted on. */
type Counted = { stitches: Figure; rows: Figure; loop: Figure | null; loopError: Figure | null };

function countedFigures(gauge: Gauge, yarns: readonly Yarn[]): Counted {
  const { counted, loopCm } = gauge;
  if (counted === undefined) return typedFigures(gauge);
  const { squares, scaleStepG } = counted;
  return {
    stitches: stitchesOfSquares(squares),
    rows: rowsOfSquares(squares),
    loop: loopCm === null ? null : loopOfSquares(squares, yarns),
    loopError: loopCm === null ? null : loopErrorOfSquares(squares, scaleStepG),
  };
}

function typedFigures({ stitchesPer10Cm, rowsPer10Cm, loopCm, loopRelativeSd }: Gauge): Counted {
  const words = 'as you entered it';
  const error = given('error of one stitch', loopRelativeSd ?? unravelledSd, 'percent', 'ours', 'of a measured stitch');
  return {
    stitches: given('stitches in 10 cm', stitchesPer10Cm, 'per 10 cm', 'yours', words),
    rows: given('rows in 10 cm', rowsPer10Cm, 'per 10 cm', 'yours', words),
    loop: loopCm === null ? null : given('yarn in one stitch', loopCm, 'cm', 'yours', words),
    loopError: loopCm === null ? null : error,
  };
}

/** A loop with its error beside it, which a page shows as the range. */
function withError(loop: Figure, relativeSd: number): Figure {
  return withSd(loop, loop.value * relativeSd);
}

function measuredFigures(gauge: Gauge, yarns: readonly Yarn[]): GaugeFigures {
  const { stitches, rows, loop, loopError } = countedFigures(gauge, yarns);
  const ks = gauge.isWashed
    ? given('Ks', ksWashed, 'count', 'published', 'shape of a stitch: Munden 1959, plain wool, washed')
    : given('Ks', ksUnwashed, 'count', 'published', 'shape of a stitch: Munden 1959, plain wool, not washed');
  return {
    yarns,
    source: gauge.source,
    stitches,
    rows,
    loop: withError(loop ?? work(rules.loop, ks, stitches, rows), loopError?.value ?? stockingLoopSd),
    loopError,
    needleMm: gauge.needleMm ?? neededNeedle(yarns),
    texTotal: texTogether(yarns),
    own: {},
  };
}

function guessedFigures(hand: Hand, yarns: readonly Yarn[]): GaugeFigures {
  const stitches = guessedStitches(hand, yarns);
  const rows = work(rules.rows, stitches);
  const ks = given('Ks', ksWashed, 'count', 'published', 'shape of a stitch: Munden 1959, plain wool, washed');
  return {
    yarns,
    source: 'guess',
    stitches,
    rows,
    loop: withError(work(rules.loop, ks, stitches, rows), guessedLoopSd),
    loopError: null,
    needleMm: neededNeedle(yarns),
    texTotal: texTogether(yarns),
    own: {},
  };
}

function ownFabric(gauge: Gauge, yarns: readonly Yarn[]): OwnFabric {
  const { rows, loop, loopError } = countedFigures(gauge, yarns);
  return { rows, loop: loop && withError(loop, loopError!.value), loopError };
}

/** A piece in garter stitch by its own swatch; stocking rows and loops stay those of a stocking swatch, if there is one. */
function inGarter(stocking: GaugeFigures, garter: Gauge, own: OwnFabric): GaugeFigures {
  const { stitches } = countedFigures(garter, stocking.yarns);
  const needleMm = garter.needleMm ?? stocking.needleMm;
  if (stocking.source !== 'guess') return { ...stocking, stitches, needleMm };
  const ks = given('Ks', ksGarter, 'count', 'ours', 'shape of a stitch: garter counts');
  return {
    ...stocking,
    source: garter.source,
    stitches,
    rows: work(rules.rows, stitches),
    loop: own.loop ?? withError(work(rules.loop, ks, stitches, own.rows), garterError.value),
    loopError: own.loopError ?? garterError,
    needleMm,
  };
}

function neededNeedle(yarns: readonly Yarn[]): number {
  return yarns[0]!.needleMm ?? usualNeedleMm(texTogether(yarns), yarns[0]!.category);
}

/**
 * The gauge of a hand with some strands: her own swatch, else what was typed, else a guess from the yarn. A swatch in a rib
 * gives the yarn of that rib, one in garter stitch the stitches and rows of pieces in it.
 *
 * @param hand gauges are searched by `yarnsKey` and fabric; the first match counts, so put the best first
 * @param yarns one per strand, at least one
 * @param fabric what the piece begins in
 * @returns figures for stitches, rows and loop length, and the source that says how far to trust them
 * @throws {RangeError} when `yarns` is empty
 */
export function gaugeOf(hand: Hand, yarns: readonly Yarn[], fabric = 'stocking'): GaugeFigures {
  if (yarns.length === 0) throw new RangeError('gaugeOf: yarns must not be empty');
  let known = entryOf(knownGauges, hand, noGauges);
  for (const yarn of yarns) known = entryOf(known.withYarn, yarn, noGauges);
  return entryOf(known.byFabric, fabric, () => findGauge(hand, yarns, fabric));
}

// Hands and yarns never change, and a plan asks for the same few gauges with every size.
type KnownGauges = { readonly withYarn: Map<Yarn, KnownGauges>; readonly byFabric: Map<string, GaugeFigures> };

const knownGauges = new WeakMap<Hand, KnownGauges>();

function noGauges(): KnownGauges {
  return { withYarn: new Map(), byFabric: new Map() };
}

function findGauge(hand: Hand, yarns: readonly Yarn[], fabric: string): GaugeFigures {
  const key = yarnsKey(yarns);
  const ofStrands = hand.gauges.filter((gauge) => gauge.yarnsKey === key);
  const first = (name: string) => ofStrands.find((gauge) => gauge.fabric === name);
  const stocking = first('stocking');
  const plain = stocking ? measuredFigures(stocking, yarns) : guessedFigures(hand, yarns);
  const others = [...new Set(ofStrands.map((gauge) => gauge.fabric))].filter((name) => name !== 'stocking');
  const own = Object.fromEntries(others.map((name) => [name, ownFabric(first(name)!, yarns)]));
  const garter = fabric === 'garter' ? first('garter') : undefined;
  return { ...(garter ? inGarter(plain, garter, own.garter!) : plain), own };
}

/**
 * Rows in 10 cm where only stitches were counted: 4 rows to 3 stitches.
 *
 * @param stitchesPer10Cm above 0
 * Source: taught in hand knitting, common practice
 * @example rowsFromStitches(13.5) // => 18
 */
export function rowsFromStitches(stitchesPer10Cm: number): number {
  return stitchesPer10Cm * rowsPerStitch;
}
