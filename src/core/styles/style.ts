/**
 * A style is data: pieces of sections, edges split by marks, joins and checks, lengths as sums of body measures.
 * This file holds the words of the format (number 1); `interpret.ts` knits it, `read-style.ts` checks it.
 */
export const styleFormat = 1;

export type Side = 'right side' | 'wrong side';
export type BodyMeasure = 'footLength' | 'ballGirth' | 'heelAnkleGirth' | 'cuffHeight';
/** A number of the body, or the name of one of the style's settings. */
export type Factor = number | string;

/** A length in mm: the sum of body measures times factors and of fixed millimetres. */
export type LengthRule = {
  readonly sum: readonly ({ readonly of: BodyMeasure; readonly times: Factor } | { readonly mm: Factor })[];
};

/** An edge: `foot.start`, `foot.left`, or a part split off by a mark, `foot.left.open`, `foot.left.rest`. */
export type EdgeName = string;

/** Stitches to cast on, or to change to. Exactly one of `across` (a length) or `alongEdge` (edges to be met). */
export type StitchRule = {
  readonly across?: string;
  readonly alongEdge?: readonly EdgeName[];
  readonly fabric: string;
  /** How many of the piece's side edges are taken into a seam; 2 adds twice the seam's `takes`. */
  readonly edges: number;
  readonly repeat: number;
  readonly plus: number;
  readonly least: number;
  /** Name of a check: add one repeat until it holds. */
  readonly raiseUntil?: string;
};

export type RowRule =
  | { readonly count: Factor }
  | {
      readonly along: string;
      /** Rows of these named sections lie within the length already. */
      readonly lessRows: readonly string[];
      readonly endAfter: Side;
      readonly least: number;
    };

export type CastOn = {
  readonly name: string;
  readonly do: 'castOn';
  readonly colour: string;
  readonly next: Side;
  readonly stitches: StitchRule;
};

/** Stitches taken up along edges of pieces already worked, so many to so many rows; a piece of its own begins there. */
export type PickUp = {
  readonly name: string;
  readonly do: 'pickUp';
  readonly colour: string;
  readonly next: Side;
  readonly stitches: StitchRule & { readonly alongEdge: readonly EdgeName[] };
};

export type Work = {
  readonly name: string;
  readonly do: 'work';
  readonly colour: string;
  readonly fabric: string;
  readonly firstRow?: 'plain';
  readonly rows: RowRule;
  /** By turns so many rows in its own colour and so many in another; good for using up ends of yarn. */
  readonly stripes?: { readonly colour: string; readonly rows: number };
};

export type Change =
  | {
      readonly name: string;
      readonly do: 'change';
      readonly colour: string;
      readonly how: 'two together across';
      readonly repeatWhileAbove: Factor;
      readonly plainRowsBetween: number;
    }
  | {
      readonly name: string;
      readonly do: 'change';
      readonly colour: string;
      /** Decreases at the middle or at both edges, `by` stitches each time, every so many rows. */
      readonly how: 'centre' | 'edges';
      readonly fabric: string;
      readonly by: number;
      readonly everyRows: number;
      readonly to: StitchRule;
    }
  | {
      readonly name: string;
      readonly do: 'change';
      readonly colour: string;
      /** One row that increases or decreases evenly. */
      readonly how: 'evenly';
      readonly fabric: string;
      readonly to: StitchRule;
    };

export type DrawUp = { readonly name: string; readonly do: 'drawUp'; readonly colour: string };
export type BindOff = {
  readonly name: string;
  readonly do: 'bindOff';
  readonly colour: string;
  readonly loose: boolean;
};

export type Section = CastOn | PickUp | Work | Change | DrawUp | BindOff;

export type Piece = {
  readonly name: string;
  readonly isOptional: boolean;
  /** The role whose strands give the piece its gauge. */
  readonly gaugeOf: string;
  readonly sections: readonly Section[];
};

/** Splits edges at a row: the part before is `.<name>`, the part after `.rest`. */
export type Mark = {
  readonly name: string;
  readonly edges: readonly EdgeName[];
  /** Share of all rows that lies before it (`oneLess: setting` is 1 - setting), or the end of a named section. */
  readonly to: Factor | { readonly oneLess: Factor } | { readonly after: string };
  readonly raiseUntil?: string;
};

/** A seam. `takes` is the stitches it swallows at each edge; null takes the workshop's rule by yarn thickness. */
export type Join = {
  readonly name: string;
  readonly fold?: EdgeName;
  readonly edges?: readonly [readonly EdgeName[], readonly EdgeName[]];
  readonly colour: string;
  readonly takes: number | null;
  /** Sewn with a tail that is there already, so that it brings no two ends of its own. */
  readonly withTail?: string;
  readonly place?: string;
};

export type Check =
  | {
      readonly name: string;
      readonly edge: readonly EdgeName[];
      readonly stretch: number;
      readonly over: BodyMeasure;
      readonly otherwise: string;
    }
  | {
      readonly name: string;
      readonly ratio: readonly [readonly EdgeName[], readonly EdgeName[]];
      readonly between: readonly [number, number];
      readonly otherwise: string;
    };

export type StyleBody = {
  readonly style: string;
  readonly format: number;
  /** How many of each piece make a pair: two. */
  readonly make: number;
  readonly roles: readonly { readonly name: string; readonly words: string }[];
  readonly settings: Readonly<Record<string, number>>;
  readonly settingsForChild: Readonly<Record<string, number>>;
  readonly lengths: Readonly<Record<string, LengthRule>>;
  readonly pieces: readonly Piece[];
  readonly marks: readonly Mark[];
  readonly joins: readonly Join[];
  readonly checks: readonly Check[];
};

/** A style version, ready to knit. */
export type Style = { readonly versionId: number; readonly name: string; readonly body: StyleBody };
