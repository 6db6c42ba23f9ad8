import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plan } from '#core/plan.ts';
import { anyWorkshop, comeHome, expectNothingMore } from '#tests/support/order-and-start.ts';
import { lineOf, offerOf, planInputOf, slipperKind } from '#tests/support/plan-input.ts';

describe('a list that was ordered as shown and has come', () => {
  it('leaves nothing to buy, nor do pairs begun from it one after the other', () => {
    fc.assert(fc.property(anyWorkshop, expectNothingMore), { numRuns: 60 });
  });

  // One EU 38 pair alone is enough 9 times in 10 with 112.01 g, nine of them with 9 x 112.01 = 1008.1 g; together they are
  // enough with 9 x 102.5074 + 1.2816 x sqrt((9 x 6.1472)^2 + 9 x 17.2199) = 995.2 g (see the tests of wants). Ten balls
  // of 100 g would be enough for all nine, yet the ninth would find 103.9 g in the lot.
  it('has eleven balls for nine pairs, though ten would be enough for all of them together', () => {
    const lines = [lineOf(1, slipperKind('woman', 240, 1), { quantity: 9 })];
    const input = planInputOf(lines, { offers: [offerOf(1)] });
    const first = plan(input);
    expect(first.lists.safe.baskets[0]!.lines.map(({ packs }) => packs)).toEqual([11]);
    expect(plan(comeHome(input, first)).placed.toBuy).toEqual([]);
    // Ten balls of likely amounts are enough at likely amounts: 9 x 102.51 = 922.6 g.
    const thrifty = { ...input, settings: { ...input.settings, buyAt: 'likely' as const } };
    const likely = plan(thrifty);
    expect(likely.lists.chosen.baskets[0]!.lines.map(({ packs }) => packs)).toEqual([10]);
    expect(plan(comeHome(thrifty, likely)).placed.toBuy).toEqual([]);
  });
});
