import type { Day, Weekday } from '#core/shared/calendar.ts';

/** Handwork rates: stitches a minute at single-strand, thin-needle speed, and minutes for the rest. */
export type Rates = {
  readonly stitchesPerMin: number;
  readonly castOnPerMin: number;
  readonly twoTogetherPerMin: number;
  readonly bindOffPerMin: number;
  readonly turnMin: number;
  readonly seamMinPer10Cm: number;
  readonly endMin: number;
  readonly colourChangeMin: number;
  readonly drawUpMin: number;
  readonly setUpMin: number;
};

export type Knitter = {
  readonly id: number;
  readonly name: string;
  readonly handKey: string;
  readonly rates: Rates;
  /** Evening minutes by weekday, Monday first, seven entries; the daily cap is applied on top. */
  readonly minutesByWeekday: readonly number[];
  readonly dailyCapMin: number;
  /** "Two pairs a month" in place of hours; null when hours are given. */
  readonly pairsAMonth: number | null;
  readonly daysOff: readonly { readonly fromDay: Day; readonly toDay: Day }[];
  readonly lastDay: Day | null;
};

export const weekdays: readonly { readonly weekday: Weekday; readonly name: string }[] = [
  { weekday: 1, name: 'Monday' },
  { weekday: 2, name: 'Tuesday' },
  { weekday: 3, name: 'Wednesday' },
  { weekday: 4, name: 'Thursday' },
  { weekday: 5, name: 'Friday' },
  { weekday: 6, name: 'Saturday' },
  { weekday: 7, name: 'Sunday' },
];
