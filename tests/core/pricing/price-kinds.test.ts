import { describe, expect, it } from 'vitest';
import { handworkOf } from '#core/batch/handwork.ts';
import { shapesOf } from '#core/batch/kinds.ts';
import { kindToPrice, priceKinds } from '#core/pricing/price-kinds.ts';
import { priceFor } from '#core/pricing/price-sheet.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';
import { specify } from '#core/styles/specify.ts';
import { usualRates } from '#core/timing/minutes.ts';
import { outletWith } from '#tests/core/pricing/outlets.ts';
import { kindOf } from '#tests/support/knit-cases.ts';
import { knitterOf, usualHand } from '#tests/support/plan-input.ts';

const woman = kindOf({ person: 'woman', lengthMm: 240, cuffColour: 2 });
const child = kindOf({ person: 'child', lengthMm: 142.9 });
const hours = { wageCentsPerHour: 1200, overheadCentsPerHour: 100 };
const prices = new Map<number, YarnPrice>([
  [1, { centsPerG: 6, from: 'list' }],
  [2, { centsPerG: 10, from: 'offer' }],
]);
const specs = specify(shapesOf([woman, child]), [usualHand]);
const slow = knitterOf(1);
const fast = knitterOf(2, { rates: { ...usualRates, stitchesPerMin: 50 } });
const sheetAt = (referenceId: number, known = prices) => {
  const handwork = handworkOf(specs, [slow, fast], referenceId);
  const kinds = [woman, child].map((kind) => kindToPrice(kind, handwork));
  return priceKinds(kinds, known, () => 40, [outletWith(), outletWith({ id: 2, priceRatio: 0.5 })], hours);
};

describe('priceKinds', () => {
  // EU 38 in two colours, by hand: foot 81.1474 + 4.8597 = 86.0071 g, cuff 17.1021 g: 516.04 + 171.02 = 687.06 cents;
  // materials 40; 220.4105 minutes: 4408.21 and 367.35. In all 5502.62, 55.03.
  it('costs a kind at the reference knitter', () => {
    const [first] = sheetAt(1);
    expect(first).toMatchObject({ kindKey: woman.key, minutes: expect.closeTo(220.41, 2), isYarnPriceUnknown: false });
    expect(first!.cost.totalCents).toBe(5503);
    expect(first!.cost.materialsCents).toBe(40);
  });

  it('prices it at every outlet as the price sheet does', () => {
    const [first] = sheetAt(1);
    expect(first!.prices.map((each) => each.outletId)).toEqual([1, 2]);
    for (const { outletId, row } of first!.prices) {
      const outlet = outletWith(outletId === 1 ? {} : { id: 2, priceRatio: 0.5 });
      expect(row).toEqual(priceFor(first!.cost, first!.minutes, outlet, 1200));
    }
    // 5503 / (1 - 0.3) = 7861.4 and 5503 / 0.5 = 11 006.
    expect(first!.prices.map(({ row }) => row.priceCents)).toEqual([7862, 11_006]);
  });

  it('a faster reference knitter makes it cheaper, whoever knits it', () => {
    expect(sheetAt(2)[0]!.minutes).toBeLessThan(sheetAt(1)[0]!.minutes);
    expect(sheetAt(2)[0]!.cost.labourCents).toBeLessThan(sheetAt(1)[0]!.cost.labourCents);
    expect(sheetAt(2)[0]!.cost.yarnCents).toBe(sheetAt(1)[0]!.cost.yarnCents);
  });

  it('says when the price of a colour is not known', () => {
    const onlyFoot = new Map([[1, prices.get(1)!]]);
    expect(sheetAt(1, onlyFoot).map((each) => each.isYarnPriceUnknown)).toEqual([true, false]);
    const unknown = new Map(prices).set(2, { centsPerG: 0, from: 'unknown' });
    expect(sheetAt(1, unknown)[0]!.isYarnPriceUnknown).toBe(true);
  });
});
