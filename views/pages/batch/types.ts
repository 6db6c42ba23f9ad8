import type { Day } from '#core/shared/calendar.ts';
import type { LotName } from '#views/pages/shelf/yarn-words.ts';

export type ColourName = {
  readonly id: number;
  readonly name: string;
  readonly swatchHex: string;
  readonly yarn: { readonly name: string };
};

export type RoleColours = { readonly role: string; readonly words: string; readonly colours: readonly ColourName[] };

export type OrderName = {
  readonly id: number;
  readonly number: number;
  readonly customer: string | null;
  readonly outlet: { readonly name: string; readonly kind: string };
};

/** What is cast on and knitted for one slipper. */
export type FootCounts = {
  readonly castOn: number;
  readonly rows: number;
  readonly cuffStitches: number | null;
};

/** The left foot's counts, and the right one's where the feet differ. */
export type PairCounts = FootCounts & { readonly right: FootCounts | null };

export type PairView = PairCounts & {
  readonly id: number;
  readonly version: number;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly order: OrderName | null;
  readonly lineId: number | null;
  readonly isSpare: boolean;
  readonly quality: 'good' | 'second';
  readonly left: string | null;
  readonly isFinished: boolean;
  readonly pieces: readonly { readonly piece: string; readonly stage: 'waiting' | 'begun' | 'done' }[];
  readonly yarn: readonly {
    readonly colour: ColourName;
    readonly grams: number;
    readonly lot: LotName | null;
    readonly isHere: boolean;
  }[];
  readonly minutes: number;
  readonly finishDay: Day | null;
  readonly dueDay: Day | null;
};
