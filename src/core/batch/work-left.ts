import type { PieceCounts } from '#core/styles/spec.ts';

export type Stage = 'waiting' | 'begun' | 'done';

/** How far one piece of a pair is: the foot, the cuff, or the sewing up. */
export type PieceStage = { readonly piece: string; readonly stage: Stage };

/** Sewing up is the last piece of every pair. */
export const sewingUp = 'sewing up';

/** Share of a pair's work that is sewing up. Our own choice; the rest goes by stitches. */
const sewingUpShare = 0.15;

const shareLeft: Readonly<Record<Stage, number>> = { waiting: 1, begun: 0.5, done: 0 };

function stitchesOf(piece: Pick<PieceCounts, 'sections'>): number {
  return piece.sections.reduce((sum, section) => sum + Math.max(1, section.rows) * section.stitchesBefore, 0);
}

/**
 * The share of a pair's work still to do: pieces weigh by their stitches, sewing up is 15 % of the whole, and a piece
 * begun counts as half done. Pieces nobody counted weigh alike.
 *
 * @param stages every piece of the pair; an empty list means all is to do
 * @param pieces the pair's counts
 * @returns 0 when all is done, to 1
 * @example workLeft([], []) // => 1
 * @example workLeft([{ piece: 'foot', stage: 'done' }, { piece: 'sewing up', stage: 'waiting' }], []) // => 0.15
 * @example workLeft([{ piece: 'foot', stage: 'done' }, { piece: 'sewing up', stage: 'done' }], []) // => 0
 */
export function workLeft(
  stages: readonly PieceStage[],
  pieces: readonly Pick<PieceCounts, 'name' | 'sections'>[],
): number {
  const knitted = stages.filter(({ piece }) => piece !== sewingUp);
  if (knitted.length === 0) return 1;
  const weights = knitted.map(({ piece }) => {
    const counts = pieces.find(({ name }) => name === piece);
    return counts ? Math.max(1, stitchesOf(counts)) : 1;
  });
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const knittingLeft = knitted.reduce((sum, { stage }, index) => sum + weights[index]! * shareLeft[stage], 0) / all;
  const sewing = stages.find(({ piece }) => piece === sewingUp);
  return knittingLeft * (1 - sewingUpShare) + shareLeft[sewing?.stage ?? 'waiting'] * sewingUpShare;
}
