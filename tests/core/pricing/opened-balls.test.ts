import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PurchaseList } from '#core/buying/offers.ts';
import { plan } from '#core/plan.ts';
import { type BallUse, ballUsesOf, leftOfBall, openedBalls, openedChargeOf } from '#core/pricing/opened-balls.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';
import { lineOf, planInputOf, slipperKind } from '#tests/support/plan-input.ts';

const listOf = (yarnColourId: number, grossG: number): PurchaseList => ({
  baskets: [
    {
      supplierId: 1,
      lines: [{ offerId: 1, supplierId: 1, yarnColourId, packs: 1, grossMg: grossG * 1000, goodsCents: 600 }],
      goodsCents: 600,
      offCents: 0,
      shippingCents: 0,
    },
  ],
  totalCents: 600,
  isProvenCheapest: true,
  boundCents: 600,
  uncovered: [],
});
const prices = new Map<number, YarnPrice>([[1, { centsPerG: 6, from: 'list' }]]);
const balls = new Map([[1, 100_000]]);
const use = (grams: number, from: BallUse['from'] = 'bought'): BallUse => ({ yarnColourId: 1, grams, from });

describe('leftOfBall', () => {
  // By hand: three balls less 110 g are 190 g: one whole ball, and 90 g of the one begun.
  it('takes whole balls away', () => {
    expect(leftOfBall(300, 110, 100)).toBe(90);
    expect(leftOfBall(300, 200, 100)).toBe(0);
  });

  it('is the rest of the last ball to buy where there is none', () => {
    expect(leftOfBall(0, 130, 50)).toBe(20);
    expect(leftOfBall(0, 100, 50)).toBe(0);
  });

  it('forgives a hair of binary arithmetic at a whole ball', () => {
    expect(leftOfBall(0.3, 0.1 + 0.2, 0.1)).toBe(0);
  });

  it('refuses a ball of nothing', () => {
    expect(() => leftOfBall(1, 1, 0)).toThrow(RangeError);
  });
});

describe('openedBalls', () => {
  // 160 g of two bought balls leave 40 g at 0.06 = 2.40; pairs of 80 g carry 1.20 each.
  it('shares what is left by weight over the pairs of the colour', () => {
    const opened = openedBalls([use(80), use(80)], [], listOf(1, 200), prices, balls);
    expect(opened.get(1)).toEqual({ leftG: 40, leftCents: 240, usedG: 160 });
    expect(openedChargeOf(opened, prices, balls)(1, 80)).toBe(120);
  });

  // A lot of 262 g at 0.05: 112 g used leave one whole ball and 50 g, 2.50.
  it('takes a lot at what that lot cost, and leaves lots alone that nobody uses', () => {
    const lot = (id: number) => ({
      id,
      yarnColourId: 1,
      dyeLot: '',
      freeMg: 262_000,
      paidCents: 2500,
      boughtMg: 500_000,
    });
    const opened = openedBalls([use(112, 7)], [lot(7), lot(8)], listOf(2, 0), prices, balls);
    expect(opened.get(1)).toEqual({ leftG: 50, leftCents: 250, usedG: 112 });
  });

  it('counts a pair that has its yarn among those that share, and opens nothing more for it', () => {
    const opened = openedBalls([use(80), use(80, 'held')], [], listOf(1, 100), prices, balls);
    expect(opened.get(1)).toEqual({ leftG: 20, leftCents: 120, usedG: 160 });
  });

  // A lot of 172 g free after 90 g were given out: 72 g of the ball that was opened for it, at 0.05.
  it('still counts the ball that was opened for a pair when its yarn is given out', () => {
    const lot = { id: 7, yarnColourId: 1, dyeLot: '', freeMg: 172_000, paidCents: 2500, boughtMg: 500_000 };
    const opened = openedBalls([{ ...use(90, 'held'), heldLotId: 7 }], [lot], listOf(2, 0), prices, balls);
    expect(opened.get(1)).toEqual({ leftG: 72, leftCents: 360, usedG: 90 });
  });

  it('charges nothing when the yarn comes out even', () => {
    const opened = openedBalls([use(60), use(40)], [], listOf(1, 100), prices, balls);
    expect(openedChargeOf(opened, prices, balls)(1, 60)).toBe(0);
  });

  it('takes a colour that nobody ordered as one such pair alone', () => {
    // 80 g of a ball of 100 g at 0.06: 20 g are left, 1.20.
    expect(openedChargeOf(new Map(), prices, balls)(1, 80)).toBe(120);
    expect(openedChargeOf(new Map(), prices, balls)(9, 80)).toBe(0);
  });

  it('charges all pairs together what is left, and never more than a ball a source', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.5, max: 150, noNaN: true }), { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 0, max: 5 }),
        (grams, extra) => {
          const sum = grams.reduce((total, each) => total + each, 0);
          const gross = (Math.ceil(sum / 100) + extra) * 100;
          const opened = openedBalls(
            grams.map((each) => use(each)),
            [],
            listOf(1, gross),
            prices,
            balls,
          );
          const { leftG, leftCents } = opened.get(1)!;
          expect(leftG).toBeGreaterThanOrEqual(0);
          expect(leftG).toBeLessThan(100);
          const charge = openedChargeOf(opened, prices, balls);
          expect(grams.reduce((total, each) => total + charge(1, each), 0)).toBeCloseTo(leftCents, 6);
        },
      ),
    );
  });
});

