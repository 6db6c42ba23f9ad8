import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Booking,
  inPeriod,
  monthsBetween,
  shareByStyle,
  sumBookings,
  sumsByMonth,
  sumsByOutlet,
  sumsByStyle,
  taxOfPayments,
} from '#core/pricing/books.ts';
import { addDays } from '#core/shared/calendar.ts';

const cents = fc.integer({ min: -50_000, max: 500_000 });
const bookings = fc.array(
  fc.record({
    day: fc.nat(500).map((days) => addDays('2026-01-15', days)),
    what: fc.constantFrom('sale', 'yarn', 'deposit'),
    outlet: fc.constantFrom('Fair', 'By order', null),
    inCents: cents,
    outCents: cents,
    taxCents: cents,
  }) satisfies fc.Arbitrary<Booking>,
  { maxLength: 40 },
);
/** A second sum, in exact arithmetic of another kind. */
const exactly = (amounts: readonly number[]) => amounts.reduce((sum, each) => sum + BigInt(each), 0n);

describe('sums of the books', () => {
  it('by month and by outlet sum to the whole period, to the penny', () => {
    fc.assert(
      fc.property(bookings, (all) => {
        const [from, to] = ['2026-03-10', '2027-02-20'];
        const some = inPeriod(all, from, to);
        expect(some.every(({ day }) => day >= from && day <= to)).toBe(true);
        const whole = sumBookings(some);
        expect(BigInt(whole.inCents)).toBe(exactly(some.map(({ inCents }) => inCents)));
        expect(BigInt(whole.leftCents)).toBe(exactly(some.flatMap(({ inCents, outCents }) => [inCents, -outCents])));
        for (const parts of [sumsByMonth(some, from, to), sumsByOutlet(some)]) {
          for (const name of ['inCents', 'outCents', 'taxCents', 'leftCents'] as const) {
            expect(exactly(parts.map((part) => part[name]))).toBe(BigInt(whole[name]));
          }
        }
      }),
    );
  });

  it('has a line for a month without bookings, over the new year too', () => {
    expect(monthsBetween('2026-12-31', '2027-02-01')).toEqual(['2026-12', '2027-01', '2027-02']);
    expect(monthsBetween('2026-12-01', '2026-12-31')).toEqual(['2026-12']);
    expect(sumsByMonth([], '2026-12-31', '2027-01-01').map(({ inCents }) => inCents)).toEqual([0, 0]);
  });
});

describe('taxOfPayments', () => {
  it('books a deposit and a balance with the tax of the whole', () => {
    // 9.99 at 20 %: within it 1.665, half up 1.67; the deposit of 3.33 has 0.555, half up 0.56.
    expect(taxOfPayments([333, 666], 0.2)).toEqual([56, 111]);
    expect(taxOfPayments([], 0.2)).toEqual([]);
    expect(taxOfPayments([5000], 0)).toEqual([0]);
  });

  it('sums to the tax within what was paid in all, whatever was paid back', () => {
    fc.assert(
      fc.property(fc.array(cents, { maxLength: 12 }), fc.constantFrom(0.05, 0.0625, 0.19, 0.2), (paid, rate) => {
        const sum = paid.reduce((total, each) => total + each, 0);
        const within = new Decimal(sum).times(rate).div(new Decimal(1).plus(rate));
        const halfUp = within.plus(0.5).floor().toNumber();
        expect(taxOfPayments(paid, rate).reduce((total, each) => total + each, 0)).toBe(halfUp + 0);
      }),
    );
  });
});

describe('income by style', () => {
  it('shares a deposit of half over two styles and the postage, by price', () => {
    // 60.00 of 120.00: 44 + 66 + 10. Shares 22.00, 33.00, 5.00; half of the hours and costs.
    const shares = shareByStyle(6000, 0.5, [
      { style: 'slipper', weightCents: 4400, costCents: 800, minutes: 200, pairs: 1 },
      { style: 'bed sock', weightCents: 6600, costCents: 1000, minutes: 300, pairs: 1 },
      { style: null, weightCents: 1000, costCents: 0, minutes: 0, pairs: 0 },
    ]);
    expect(shares.map(({ netCents }) => netCents)).toEqual([2200, 3300, 500]);
    // An hour of slippers: (22.00 - 4.00 - 100/60 x 1.00) / (100 / 60) = 9.80; of bed socks (33 - 5 - 2.5) / 2.5 = 10.20.
    expect(sumsByStyle(shares, 100).map(({ style, hourCents }) => [style, hourCents])).toEqual([
      ['bed sock', 1020],
      ['slipper', 980],
      [null, null],
    ]);
  });

  it('sums to what came in, to the penny', () => {
    const part = fc.record({
      style: fc.constantFrom('a', 'b', null),
      weightCents: fc.nat(10_000),
      costCents: fc.nat(2000),
      minutes: fc.nat(500),
      pairs: fc.nat(3),
    });
    const payments = fc.array(fc.tuple(cents, fc.array(part, { maxLength: 4 })), { maxLength: 10 });
    fc.assert(
      fc.property(payments, (some) => {
        const sums = sumsByStyle(
          some.flatMap(([net, parts]) => shareByStyle(net, 1, parts)),
          100,
        );
        expect(exactly(sums.map(({ netCents }) => netCents))).toBe(exactly(some.map(([net]) => net)));
      }),
    );
  });
});
