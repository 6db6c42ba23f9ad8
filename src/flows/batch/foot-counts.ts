import type { PieceCounts, Spec } from '#core/styles/spec.ts';

/** What is cast on and knitted for one slipper. */
export type FootCounts = {
  readonly castOn: number;
  readonly rows: number;
  /** Of the last piece where there are several; null without a cuff. */
  readonly cuffStitches: number | null;
};

/** The counts of a pair: the left foot's, and the right one's where they differ. */
export type PairCounts = FootCounts & { readonly right: FootCounts | null };

function footCountsOf(pieces: readonly PieceCounts[]): FootCounts {
  const foot = pieces[0]!;
  return {
    castOn: foot.castOnStitches,
    rows: foot.totalRows,
    cuffStitches: pieces.length > 1 ? pieces.at(-1)!.castOnStitches : null,
  };
}

/** The counts that lists show of a pair. */
export function pairCountsOf({ pieces, right }: Pick<Spec, 'pieces' | 'right'>): PairCounts {
  // Pairs begun before the feet could differ have no right one at all.
  return { ...footCountsOf(pieces), right: right ? footCountsOf(right.pieces) : null };
}
