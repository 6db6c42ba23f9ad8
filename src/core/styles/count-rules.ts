import { rule } from '#core/shared/figure.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** The formulas that turn lengths into whole stitches and rows; `work-out.ts` calls them. */

/**
 * Our own safety where the heel-ankle girth is estimated: 1.645 x the regressions' residual sd of about 9.6 mm, which lets
 * nineteen feet in twenty through; whole rows and repeats let nearly all of the rest in.
 */
export const girthSafetyMm = 16;

/** The drawn-up toe shortens the flat slipper by this share of its width. Our own choice, about the published -10 mm. */
const drawUpShortens = 0.06;

/**
 * The nearest whole number of a given parity, ties going up.
 *
 * @param value finite
 * @param isOdd true for odd, false for even
 * @example nearestOfParity(41.2, true) // => 41
 * @example nearestOfParity(42, true) // => 43
 * @example nearestOfParity(6.6, false) // => 6
 */
export function nearestOfParity(value: number, isOdd: boolean): number {
  const shift = isOdd ? 1 : 0;
  return 2 * roundHalfUp((value - shift) / 2) + shift;
}

export const countRules = {
  easedGirth: rule(
    {
      name: 'width wished',
      unit: 'mm',
      mark: 'ours',
      source: 'ease by yarn: -7 % (child -5 %) in thick yarn is our choice, -10 % in sock yarn published custom',
      words: '{ball girth} x ({girth factor} + {fit})',
    },
    (girth: number, factor: number, fit: number) => girth * (factor + fit),
  ),
  share: rule(
    { name: 'length wished', unit: 'mm', mark: 'ours', source: 'the style', words: '{measure} x {share}' },
    (measure: number, share: number) => measure * share,
  ),
  stitches: rule(
    {
      name: 'stitches',
      unit: 'stitches',
      mark: 'ours',
      source: 'the definition of gauge; rounding is our own choice: nearest that the repeat allows, ties up',
      words:
        'whole repeats of {repeat}, and {plus} more, nearest to {width} x {stitches in 10 cm} / 100 + {seam stitches}; never fewer than {fewest allowed}',
    },
    (repeat: number, plus: number, widthMm: number, per10Cm: number, seam: number, least: number) => {
      const wished = (widthMm * per10Cm) / 100 + seam;
      const count = roundHalfUp((wished - plus) / repeat) * repeat + plus;
      const leastOfRepeat = Math.ceil((least - plus) / repeat) * repeat + plus;
      return Math.max(count, leastOfRepeat);
    },
  ),
  plainStitches: rule(
    {
      name: 'stitches',
      unit: 'stitches',
      mark: 'ours',
      source: 'the definition of gauge; rounding is our own choice: nearest, ties up',
      words:
        'nearest whole number to {width} x {stitches in 10 cm} / 100 + {seam stitches}; never fewer than {fewest allowed}',
    },
    (widthMm: number, per10Cm: number, seam: number, least: number) =>
      Math.max(roundHalfUp((widthMm * per10Cm) / 100 + seam), Math.ceil(least)),
  ),
  raised: rule(
    {
      name: 'stitches after the heel check',
      unit: 'stitches',
      mark: 'ours',
      source: 'one repeat more until the stretched edge passes the heel',
      words: '{stitches} + {repeats added} x {repeat}',
    },
    (stitches: number, added: number, repeat: number) => stitches + added * repeat,
  ),
  oddRows: rule(
    {
      name: 'rows',
      unit: 'rows',
      mark: 'trade',
      source: 'the definition of gauge; odd, since the first and the last row are wrong-side rows (common practice)',
      words:
        'nearest odd to {length} x {rows in 10 cm} / 100 - {rows already there}; never fewer than {fewest allowed}',
    },
    (lengthMm: number, per10Cm: number, already: number, least: number) => {
      const count = nearestOfParity((lengthMm * per10Cm) / 100 - already, true);
      return Math.max(count, least % 2 === 1 ? least : least + 1);
    },
  ),
  evenRows: rule(
    {
      name: 'rows',
      unit: 'rows',
      mark: 'trade',
      source: 'the definition of gauge; even, so that the last row is the one the next step needs (common practice)',
      words:
        'nearest even to {length} x {rows in 10 cm} / 100 - {rows already there}; never fewer than {fewest allowed}',
    },
    (lengthMm: number, per10Cm: number, already: number, least: number) => {
      const count = nearestOfParity((lengthMm * per10Cm) / 100 - already, false);
      return Math.max(count, least % 2 === 0 ? least : least + 1);
    },
  ),
  markRows: rule(
    {
      name: 'rows to the mark',
      unit: 'rows',
      mark: 'trade',
      source: 'the top seam closes half the rows (common practice); rows are added until the heel passes (our choice)',
      words: 'nearest to {all rows} x {share left open} + {rows added for the heel}',
    },
    (allRows: number, openShare: number, added: number) => roundHalfUp(allRows * openShare) + added,
  ),
  flatWidth: rule(
    {
      name: 'flat width',
      unit: 'mm',
      mark: 'ours',
      source: 'the definition of gauge, less what the seams take',
      words: '({stitches} - {seam stitches}) x 100 / {stitches in 10 cm}',
    },
    (stitches: number, seam: number, per10Cm: number) => ((stitches - seam) * 100) / per10Cm,
  ),
  flatLength: rule(
    {
      name: 'flat length',
      unit: 'mm',
      mark: 'ours',
      source: 'the definition of gauge',
      words: '{rows} x 100 / {rows in 10 cm}',
    },
    (rows: number, per10Cm: number) => (rows * 100) / per10Cm,
  ),
  opening: rule(
    {
      name: 'opening edge',
      unit: 'mm',
      mark: 'ours',
      source: 'both sides from the cast-on to the mark',
      words: '2 x {rows to the mark} x 100 / {rows in 10 cm}',
    },
    (rows: number, per10Cm: number) => (2 * rows * 100) / per10Cm,
  ),
  needed: rule(
    {
      name: 'heel to pass',
      unit: 'mm',
      mark: 'ours',
      source: 'an estimated girth gets 16 mm more for safety (1.645 x its residual sd), a measured one nothing',
      words: '{heel-ankle girth} + {safety}',
    },
    (girth: number, safety: number) => girth + safety,
  ),
  markAfter: rule(
    {
      name: 'rows to the mark',
      unit: 'rows',
      mark: 'ours',
      source: 'the mark stands where the step ends; rows are added until the heel passes',
      words: '{rows to the end of the step} + {rows added for the heel}',
    },
    (rows: number, added: number) => rows + added,
  ),
  bothSides: rule(
    {
      name: 'opening edge',
      unit: 'mm',
      mark: 'ours',
      source: 'both sides from the cast-on to the mark',
      words: '2 x {length to the mark}',
    },
    (lengthMm: number) => 2 * lengthMm,
  ),
  half: rule(
    { name: 'half the edge', unit: 'mm', mark: 'ours', source: 'folded and sewn to itself', words: '{edge} / 2' },
    (edge: number) => edge / 2,
  ),
  rest: rule(
    {
      name: 'edge beyond the mark',
      unit: 'mm',
      mark: 'ours',
      source: 'what the opening leaves of the side',
      words: '{flat length} - {length to the mark}',
    },
    (length: number, toMark: number) => length - toMark,
  ),
  rowsOfStitches: rule(
    {
      name: 'rows in 10 cm',
      unit: 'per 10 cm',
      mark: 'published',
      source: 'the fabric: so many rows to a stitch make a square',
      words: '{stitches in 10 cm} x {rows to a stitch}',
    },
    (stitches: number, rowsPerStitch: number) => stitches * rowsPerStitch,
  ),
  heelToToe: rule(
    {
      name: 'heel to toe, lying flat',
      unit: 'mm',
      mark: 'ours',
      source: 'the drawn-up toe shortens by 0.06 of the width, near the published sock custom of 10 mm',
      words: '{flat length} - 0.06 x {flat width}',
    },
    (length: number, width: number) => length - drawUpShortens * width,
  ),
  ease: rule(
    {
      name: 'ease really got',
      unit: 'percent',
      mark: 'ours',
      source: 'signed as in the trade: smaller than the body is minus',
      words: '{finished} / {body} - 1',
    },
    (finished: number, body: number) => finished / body - 1,
  ),
  relaxed: rule(
    {
      name: 'width at rest',
      unit: 'mm',
      mark: 'ours',
      source: 'ribs pull in: 0.615 of flat for 2x2, 0.70 for 1x1 (from published rib tests)',
      words: '{flat width} x {width at rest ratio}',
    },
    (width: number, ratio: number) => width * ratio,
  ),
};
