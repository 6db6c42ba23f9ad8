import { describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import type { PurchaseList, Supplier } from '#core/buying/offers.ts';
import { narrowProblem } from '#core/buying/problem.ts';
import type { ProgramData } from '#solver/messages.ts';
import { purchaseModel } from '#solver/model.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';

const packsIn = (list: PurchaseList) =>
  list.baskets.flatMap(({ lines }) => lines.map(({ offerId, packs }) => ({ offerId, packs })));

/** By how much values break the program at worst, and what they cost. */
function look(model: ProgramData, values: ArrayLike<number>): { readonly broken: number; readonly cost: number } {
  const { starts, indices, values: factors } = model.matrix;
  let broken = 0;
  let cost = 0;
  for (let column = 0; column < model.numCols; column += 1) {
    cost += values[column]! * model.colCost[column]!;
    broken = Math.max(broken, values[column]! - model.colUpper[column]!, model.colLower[column]! - values[column]!);
  }
  for (let row = 0; row < model.numRows; row += 1) {
    let sum = 0;
    for (let at = starts[row]!; at < starts[row + 1]!; at += 1) sum += factors[at]! * values[indices[at]!]!;
    broken = Math.max(broken, sum - model.rowUpper[row]!, model.rowLower[row]! - sum);
  }
  return { broken, cost };
}

describe('purchaseModel', () => {
  it('holds a list that is known, at what it costs', () => {
    for (let seed = 700; seed < 760; seed += 1) {
      const options = { oneSupplierPerColour: seed % 2 === 0 };
      const made = randomPurchase(seed, {
        colours: 6,
        packs: 3,
        suppliers: 3,
        limits: { free: 0.6, minimum: 0.4, stock: 0.2 },
        breaks: { packs: 0.4, basket: 0.8 },
      });
      const own = buyYarn(made.needs, made.suppliers, made.offers, options);
      const { model, startOf, packsOf } = purchaseModel(
        narrowProblem({ ...made, options }, own.uncovered),
        own.totalCents,
      );
      const start = startOf(packsIn(own));
      const { broken, cost } = look(model, start);
      expect({ seed, cost }).toEqual({ seed, cost: own.totalCents });
      expect(broken).toBeLessThan(1e-6);
      const byId = (a: { offerId: number }, b: { offerId: number }) => a.offerId - b.offerId;
      expect([...packsOf(start)].sort(byId)).toEqual([...packsIn(own)].sort(byId));
    }
  });

  it.each([
    // What is paid is rounded half up: 8.95 less 10 % is 8.055, paid 8.06, and 8.94 less 10 % is 8.046, paid 8.05.
    [895, 0.1, 806],
    [894, 0.1, 805],
    // 3.33 less 12.5 % is 2.91375, paid 2.91; 3.32 less 12.5 % is 2.905, paid 2.91.
    [333, 0.125, 291],
    [332, 0.125, 291],
    // 2.50 less 7.25 % is 2.31875, paid 2.32; 2.00 less 7.25 % is 1.855, paid 1.86.
    [250, 0.0725, 232],
    [200, 0.0725, 186],
  ])('lets nothing off %i at %f be rounded the wrong way', (priceCents, offRatio, paidCents) => {
    const shop: Supplier = {
      ...{ id: 1, name: 'Shop', shippingCents: 0, freeFromCents: null, minimumCents: 0, deliveryDays: 1, rank: 1 },
      breaks: [{ fromCents: 100, offRatio }],
    };
    const problem = {
      needs: [{ yarnColourId: 1, needMg: 1000 }],
      suppliers: [shop],
      offers: [{ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 1000, ballsPerPack: 1, priceCents, stockPacks: null }],
      options: { oneSupplierPerColour: false },
    };
    const { model, startOf } = purchaseModel(problem, priceCents);
    const start = startOf([{ offerId: 1, packs: 1 }]);
    expect(look(model, start)).toMatchObject({ cost: paidCents });
    expect(look(model, start).broken).toBeLessThan(1e-9);
    // One more off breaks a limit by far more than the 1e-6 that a solver may miss.
    const off = model.colCost.indexOf(-1);
    start[off]! += 1;
    expect(look(model, start).broken).toBeGreaterThan(5e-5);
  });
});
