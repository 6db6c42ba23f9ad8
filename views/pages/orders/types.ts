import type { Day } from '#core/shared/calendar.ts';

/** What was typed or is shown at first, by field name. */
export type FormValues = Readonly<Record<string, string>>;

export type ColourView = {
  readonly role: string;
  readonly words: string;
  readonly name: string;
  readonly yarnName: string;
  readonly hexes: readonly string[];
};

export type Progress = {
  readonly ordered: number;
  readonly inBatch: number;
  readonly done: number;
  readonly handedOver: number;
};

export type LineView = {
  readonly id: number;
  readonly version: number;
  readonly quantity: number;
  readonly size: string;
  readonly fit: string;
  readonly cuff: string;
  readonly styleName: string;
  readonly isUsualStyle: boolean;
  readonly agreedCents: number | null;
  /** Who is to knit it; null for whoever has time. */
  readonly knitterName: string | null;
  readonly colours: readonly ColourView[];
  readonly progress: Progress;
};

export type OrderView = {
  readonly id: number;
  readonly number: number;
  readonly version: number;
  readonly customerName: string | null;
  readonly outletName: string;
  readonly createdDay: Day;
  readonly dueDay: Day | null;
  readonly reference: string | null;
  readonly state: 'asked' | 'agreed' | 'cancelled';
  readonly stateWords: string;
  readonly isOverdue: boolean;
  readonly lines: readonly LineView[];
  readonly progress: Progress;
};

/** The names that the forms offer. */
export type FormNames = {
  readonly styles: readonly {
    readonly id: number;
    readonly name: string;
    readonly hasCuff: boolean;
    /** Its colours, the main one first. */
    readonly roles: readonly { readonly name: string; readonly words: string }[];
  }[];
  readonly roles: readonly { readonly name: string; readonly words: string }[];
  readonly outlets: readonly { readonly id: number; readonly name: string }[];
  readonly colours: readonly {
    readonly id: number;
    readonly name: string;
    readonly yarnId: number;
    readonly yarnName: string;
    readonly hexes: readonly string[];
  }[];
  readonly bands: readonly { readonly id: number; readonly name: string; readonly person: string }[];
  readonly customers: readonly { readonly name: string }[];
  readonly knitters: readonly { readonly id: number; readonly name: string }[];
  readonly systems: readonly string[];
  readonly currency: string;
  readonly unitSystem: 'metric' | 'imperial';
  readonly purpose: 'sell' | 'order' | 'give';
};
