import { describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import { checkList } from '#core/buying/check-list.ts';
import type { PurchaseLine, PurchaseList } from '#core/buying/offers.ts';
import { pack, supplier } from '#tests/support/purchase-cases.ts';

const options = { oneSupplierPerColour: true };
const needs = Object.freeze([{ yarnColourId: 1, needMg: 90_000 }]);
const suppliers = Object.freeze([supplier(1, 300, { freeFromCents: 2000, minimumCents: 500 }), supplier(2, 0)]);
const offers = Object.freeze([pack(1, 1, 1, 50, 400, 3), pack(2, 2, 1, 50, 400)]);
const line: PurchaseLine = { offerId: 1, supplierId: 1, yarnColourId: 1, packs: 2, grossMg: 100_000, goodsCents: 800 };
const list: PurchaseList = {
  baskets: [{ supplierId: 1, lines: [line], goodsCents: 800, offCents: 0, shippingCents: 300 }],
  totalCents: 1100,
  isProvenCheapest: false,
  boundCents: 0,
  uncovered: [],
};
const codes = (changed: PurchaseList) => checkList(changed, needs, suppliers, offers, options).map((each) => each.code);
const withLine = (change: Partial<PurchaseLine>): PurchaseList => ({
  ...list,
  baskets: [{ ...list.baskets[0]!, lines: [{ ...line, ...change }] }],
});

describe('checkList', () => {
  it('finds nothing wrong with a right list', () => {
    expect(codes(list)).toEqual([]);
    expect(codes(buyYarn(needs, suppliers, offers, options))).toEqual([]);
  });

  it.each<[string, PurchaseList]>([
    ['price', withLine({ goodsCents: 799 })],
    ['weight', withLine({ grossMg: 99_999 })],
    ['stock', withLine({ packs: 4 })],
    ['packs', withLine({ packs: 1.5 })],
    ['unknownOffer', withLine({ offerId: 2 })],
    ['cover', withLine({ packs: 1 })],
    ['minimum', withLine({ packs: 1 })],
    ['off', { ...list, baskets: [{ ...list.baskets[0]!, offCents: 80 }] }],
    ['total', { ...list, totalCents: 1000 }],
    ['goods', { ...list, baskets: [{ ...list.baskets[0]!, goodsCents: 700 }] }],
    ['shipping', { ...list, baskets: [{ ...list.baskets[0]!, offCents: 0, shippingCents: 0 }] }],
    ['proof', { ...list, isProvenCheapest: true }],
    ['bound', { ...list, boundCents: 1101 }],
    ['uncovered', { ...list, uncovered: needs }],
    ['basketTwice', { ...list, baskets: [list.baskets[0]!, list.baskets[0]!] }],
    ['emptyBasket', { ...list, baskets: [{ supplierId: 2, lines: [], goodsCents: 0, offCents: 0, shippingCents: 0 }] }],
    ['unknownSupplier', { ...list, baskets: [{ ...list.baskets[0]!, supplierId: 9 }] }],
    [
      'twoSuppliers',
      {
        ...list,
        baskets: [
          list.baskets[0]!,
          {
            supplierId: 2,
            lines: [{ ...line, offerId: 2, supplierId: 2 }],
            goodsCents: 800,
            offCents: 0,
            shippingCents: 0,
          },
        ],
      },
    ],
  ])('complains of %s', (code, changed) => {
    expect(codes(changed)).toContain(code);
  });
});
