import type { FlatPlan } from '#core/cards/card.ts';
import { flatPlanOf } from '#core/cards/flat-plan.ts';
import type { Spec } from '#core/styles/spec.ts';
import type { StyleBody } from '#core/styles/style.ts';

/** One flat piece, ready to be drawn. */
export type FlatPieceView = {
  readonly name: string;
  readonly castOnStitches: number;
  readonly lastStitches: number;
  readonly rows: number;
  /** Row at which its edges are marked, from the cast-on; null without a mark. */
  readonly markRow: number | null;
  /** A toe: drawn lying, heel to the left; other pieces are drawn upright. */
  readonly endsDrawnUp: boolean;
  readonly plan: FlatPlan;
};

/** The flat pieces of a slipper, in the order they are knitted. */
export function flatPiecesOf(
  { pieces, measures }: Pick<Spec, 'pieces' | 'measures'>,
  body: StyleBody,
): FlatPieceView[] {
  const mark = body.marks[0];
  return pieces.map((piece) => {
    const isMarked = mark?.edges.some((edge) => edge.startsWith(`${piece.name}.`)) && measures.markRows > 0;
    const markRow = isMarked ? measures.markRows : null;
    const rules = body.pieces.find(({ name }) => name === piece.name);
    return {
      name: piece.name,
      castOnStitches: piece.castOnStitches,
      lastStitches: piece.lastStitches,
      rows: piece.totalRows,
      markRow,
      endsDrawnUp: piece.sections.at(-1)?.do === 'drawUp',
      plan: flatPlanOf(piece, rules, markRow),
    };
  });
}
