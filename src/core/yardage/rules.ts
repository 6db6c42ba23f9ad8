import { rule } from '#core/shared/figure.ts';

/** Yarn that every tail, seam and end takes. Lengths in mm or as multiples of the width or length they belong to. */

/** Long-tail cast-on: tail 3 times the width and 150 mm. Source: published tuition (3 x width, several authors). */
export const castOnTailTimes = 3;
/** Bind-off: 5 times the width. Source: published tuition, 3 to 6; one measured 4.6. */
export const bindOffTimes = 5;
/** Seams: twice their length. From memory, 1.5 to 3; no written source found. */
export const seamTimes = 2;
/** Any other end left to weave in, mm. Source: published tuition, 6 inches each end of a join. */
export const endMm = 150;
/** Tail drawn through the last stitches, mm. Our own choice. */
export const drawUpMm = 200;
/** Loops of a two-together row against plain ones. Our own choice. */
export const shapedLoopFactor = 1.2;

export const yardageRules = {
  loops: rule(
    {
      name: 'loops',
      unit: 'loops',
      mark: 'ours',
      source: 'counting',
      words: '{stitches} x {rows}',
    },
    (stitches: number, rows: number) => stitches * rows,
  ),
  section: rule(
    {
      name: 'yarn in the loops',
      unit: 'm',
      mark: 'ours',
      source: 'loops made times the yarn in one',
      words: '{loops} x {yarn in one stitch} x {fabric} / 100',
    },
    (loops: number, loopCm: number, factor: number) => (loops * loopCm * factor) / 100,
  ),
  castOnTail: rule(
    {
      name: 'cast-on tail',
      unit: 'm',
      mark: 'published',
      source: 'long-tail cast-on: 3 times the width and a hand of yarn (knitting tuition, several authors)',
      words: '(3 x {stitches} x 100 / {stitches in 10 cm} + 150) / 1000',
    },
    (stitches: number, per10Cm: number) => ((castOnTailTimes * stitches * 100) / per10Cm + endMm) / 1000,
  ),
  bindOff: rule(
    {
      name: 'bind-off',
      unit: 'm',
      mark: 'published',
      source: 'binding off takes 3 to 6 times the width (knitting tuition); 5 chosen, and an end of 150 mm',
      words: '(5 x {stitches} x 100 / {stitches in 10 cm} + 150) / 1000',
    },
    (stitches: number, per10Cm: number) => ((bindOffTimes * stitches * 100) / per10Cm + endMm) / 1000,
  ),
  seam: rule(
    {
      name: 'seam',
      unit: 'm',
      mark: 'memory',
      source: 'twice the longer edge, from memory (1.5 to 3 times); a fresh thread brings two ends of 150 mm',
      words: '(2 x {seam length} + 150 x {ends}) / 1000',
    },
    (lengthMm: number, ends: number) => (seamTimes * lengthMm + endMm * ends) / 1000,
  ),
  makes: rule(
    {
      name: 'yarn for both slippers',
      unit: 'm',
      mark: 'ours',
      source: 'counting',
      words: '{slippers} x {yarn for one slipper}',
    },
    (make: number, metres: number) => make * metres,
  ),
  withJoins: rule(
    {
      name: 'yarn for a pair with ball joins',
      unit: 'm',
      mark: 'published',
      source: 'joining a new ball leaves two ends of 15 cm (knitting tuition); one join per ball finished',
      words: '{yarn for both slippers} x (1 + {tex} / 1000 / {ball} x 0.3)',
    },
    (metres: number, tex: number, ballG: number) => metres * (1 + (tex / 1000 / ballG) * ((2 * endMm) / 1000)),
  ),
  grams: rule(
    {
      name: 'weight',
      unit: 'g',
      mark: 'published',
      source: 'tex is grams in 1000 m (ISO 1144)',
      words: '{metres} x {tex} / 1000',
    },
    (metres: number, tex: number) => (metres * tex) / 1000,
  ),
};

/**
 * Grams of a length of yarn.
 *
 * @param metres at least 0
 * @param tex grams in 1000 m, above 0
 * Source: the tex system, ISO 1144
 * @example gramsOf(100, 1000) // => 100
 * @example gramsOf(0, 500) // => 0
 */
export function gramsOf(metres: number, tex: number): number {
  return yardageRules.grams.formula(metres, tex);
}

/**
 * tex of a yarn sold by metres in 100 g.
 *
 * @param metresPer100G above 0
 * Source: ISO 1144; tex = 100 000 / (metres per 100 g)
 * @example texFromMetres(200) // => 500
 * @example texFromMetres(100) // => 1000
 */
export function texFromMetres(metresPer100G: number): number {
  return 100_000 / metresPer100G;
}