describe('ballUsesOf', () => {
  const kind = slipperKind('woman', 240, 1, 1);
  const gift = { key: 'a', lineId: 1, orderId: 1, kind, dueDay: null, isSpare: false, started: null };
  const yarn = [{ yarnColourId: 1, grams: 80, metres: 80 }];
  const wantsOfGift = [{ pair: gift, yarn }];
  const parts = [
    { lotId: 7, mg: 60_000 },
    { lotId: 8, mg: 30_000 },
  ];

  // 90 g are enough 9 times in 10, two thirds of one lot; the pair likely uses 80 g of them in that share.
  it('shares the yarn of a pair that mixes lots over them, and buys none', () => {
    const uses = ballUsesOf(wantsOfGift, { lotOf: new Map(), mixedOf: new Map([['a/1', parts]]) });
    expect(uses.map(({ from }) => from)).toEqual([7, 8]);
    expect(uses.map(({ grams }) => grams.toFixed(3))).toEqual(['53.333', '26.667']);
  });

  it('still knows them when the pair is begun', () => {
    const heldLots = new Map([[1, parts]]);
    const started = {
      id: 1,
      lineId: 1,
      kind,
      dueDay: null,
      knitterId: 1,
      heldColourIds: [1],
      heldLots,
      workLeftRatio: 1,
    };
    const begun = [{ pair: { ...gift, started }, yarn }];
    const uses = ballUsesOf(begun, { lotOf: new Map(), mixedOf: new Map() });
    expect(uses.map(({ from, heldLotId }) => [from, heldLotId])).toEqual([
      ['held', 7],
      ['held', 8],
    ]);
  });
});

describe('plan with opened balls charged', () => {
  const input = planInputOf([
    lineOf(1, slipperKind('woman', 240, 1, 2), { quantity: 3 }),
    lineOf(2, slipperKind('man', 270, 2)),
  ]);
  const charged = plan({ ...input, settings: { ...input.settings, chargeOpenedBall: true } });
  const plain = plan(input);

  it('leaves all costs as they are without the setting', () => {
    expect(plain.opened.size).toBe(0);
    expect(plain.costs.pairs.every(({ cost }) => cost.openedBallCents === undefined)).toBe(true);
  });

  it('adds to the pairs what is left, to within their rounding, and nothing else', () => {
    const left = [...charged.opened.values()].reduce((sum, each) => sum + each.leftCents, 0);
    expect(left).toBeGreaterThan(0);
    const { openedBallCents = 0, totalCents } = charged.costs.total;
    expect(Math.abs(openedBallCents - left)).toBeLessThanOrEqual(charged.costs.pairs.length);
    expect(Math.abs(totalCents - plain.costs.total.totalCents - left)).toBeLessThanOrEqual(charged.costs.pairs.length);
    for (const { cost } of charged.costs.pairs) {
      const { yarnCents, materialsCents, labourCents, overheadCents, openedBallCents: opened = 0 } = cost;
      expect(yarnCents + materialsCents + labourCents + overheadCents + opened).toBe(cost.totalCents);
    }
  });
});
