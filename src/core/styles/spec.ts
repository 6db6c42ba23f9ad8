import type { Estimate } from '#core/shared/estimate.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Side } from '#core/styles/style.ts';

/** What the knitter does in one section, in whole stitches and rows. */
export type SectionCounts = {
  readonly name: string;
  /** Which step of the style's piece this is, 0 first; the stripes of one step have one number. */
  readonly step: number;
  readonly do: 'castOn' | 'pickUp' | 'work' | 'change' | 'drawUp' | 'bindOff';
  /** How stitches change, for `change`. */
  readonly how: 'two together across' | 'centre' | 'edges' | 'evenly' | null;
  readonly role: string;
  readonly fabric: string | null;
  readonly stitchesBefore: number;
  readonly stitchesAfter: number;
  readonly rows: number;
  readonly startsOn: Side | null;
};

/** One flat piece: its sections and its flat measures, mm. */
export type PieceCounts = {
  readonly name: string;
  readonly castOnStitches: number;
  readonly totalRows: number;
  readonly lastStitches: number;
  readonly stitchesPer10Cm: number;
  readonly rowsPer10Cm: number;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly sections: readonly SectionCounts[];
};

/** Yarn of one pair in one role, strand and fabric, metres of that one strand. */
export type ColourMetres = {
  readonly role: string;
  readonly strand: number;
  readonly fabric: string;
  readonly metres: Estimate;
};

/** All handwork of one pair, counted; timing turns it into minutes. */
export type Operations = {
  /** Stitches worked, by fabric. */
  readonly stitches: Readonly<Record<string, number>>;
  readonly castOnStitches: number;
  readonly twoTogetherStitches: number;
  readonly bindOffStitches: number;
  readonly rowTurns: number;
  readonly seamMm: number;
  readonly ends: number;
  readonly colourChanges: number;
  readonly drawUps: number;
  readonly piecesBegun: number;
  /** Two strands or more, or needles from 6.5 mm: slower to work. */
  readonly isBulky: boolean;
};

/** The finished slipper's measures, mm, after rounding to whole stitches and rows. */
export type FinishedMeasures = {
  readonly widthMm: number;
  readonly lengthMm: number;
  /** Heel to toe lying flat, after drawing up. */
  readonly heelToToeMm: number;
  readonly openingMm: number;
  readonly cuffFlatMm: number | null;
  readonly cuffRelaxedMm: number | null;
  readonly cuffHeightMm: number | null;
  readonly markRows: number;
  /** Finished width against ball girth, and length against the length wished, signed: -0.07 is 7 % smaller. */
  readonly girthEaseRatio: number;
  readonly lengthEaseRatio: number;
};

/** What one hand knits for one shape: counts, yarn, handwork, and what to be wary of. A pair, both slippers. */
export type Spec = {
  readonly shapeKey: string;
  readonly handKey: string;
  readonly pieces: readonly PieceCounts[];
  readonly measures: FinishedMeasures;
  /** The right slipper where the feet differ; `pieces` and `measures` are then the left one's. */
  readonly right: { readonly pieces: readonly PieceCounts[]; readonly measures: FinishedMeasures } | null;
  readonly metres: readonly ColourMetres[];
  readonly operations: Operations;
  readonly isGaugeGuessed: boolean;
  readonly warnings: readonly Problem[];
};
