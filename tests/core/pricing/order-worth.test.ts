import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderWorth } from '#core/pricing/order-worth.ts';

const noFee = Object.freeze({ feeRatio: 0, feeFixedCents: 0 });
const pair = (quantity: number, outlayCents: number, minutes: number) =>
  Object.freeze({
    quantity,
    minutes,
    cost: {
      yarnCents: outlayCents,
      materialsCents: 0,
      labourCents: minutes * 15,
      overheadCents: 0,
      totalCents: outlayCents + minutes * 15,
    },
  });

describe('orderWorth', () => {
  // A published repair job: part 42, 3 h, overhead 75, billed 310: (310 - 42 - 75) / 3 = 64.33 an hour.
  it('is what is left of the bill, over the hours', () => {
    const money = { totalCents: 31000, taxCents: 0, postageCents: 0 };
    expect(orderWorth(money, [pair(1, 11700, 180)], [], noFee, 0)).toMatchObject({
      netCents: 31000,
      outlayCents: 11700,
      leftCents: 19300,
      hourWorthCents: 6433,
    });
  });

  it('has the minutes and the material of extras in it', () => {
    // By hand: 46.50 - 8.00 - 1.00 = 37.50 in 2 h 30 + 15 min = 2.75 h: 13.6363 an hour.
    const money = { totalCents: 4650, taxCents: 0, postageCents: 0 };
    const worth = orderWorth(money, [pair(1, 800, 150)], [{ minutes: 15, materialCents: 100 }], noFee, 0);
    expect(worth).toMatchObject({ leftCents: 3750, pairMinutes: 150, extraMinutes: 15, hourWorthCents: 1364 });
  });

  it('passes postage on outside of what is left', () => {
    const without = orderWorth({ totalCents: 4400, taxCents: 0, postageCents: 0 }, [pair(1, 800, 150)], [], noFee, 0);
    const posted = orderWorth({ totalCents: 4895, taxCents: 0, postageCents: 495 }, [pair(1, 800, 150)], [], noFee, 0);
    expect(posted).toEqual(without);
  });

  it('leaves out the tax and takes the fees of what is paid', () => {
    // By hand: 120.00 with 20.00 tax; fee 2 % of 120.00 and 0.20 = 2.60; net 97.40.
    const fee = { feeRatio: 0.02, feeFixedCents: 20 };
    const worth = orderWorth({ totalCents: 12000, taxCents: 2000, postageCents: 0 }, [pair(1, 0, 60)], [], fee, 0);
    expect(worth).toMatchObject({ feeCents: 260, netCents: 9740, hourWorthCents: 9740 });
  });

  it('spreads running costs over the minutes of extras too', () => {
    const money = { totalCents: 1000, taxCents: 0, postageCents: 0 };
    // By hand: 30 min at 0.40 an hour are 0.20.
    expect(orderWorth(money, [], [{ minutes: 30, materialCents: 0 }], noFee, 40).outlayCents).toBe(20);
  });

  it('says nothing of an hour where there is no work, and is below nothing where money is lost', () => {
    const money = { totalCents: 500, taxCents: 0, postageCents: 0 };
    expect(orderWorth(money, [], [], noFee, 0).hourWorthCents).toBeNull();
    expect(orderWorth(money, [pair(1, 800, 60)], [], noFee, 0).hourWorthCents).toBe(-300);
  });

  it('earns less in an hour, or as much, when an extra takes longer', () => {
    const minutes = fc.integer({ min: 0, max: 600 });
    fc.assert(
      fc.property(fc.integer({ min: 5000, max: 50_000 }), minutes, minutes, (totalCents, least, more) => {
        const worth = (extra: number) =>
          orderWorth(
            { totalCents, taxCents: 0, postageCents: 0 },
            [pair(1, 800, 150)],
            [{ minutes: extra, materialCents: 0 }],
            noFee,
            0,
          ).hourWorthCents!;
        expect(worth(least + more)).toBeLessThanOrEqual(worth(least));
      }),
    );
  });
});
