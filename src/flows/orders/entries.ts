import type { Day } from '#core/shared/calendar.ts';
import type { Fit, Person } from '#core/sizing/foot.ts';
import type { SizeSystem } from '#core/sizing/labels.ts';
import type { NewLineColour } from '#db/stores/orders.ts';

/**
 * How somebody said what size is wanted. Measured feet have girths only where a tape was put round them; a child's age is
 * in completed years.
 */
export type SizeEntry =
  | { readonly by: 'label'; readonly person: Person; readonly system: SizeSystem; readonly label: string }
  | { readonly by: 'band'; readonly bandId: number }
  | {
      readonly by: 'foot';
      readonly person: Person;
      readonly leftLengthMm: number;
      readonly rightLengthMm: number;
      readonly leftBallGirthMm: number | null;
      readonly rightBallGirthMm: number | null;
      readonly leftHeelAnkleGirthMm: number | null;
      readonly rightHeelAnkleGirthMm: number | null;
    }
  | { readonly by: 'age'; readonly years: number };

/** One line as it was entered and found good; it can be stored as it stands. */
export type LineEntry = {
  readonly styleId: number;
  readonly size: SizeEntry;
  readonly fit: Fit;
  /** Null for the style's own short cuff, 0 for none. */
  readonly cuffHeightMm: number | null;
  readonly quantity: number;
  /** What was agreed for one pair; null for the price of the price sheet. */
  readonly agreedCents: number | null;
  /** Who is to knit it; null when whoever has time may. */
  readonly knitterId: number | null;
  readonly colours: readonly NewLineColour[];
};

export type OrderState = 'asked' | 'agreed' | 'cancelled';

/** An order without its lines. */
export type OrderDetails = {
  /** Null for stock, or a customer whose name does not matter. */
  readonly customerName: string | null;
  readonly outletId: number;
  readonly dueDay: Day | null;
  readonly reference: string | null;
  readonly state: 'asked' | 'agreed';
} & PostDetails;

/** Where an order is posted to and by when; left out by what knows nothing of the post, a table of orders or a grid. */
export type PostDetails = { readonly arriveByDay?: Day | null; readonly address?: string | null };

export type OrderEntry = OrderDetails & { readonly lines: readonly LineEntry[] };
