import { shareWithin } from '#core/pricing/share.ts';
import type { Day } from '#core/shared/calendar.ts';
import { requireWhole } from '#core/shared/check.ts';
import { splitCents, sumCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** Money that came in or went out on a day. What was paid back came in below nothing. */
export type Booking = {
  readonly day: Day;
  readonly what: string;
  /** The name of the outlet it belongs to; null for what belongs to none. */
  readonly outlet: string | null;
  readonly inCents: number;
  readonly outCents: number;
  /** Tax within what came in. */
  readonly taxCents: number;
};

export type BookSums = {
  readonly inCents: number;
  readonly outCents: number;
  readonly taxCents: number;
  /** What came in less what went out. */
  readonly leftCents: number;
};

/**
 * The sums of some bookings.
 *
 * @throws {RangeError} when an amount is not whole
 * @example sumBookings([{ day: '2026-11-01', what: 'sale', outlet: 'Fair', inCents: 4500, outCents: 79, taxCents: 0 }]) // => { inCents: 4500, outCents: 79, taxCents: 0, leftCents: 4421 }
 * @example sumBookings([]) // => { inCents: 0, outCents: 0, taxCents: 0, leftCents: 0 }
 */
export function sumBookings(bookings: readonly Booking[]): BookSums {
  const inCents = sumCents(bookings.map((booking) => booking.inCents));
  const outCents = sumCents(bookings.map((booking) => booking.outCents));
  return {
    inCents,
    outCents,
    taxCents: sumCents(bookings.map((each) => each.taxCents)),
    leftCents: inCents - outCents,
  };
}

/**
 * The months from one day to another, as `YYYY-MM`, both ends' months included.
 *
 * @param fromDay a day
 * @param toDay a day not before it; an earlier one gives no month
 * @example monthsBetween('2026-11-20', '2027-01-02') // => ['2026-11', '2026-12', '2027-01']
 * @example monthsBetween('2026-11-20', '2026-10-02') // => []
 */
export function monthsBetween(fromDay: Day, toDay: Day): string[] {
  const months: string[] = [];
  let [year, month] = [Number(fromDay.slice(0, 4)), Number(fromDay.slice(5, 7))];
  const last = toDay.slice(0, 7);
  for (;;) {
    const name = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}`;
    if (name > last) return months;
    months.push(name);
    [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
  }
}

/**
 * The bookings of a period, both ends included, by day; those of one day keep their order.
 *
 * @example inPeriod([{ day: '2026-11-02', what: 'b', outlet: null, inCents: 1, outCents: 0, taxCents: 0 }, { day: '2026-11-01', what: 'a', outlet: null, inCents: 1, outCents: 0, taxCents: 0 }], '2026-11-01', '2026-11-30').map((each) => each.what) // => ['a', 'b']
 */
export function inPeriod<T extends { readonly day: Day }>(
  bookings: readonly T[],
  fromDay: Day,
  toDay: Day,
): readonly T[] {
  return bookings
    .filter(({ day }) => day >= fromDay && day <= toDay)
    .sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}

/**
 * Sums by month: a month in which nothing was booked has its line too.
 *
 * @param bookings of the period alone
 * @example sumsByMonth([], '2026-11-01', '2026-11-30') // => [{ month: '2026-11', inCents: 0, outCents: 0, taxCents: 0, leftCents: 0 }]
 */
export function sumsByMonth(
  bookings: readonly Booking[],
  fromDay: Day,
  toDay: Day,
): readonly (BookSums & { readonly month: string })[] {
  return monthsBetween(fromDay, toDay).map((month) => ({
    month,
    ...sumBookings(bookings.filter(({ day }) => day.startsWith(month))),
  }));
}

/**
 * Sums by outlet, in the order in which they first occur; what belongs to none comes last.
 *
 * @example sumsByOutlet([{ day: '2026-11-01', what: 'yarn', outlet: null, inCents: 0, outCents: 620, taxCents: 0 }]) // => [{ outlet: null, inCents: 0, outCents: 620, taxCents: 0, leftCents: -620 }]
 */
export function sumsByOutlet(bookings: readonly Booking[]): readonly (BookSums & { readonly outlet: string | null })[] {
  const names = [...new Set(bookings.map(({ outlet }) => outlet))].sort(
    (a, b) => Number(a === null) - Number(b === null),
  );
  return names.map((outlet) => ({ outlet, ...sumBookings(bookings.filter((booking) => booking.outlet === outlet)) }));
}

/**
 * The tax within each of an order's payments, so that after every one the tax booked is the tax within all that was paid
 * by then: a deposit and a balance carry together the tax of the whole to the penny, and what is paid back takes its tax
 * along.
 *
 * @param paymentsCents in the order of days, whole minor units, paid back below 0
 * @param taxRatio rate on the price without tax, 0 to 10
 * @throws {RangeError} when an amount is not whole or the rate out of range
 * Source: tax on a cash basis is due with each payment; the cumulative rounding is our own choice
 * @example taxOfPayments([333, 666], 0.2) // => [56, 111], 167 within 999
 * @example taxOfPayments([1200, -1200], 0.2) // => [200, -200]
 */
export function taxOfPayments(paymentsCents: readonly number[], taxRatio: number): number[] {
  let [paid, booked] = [0, 0];
  return paymentsCents.map((cents) => {
    paid += requireWhole('taxOfPayments: paymentsCents', cents, Number.MIN_SAFE_INTEGER);
    const due = shareWithin(paid, taxRatio);
    const tax = due - booked;
    booked = due;
    return tax;
  });
}

/** What part of some income belongs to a style, and what went into it. */
export type StyleShare = {
  /** Null for what no style earned: extras, postage, sales whose pair is not known. */
  readonly style: string | null;
  readonly netCents: number;
  /** Yarn and materials, exact. */
  readonly costCents: number;
  readonly minutes: number;
  readonly pairs: number;
};

/** What is sold together: for each part its style, its price as a weight, and what goes into it. */
export type SoldPart = Omit<StyleShare, 'netCents'> & { readonly weightCents: number };

/**
 * Shares what was left of a payment over the styles it paid for, by their prices. A part payment counts the same part of
 * their costs, hours and pairs.
 *
 * @param netCents whole minor units: the payment without tax and fees; below 0 when paid back
 * @param paidRatio what part of the whole was paid: 0.3 for a deposit of 30 %
 * @param parts what was sold; none gives it to no style
 * @throws {RangeError} when the amount is not whole
 * @example shareByStyle(1001, 0.5, [{ style: 'slipper', weightCents: 50, costCents: 800, minutes: 120, pairs: 1 }, { style: null, weightCents: 50, costCents: 0, minutes: 0, pairs: 0 }]) // => [{ style: 'slipper', netCents: 501, costCents: 400, minutes: 60, pairs: 0.5 }, { style: null, netCents: 500, costCents: 0, minutes: 0, pairs: 0 }]
 * @example shareByStyle(300, 1, []) // => [{ style: null, netCents: 300, costCents: 0, minutes: 0, pairs: 0 }]
 */
export function shareByStyle(netCents: number, paidRatio: number, parts: readonly SoldPart[]): readonly StyleShare[] {
  if (parts.length === 0) return [{ style: null, netCents, costCents: 0, minutes: 0, pairs: 0 }];
  const shares = splitCents(
    netCents,
    parts.map(({ weightCents }) => weightCents),
  );
  return parts.map(({ style, costCents, minutes, pairs }, index) => ({
    style,
    netCents: shares[index]!,
    costCents: costCents * paidRatio,
    minutes: minutes * paidRatio,
    pairs: pairs * paidRatio,
  }));
}

/** What a style earned in a period. */
export type StyleSums = {
  readonly style: string | null;
  readonly netCents: number;
  readonly costCents: number;
  readonly minutes: number;
  readonly pairs: number;
  /** What an hour earned, running costs paid; null without hours. */
  readonly hourCents: number | null;
};

/**
 * Income by style, the one that brought most first and what no style earned last; the net amounts sum to the whole.
 *
 * @param overheadCentsPerHour running costs of an hour, from 0
 * @example sumsByStyle([{ style: 'slipper', netCents: 4000, costCents: 700, minutes: 180, pairs: 1 }], 100) // => [{ style: 'slipper', netCents: 4000, costCents: 700, minutes: 180, pairs: 1, hourCents: 1000 }]
 * @example sumsByStyle([], 100) // => []
 */
export function sumsByStyle(shares: readonly StyleShare[], overheadCentsPerHour: number): readonly StyleSums[] {
  const sums = new Map<string | null, Omit<StyleSums, 'style' | 'hourCents'>>();
  for (const { style, netCents, costCents, minutes, pairs } of shares) {
    const sum = sums.get(style) ?? { netCents: 0, costCents: 0, minutes: 0, pairs: 0 };
    sums.set(style, {
      netCents: sum.netCents + netCents,
      costCents: sum.costCents + costCents,
      minutes: sum.minutes + minutes,
      pairs: sum.pairs + pairs,
    });
  }
  return [...sums]
    .map(([style, sum]) => {
      const costCents = roundHalfUp(sum.costCents);
      const left = sum.netCents - costCents - (overheadCentsPerHour * sum.minutes) / 60;
      // Less than a minute is nothing that was worked: payments and their returns met.
      return { style, ...sum, costCents, hourCents: sum.minutes >= 1 ? roundHalfUp((left * 60) / sum.minutes) : null };
    })
    .sort((a, b) => Number(a.style === null) - Number(b.style === null) || b.netCents - a.netCents);
}
