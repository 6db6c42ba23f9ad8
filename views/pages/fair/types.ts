import type { KindCounts } from '#core/fair/came-home.ts';
import type { DayAccount, PaidHow } from '#core/fair/day-account.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { RoleColours } from '#views/pages/batch/types.ts';

export type Values = Readonly<Record<string, string>>;

export type KindProps = {
  readonly key: string;
  readonly size: string;
  readonly colours: readonly RoleColours[];
  readonly words: string;
  readonly isSecond: boolean;
  readonly counts: KindCounts;
  readonly soldBy: Readonly<Record<PaidHow, number>>;
  readonly missing: number;
  readonly listCents: number | null;
};

export type SaleProps = {
  readonly id: number;
  readonly how: PaidHow;
  readonly lines: readonly {
    readonly what: string;
    readonly priceCents: number;
    readonly isPairKnown: boolean;
  }[];
};

export type FairProps = { readonly id: number; readonly name: string; readonly feeCents: number };

export type DayProps = {
  readonly id: number;
  readonly day: Day;
  readonly openMinutes: number | null;
  readonly floatCents: number;
  readonly cashCents: number | null;
  readonly version: number;
};

export type AskedProps = {
  readonly id: number;
  readonly size: string | null;
  readonly colour: string | null;
  readonly count: number;
};

export type DayViewProps = {
  readonly fair: FairProps;
  readonly day: DayProps;
  readonly outlet: {
    readonly id: number;
    readonly name: string;
    readonly isTaxIncluded: boolean;
    readonly taxRatio: number;
  };
  readonly dayNumber: number;
  readonly dayCount: number;
  readonly kinds: readonly KindProps[];
  readonly gone: readonly { readonly pairId: number; readonly words: string; readonly left: string }[];
  readonly sales: readonly SaleProps[];
  readonly takenBack: number;
  readonly asked: readonly AskedProps[];
  readonly account: DayAccount;
  readonly takenCount: number;
};

/** How it was paid, in words. */
export const howWords: Readonly<Record<PaidHow, string>> = { cash: 'cash', card: 'card', other: 'not known how' };

export const sum = (numbers: readonly number[]): number => numbers.reduce((total, each) => total + each, 0);
