import { fabricNamed } from '#core/styles/fabrics.ts';
import type { WorkedPiece } from '#core/styles/work-out.ts';
import { drawUpMm, shapedLoopFactor } from '#core/yardage/rules.ts';

/**
 * How many stocking loops the yarn of a piece is worth, tails left out: each fabric's loops by their length, two-together
 * ones a fifth longer.
 *
 * @param piece one piece as it was worked out
 */
export function loopsOfPiece(piece: WorkedPiece): number {
  return piece.sections.reduce(
    (sum, { section, stitchesBefore, rows, shaping }) => {
      if (section.do === 'work') return sum + stitchesBefore * rows * fabricNamed(section.fabric).loopFactor;
      if (section.do !== 'change' || shaping === null) return sum;
      const isAcross = section.how === 'two together across';
      return (
        sum +
        shaping.rows.reduce((loops, row) => {
          const together = isAcross && row.taken > 0 ? row.after : row.taken / 2;
          return loops + row.after + together * (shapedLoopFactor - 1);
        }, 0)
      );
    },
    piece.castOn.value, // the cast-on is a row of loops
  );
}

/** Yarn in the tail that draws a piece up, m; 0 where nothing is drawn up. */
export function drawUpTailM(piece: WorkedPiece): number {
  return piece.sections.some(({ section }) => section.do === 'drawUp') ? drawUpMm / 1000 : 0;
}
