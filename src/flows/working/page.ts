import type { WorkingStep } from '#core/shared/working.ts';

export type WorkingTable = {
  readonly caption: string;
  readonly columns: readonly { readonly name: string; readonly kind?: 'heading' | 'number' | 'wide' }[];
  readonly rows: readonly (readonly string[])[];
  readonly footer?: readonly (string | null)[];
  /** Where the first cell of each row leads, in the order of `rows`; null where it leads nowhere. */
  readonly hrefs?: readonly (string | null)[];
};

/** Pages of the program that a working may belong to. */
export type WorkingArea = 'orders' | 'batch' | 'buying' | 'pricing' | 'sizing' | 'knitters';

/** All that the page of a working shows. */
export type WorkingPage = {
  /** "How 28 stitches come about". */
  readonly title: string;
  /** Whose and which: "Mrs Alder, woman EU 38, in Ada's hand". */
  readonly where: string;
  readonly current: WorkingArea;
  /** What the figure is, in a sentence. */
  readonly about: string;
  /** The figure as the other pages show it, "98 g"; null where there is no step. */
  readonly valueText: string | null;
  /** Null where a figure is explained by tables alone. */
  readonly step: WorkingStep | null;
  readonly tables: readonly WorkingTable[];
  readonly notes: readonly string[];
  readonly back: { readonly href: string; readonly words: string };
  /** The same figure in other hands. */
  readonly hands: readonly { readonly name: string; readonly href: string; readonly isOpen: boolean }[];
};
