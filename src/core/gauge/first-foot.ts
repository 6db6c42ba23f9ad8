import { requireAbove0 } from '#core/shared/check.ts';
import { yardageRules } from '#core/yardage/rules.ts';

/** The first foot as it lies flat before it is sewn: how wide so many stitches are, how long ten rows, perhaps its weight. */
export type FirstFoot = {
  readonly stitches: number;
  readonly widthMm: number;
  readonly tenRowsMm: number;
  /** Of the whole piece with its tails; null when it was not weighed. */
  readonly massG: number | null;
};

/** What the whole piece was knitted from, by its card. */
export type FootCounts = {
  readonly castOnStitches: number;
  /** Loops of the whole piece against its cast-on: rows before the toe, the cast-on row, and the toe's share. */
  readonly loops: number;
  /** Tails that the weight holds besides the cast-on tail, m. */
  readonly otherTailsM: number;
  /** Grams in 1000 m of all strands together. */
  readonly tex: number;
};

/** A foot as a swatch: counts over lengths, of the whole piece when it was weighed. */
export type FootSwatch = {
  readonly stitches: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly massG: number | null;
};

const atHundredth = (value: number) => Math.round(value * 100) / 100;

/**
 * The swatch that a first foot is. Unweighed: the stitches over their width, ten rows over their length. Weighed: the
 * whole piece at that gauge, its loops written as so many whole rows, and its weight less the yarn in the tails, so that
 * weight over loops is the yarn in one stitch.
 *
 * @param foot measures as entered, above 0
 * @param counts what the card said
 * Source: our own choice; tails as the yardage reckons them
 * @throws {RangeError} when a measure is not above 0
 * @example swatchOfFirstFoot({ stitches: 28, widthMm: 210, tenRowsMm: 55, massG: null }, { castOnStitches: 28, loops: 1192.8, otherTailsM: 0.2, tex: 1000 }) // => { stitches: 28, rows: 10, widthMm: 210, heightMm: 55, massG: null }
 * @example swatchOfFirstFoot({ stitches: 28, widthMm: 210, tenRowsMm: 55, massG: 37.5 }, { castOnStitches: 28, loops: 1192.8, otherTailsM: 0.2, tex: 1000 }) // => { stitches: 28, rows: 42.6, widthMm: 210, heightMm: 234.3, massG: 36.52 }
 */
export function swatchOfFirstFoot(foot: FirstFoot, counts: FootCounts): FootSwatch {
  const stitches = requireAbove0('swatchOfFirstFoot: stitches', foot.stitches);
  const widthMm = requireAbove0('swatchOfFirstFoot: widthMm', foot.widthMm);
  const tenRowsMm = requireAbove0('swatchOfFirstFoot: tenRowsMm', foot.tenRowsMm);
  if (foot.massG === null) return { stitches, rows: 10, widthMm, heightMm: tenRowsMm, massG: null };
  const { castOnStitches, loops, otherTailsM, tex } = counts;
  const rows = atHundredth(loops / castOnStitches);
  const tailsM = yardageRules.castOnTail.formula(castOnStitches, (stitches * 100) / widthMm) + otherTailsM;
  return {
    stitches: castOnStitches,
    rows,
    widthMm: atHundredth((widthMm * castOnStitches) / stitches),
    heightMm: atHundredth((tenRowsMm / 10) * rows),
    massG: atHundredth(requireAbove0('swatchOfFirstFoot: massG', foot.massG) - (tailsM * tex) / 1000),
  };
}
