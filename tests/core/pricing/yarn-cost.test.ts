import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import type { Basket, PurchaseList } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { landedByColour, yarnPrices } from '#core/pricing/yarn-cost.ts';
import { offerOf, planInputOf } from '#tests/support/plan-input.ts';

const listOf = (...baskets: readonly Basket[]): PurchaseList => ({
  baskets,
  totalCents: baskets.reduce((sum, basket) => sum + basket.goodsCents + basket.shippingCents, 0),
  isProvenCheapest: true,
  boundCents: 0,
  uncovered: [],
});
const basketOf = (
  supplierId: number,
  shippingCents: number,
  ...lines: readonly (readonly [colour: number, grams: number, cents: number])[]
): Basket => ({
  supplierId,
  offCents: 0,
  shippingCents,
  goodsCents: lines.reduce((sum, [, , cents]) => sum + cents, 0),
  lines: lines.map(([yarnColourId, grams, goodsCents], index) => ({
    offerId: index,
    supplierId,
    yarnColourId,
    packs: 1,
    grossMg: grams * 1000,
    goodsCents,
  })),
});
const lot = (id: number, yarnColourId: number, paidCents: number, boughtG: number): ShelfLot => ({
  id,
  yarnColourId,
  dyeLot: '',
  freeMg: 1000,
  paidCents,
  boughtMg: boughtG * 1000,
});

describe('landedByColour', () => {
  it('shares the postage by the worth of the goods', () => {
    // 4.00 of postage over 6.00 and 2.00 of goods: 3.00 and 1.00. 9.00 over 300 g, 3.00 over 100 g.
    const landed = landedByColour(listOf(basketOf(1, 400, [1, 300, 600], [2, 100, 200])));
    expect([...landed]).toEqual([
      [1, 3],
      [2, 3],
    ]);
  });

  it('a colour out of two baskets has one price', () => {
    // 600 + 300 over 100 g and 500 + 100 over 100 g: 1500 over 200 g.
    const landed = landedByColour(listOf(basketOf(1, 300, [1, 100, 600]), basketOf(2, 100, [1, 100, 500])));
    expect(landed.get(1)).toBe(7.5);
  });

  it('gifts of goods: postage goes by even shares, and nothing is not a number', () => {
    const landed = landedByColour(listOf(basketOf(1, 300, [1, 100, 0], [2, 100, 0])));
    expect([...landed.values()]).toEqual([1.5, 1.5]);
  });

  it('sums back to the total of any list, to the cent', () => {
    const needs = fc.uniqueArray(
      fc.record({ yarnColourId: fc.integer({ min: 1, max: 6 }), needMg: fc.integer({ min: 1, max: 900_000 }) }),
      {
        selector: (need) => need.yarnColourId,
      },
    );
    fc.assert(
      fc.property(
        needs,
        fc.array(fc.integer({ min: 1, max: 2000 }), { minLength: 12, maxLength: 12 }),
        fc.integer({ min: 0, max: 1000 }),
        (wanted, prices, shippingCents) => {
          const shop = planInputOf([]).suppliers[0]!;
          const shops = [
            { ...shop, shippingCents },
            { ...shop, id: 2, shippingCents: 300 },
          ];
          const offers = prices.map((priceCents, i) =>
            offerOf(i + 1, {
              supplierId: 1 + (i % 2),
              yarnColourId: 1 + (i % 6),
              priceCents,
              ballMg: 50_000 * (1 + (i % 3)),
            }),
          );
          const list = buyYarn(wanted, shops, offers, { oneSupplierPerColour: true });
          const landed = landedByColour(list);
          const grams = new Map<number, number>();
          for (const line of list.baskets.flatMap((basket) => basket.lines))
            grams.set(line.yarnColourId, (grams.get(line.yarnColourId) ?? 0) + line.grossMg / 1000);
          const sum = [...landed].reduce((total, [colour, cents]) => total + cents * grams.get(colour)!, 0);
          expect(sum).toBeCloseTo(list.totalCents, 6);
        },
      ),
    );
  });
});

describe('yarnPrices', () => {
  const list = listOf(basketOf(1, 100, [1, 100, 600]));
  const offers = [
    offerOf(1, { yarnColourId: 1, priceCents: 100 }),
    offerOf(2, { yarnColourId: 2, priceCents: 600 }),
    offerOf(3, { yarnColourId: 6, ballMg: 50_000, ballsPerPack: 10, priceCents: 2500 }),
    offerOf(4, { yarnColourId: 6, priceCents: 600 }),
  ];
  const shelf = [lot(1, 2, 100, 100), lot(2, 3, 900, 100), lot(3, 3, 0, 200), lot(4, 4, 0, 0)];

  it('from the list, else the shelf, else the cheapest offer a gram, else not known', () => {
    expect(Object.fromEntries(yarnPrices([1, 2, 3, 4, 5, 6], list, offers, shelf))).toEqual({
      1: { centsPerG: 7, from: 'list' },
      2: { centsPerG: 1, from: 'shelf' }, // what it cost, 1.00 for 100 g, before what it would cost now
      3: { centsPerG: 3, from: 'shelf' }, // 9.00 over 100 g bought and 200 g given
      4: { centsPerG: 0, from: 'unknown' },
      5: { centsPerG: 0, from: 'unknown' },
      6: { centsPerG: 5, from: 'offer' }, // 25.00 for ten balls of 50 g
    });
    expect(yarnPrices([], list, offers, shelf).size).toBe(0);
  });
});
