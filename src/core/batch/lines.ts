import type { YarnsByRole } from '#core/gauge/hand.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Fit, Foot } from '#core/sizing/foot.ts';
import type { Style } from '#core/styles/style.ts';

/** Yarn colour ids for each role of a style, one per strand, in the order of the shape's yarns. */
export type ColoursByRole = Readonly<Record<string, readonly number[]>>;

/** All that decides the counts; no colour in it. `cuffHeightMm` 0 means no cuff. Equal keys mean equal shapes. */
export type Shape = {
  readonly key: string;
  readonly style: Style;
  /** The foot; the left one where the right one differs. */
  readonly foot: Foot;
  /** The right foot where it differs; null when both are alike. */
  readonly right: Foot | null;
  readonly fit: Fit;
  readonly yarns: YarnsByRole;
  readonly cuffHeightMm: number;
  /** True when every role has the same colours: no colour change, so no ends and no minutes for one. */
  readonly isOneColour: boolean;
};

/** A shape in its colours: what like pairs have in common. */
export type Kind = { readonly key: string; readonly shape: Shape; readonly colours: ColoursByRole };

/** One line of a customer's order, ready to plan. */
export type Line = {
  readonly id: number;
  readonly orderId: number;
  readonly orderNumber: number;
  readonly outletId: number;
  /** Position of the outlet among the workshop's, 0 first; breaks ties between equal due days. */
  readonly outletRank: number;
  readonly dueDay: Day | null;
  readonly quantity: number;
  readonly kind: Kind;
  /** Who is to knit its pairs; whoever has time where it is left out or null. */
  readonly pinnedKnitterId?: number | null;
  /** Whether its pairs may mix dye lots in a colour: pairs to give, where the workshop says so. */
  readonly mayMixLots?: boolean;
};

/** A finished pair that has not left, with the measures it really has. */
export type StockPair = {
  readonly id: number;
  readonly kind: Kind;
  /** Finished flat width and length of the foot piece, mm, as knitted. */
  readonly widthMm: number;
  readonly lengthMm: number;
};
