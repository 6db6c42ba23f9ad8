import type { UnitSystem } from '#core/shared/measures.ts';
import type { Person } from '#core/sizing/foot.ts';
import type { Spec } from '#core/styles/spec.ts';
import type { StyleBody } from '#core/styles/style.ts';

/** British or American knitting words. */
export type KnittingWords = 'british' | 'american';

/** One strand of a role: its colour and yarn, and the grams of it to weigh out for the pair. */
export type CardStrand = {
  readonly role: string;
  readonly strand: number;
  readonly yarnColourId: number;
  readonly colour: string;
  readonly yarn: string;
  /** Null when unknown. */
  readonly fibre: string | null;
  readonly hexes: readonly string[];
  readonly tex: number;
  readonly ballMg: number;
  readonly mg: number;
};

/** All that a card is made from. */
export type CardInput = {
  readonly body: StyleBody;
  readonly spec: Spec;
  readonly person: Person;
  readonly footLengthMm: number;
  readonly cuffHeightMm: number;
  readonly words: KnittingWords;
  readonly unitSystem: UnitSystem;
  /** In the order of the style's roles, then strands. */
  readonly strands: readonly CardStrand[];
  /** Needle of each piece by name. */
  readonly needlesMm: Readonly<Record<string, number>>;
};

/** What to do in one go. `rows` is 0 where none is worked; rows are numbered from the cast-on, which is row 1. */
export type CardStep = {
  readonly key: string;
  readonly words: string;
  readonly rows: number;
  readonly fromRow: number | null;
  readonly toRow: number | null;
};

/** Something to do or see at a row: shown in the strip of rows, and on the phone when it comes. */
export type RowMark = {
  readonly row: number;
  readonly is: 'mark' | 'colour' | 'shaping';
  /** One or two words beside the strip. */
  readonly label: string;
  /** The whole of it. */
  readonly words: string;
};

/** A stretch of a flat piece from the cast-on up, mm. */
export type FlatPart = {
  readonly role: string;
  readonly fabric: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly startMm: number;
  readonly endMm: number;
  readonly rows: number;
  readonly rowMm: number;
  readonly stitches: number;
  /** Drawn together at its end rather than straight. */
  readonly isGathered: boolean;
};

/** The outline of a flat piece. */
export type FlatPlan = {
  readonly parts: readonly FlatPart[];
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly markMm: number | null;
};

export type CardPiece = {
  readonly name: string;
  readonly title: string;
  readonly castOnStitches: number;
  readonly lastStitches: number;
  readonly rows: number;
  readonly steps: readonly CardStep[];
  readonly marks: readonly RowMark[];
  readonly plan: FlatPlan;
  /** Words for the drawing: "28 sts", "20.8 cm" and so on follow from these. */
  readonly markRow: number | null;
  readonly endsDrawnUp: boolean;
};

/** One slipper, or both where they are alike. */
export type CardSlipper = {
  readonly foot: 'both' | 'left' | 'right';
  readonly title: string;
  readonly pieces: readonly CardPiece[];
};

/** The colours of a role, or of several that share them, as one chip. */
export type CardColour = {
  readonly roles: readonly string[];
  readonly words: string;
  readonly name: string;
  readonly yarn: string;
  readonly hexes: readonly string[];
};

/** Grams of a colour to weigh out for both pieces of a pair. */
export type CardWeight = {
  readonly piece: string;
  readonly pieceWords: string;
  readonly yarnColourId: number;
  readonly colour: string;
  readonly grams: number;
};

/** The shape of the finished slipper from the side. */
export type Silhouette = {
  readonly kind: 'slipper' | 'boot' | 'tube';
  readonly lengthMm: number;
  readonly heightMm: number;
  /** Share of the length that is open from the heel on. */
  readonly openRatio: number;
  /** Parts along the foot by share of its length, heel to toe. */
  readonly foot: readonly { readonly role: string; readonly fabric: string; readonly share: number }[];
  readonly cuff: {
    readonly heightMm: number;
    readonly isTurnedDown: boolean;
    /** Bands from the foot upward by share of the height. */
    readonly bands: readonly { readonly role: string; readonly share: number }[];
  } | null;
};

export type CardTotals = { readonly yarnColourId: number; readonly colour: string; readonly grams: number };

/** A knitting card: everything on the sheet but who and for whom. */
export type Card = {
  readonly words: KnittingWords;
  readonly title: string;
  readonly colours: readonly CardColour[];
  readonly weights: readonly CardWeight[];
  readonly totals: readonly CardTotals[];
  readonly needles: readonly string[];
  readonly gauge: { readonly name: string; readonly words: string; readonly isGuess: boolean };
  readonly slippers: readonly CardSlipper[];
  readonly sewing: readonly CardStep[];
  /** The seams in one line, for a small card. */
  readonly sewingShort: string;
  readonly finishing: readonly CardStep[];
  readonly cautions: readonly string[];
  readonly abbreviations: readonly string[];
  /** What the finished slipper measures, each with its name; of both slippers where they differ, the left one first. */
  readonly measures: readonly { readonly foot: CardSlipper['foot']; readonly name: string; readonly mm: number }[];
  readonly silhouette: Silhouette;
};
