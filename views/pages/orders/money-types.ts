import type { OrderMoney, PaymentKind, PaymentWay } from '#core/pricing/order-money.ts';
import type { OrderWorth } from '#core/pricing/order-worth.ts';
import type { PostBy } from '#core/pricing/postage.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { FormValues } from '#views/pages/orders/types.ts';

/** The forms about money and the post on the page of an order. */
export type MoneyForm = 'payment' | 'extra' | 'prices' | 'postage' | 'posted' | 'cancel';

/** The form that was refused, as it was typed. */
export type RefusedForm = {
  readonly form: MoneyForm;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
};

export type MoneyLineProps = {
  readonly lineId: number;
  readonly version: number;
  readonly quantity: number;
  /** "woman EU 38". */
  readonly name: string;
  readonly colours: string;
  readonly outletCents: number | null;
  readonly eachCents: number | null;
  readonly cents: number;
  readonly isAgreed: boolean;
};

export type ExtraProps = {
  readonly id: number;
  readonly version: number;
  readonly name: string;
  readonly cents: number;
  readonly minutes: number;
  readonly materialCents: number;
};

export type PaymentProps = {
  readonly id: number;
  readonly day: Day;
  readonly kind: PaymentKind;
  readonly cents: number;
  readonly how: PaymentWay;
  readonly isStanding: boolean;
  readonly reversesId: number | null;
};

export type DestinationProps = {
  readonly name: string;
  readonly bandId: number;
  readonly parcels: readonly { readonly massG: number; readonly band: { readonly upToG: number } }[] | null;
  readonly cents: number;
  readonly days: number;
  readonly problem: string | null;
  readonly isClose: boolean;
};

export type PostProps = {
  readonly postageCents: number | null;
  readonly postDays: number | null;
  readonly arriveByDay: Day | null;
  readonly address: string | null;
  readonly postedDay: Day | null;
  readonly postBy: PostBy | null;
  /** The day its last pair is done; null while nobody can say, or nothing is left to knit. */
  readonly readyDay: Day | null;
  readonly massG: number;
  readonly packingG: number;
  readonly withoutMass: number;
  readonly destinations: readonly DestinationProps[];
};

export type OrderMoneyProps = {
  readonly orderId: number;
  readonly version: number;
  readonly state: 'asked' | 'agreed' | 'cancelled';
  /** Its pairs are finished or gone. */
  readonly isReady: boolean;
  readonly isGiving: boolean;
  readonly currency: string;
  readonly today: Day;
  readonly outletName: string;
  readonly outletKind: 'fair' | 'order' | 'shop' | 'gift';
  readonly isCharged: boolean;
  readonly money: OrderMoney;
  readonly lines: readonly MoneyLineProps[];
  readonly extras: readonly ExtraProps[];
  readonly payments: readonly PaymentProps[];
  readonly worth: OrderWorth | null;
  readonly isYarnPriceUnknown: boolean;
  readonly wageCents: number;
  readonly taxRatio: number;
  readonly isTaxIncluded: boolean;
  readonly seen: string;
  readonly usualExtras: readonly ExtraProps[];
  readonly post: PostProps;
  /** Somebody wishes to cancel it. */
  readonly isCancelling: boolean;
  readonly refused: RefusedForm | null;
};
