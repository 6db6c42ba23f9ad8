import { describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import { checkList } from '#core/buying/check-list.ts';
import { leastPurchaseCents } from '#tests/support/milp-purchase.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';

const rules = [{ oneSupplierPerColour: true }, { oneSupplierPerColour: false }];

describe('buyYarn against a MILP, at length', () => {
  it.each(Array.from({ length: 100 }, (_, i) => 5000 + i))('30 colours, 4 packs, 3 shops, season %i', (seed) => {
    const { needs, suppliers, offers } = randomPurchase(seed, { colours: 30, packs: 4, suppliers: 3 });
    for (const options of rules) {
      const list = buyYarn(needs, suppliers, offers, options);
      expect(checkList(list, needs, suppliers, offers, options)).toEqual([]);
      expect(list.isProvenCheapest).toBe(true);
      expect(list.totalCents).toBe(leastPurchaseCents(needs, suppliers, offers, options));
    }
  });

  it('with limits of all kinds, is never under the optimum, equals it when proven, and mostly is', () => {
    let proven = 0;
    let compared = 0;
    for (let seed = 6000; seed < 6150; seed += 1) {
      const { needs, suppliers, offers } = randomPurchase(seed, {
        colours: 5,
        packs: 3,
        suppliers: 3,
        limits: { free: 0.6, minimum: 0.4, stock: 0.2 },
      });
      for (const options of rules) {
        const list = buyYarn(needs, suppliers, offers, options);
        expect(checkList(list, needs, suppliers, offers, options)).toEqual([]);
        const covered = needs.filter((need) => !list.uncovered.includes(need));
        if (covered.length === 0) continue;
        const least = leastPurchaseCents(covered, suppliers, offers, options);
        compared += 1;
        if (list.isProvenCheapest) {
          proven += 1;
          expect(list.totalCents).toBe(least);
        }
        expect(list.totalCents).toBeGreaterThanOrEqual(least);
        expect(list.boundCents).toBeLessThanOrEqual(least);
      }
    }
    expect(compared).toBeGreaterThan(250);
    expect(proven / compared).toBeGreaterThan(0.8);
  });

  it('bounds soundly, and comes near, with more shops than are tried out one by one', () => {
    for (let seed = 7000; seed < 7002; seed += 1) {
      const { needs, suppliers, offers } = randomPurchase(seed, { colours: 12, packs: 2, suppliers: 16 });
      const list = buyYarn(needs, suppliers, offers, rules[0]!);
      expect(checkList(list, needs, suppliers, offers, rules[0]!)).toEqual([]);
      const least = leastPurchaseCents(needs, suppliers, offers, rules[0]!);
      expect(list.boundCents).toBeLessThanOrEqual(least);
      expect(list.totalCents).toBeGreaterThanOrEqual(least);
      expect(list.totalCents).toBeLessThanOrEqual(least * 1.02);
    }
  });
});
