import { describe, expect, it } from 'vitest';
import { shapesOf } from '#core/batch/kinds.ts';
import type { StockPair } from '#core/batch/lines.ts';
import { netToMake } from '#core/batch/net-to-make.ts';
import { sparesFor } from '#core/batch/spares.ts';
import { coverNeed } from '#core/buying/cover-need.ts';
import { specify } from '#core/styles/specify.ts';
import { kindOf } from '#tests/support/knit-cases.ts';
import { lineOf, usualHand } from '#tests/support/plan-input.ts';
import { pack } from '#tests/support/purchase-cases.ts';

describe('net requirements', () => {
  // Orlicky's Material Requirements Planning, ch. 7 figs 7-2 to 7-4: gross 20, 25, 15, 12 in periods 2, 4, 6, 7; 23 on hand
  // and 30 received in period 3, before anything would lack: net 7 in period 6 and 12 in period 7, 19 in all.
  it('are what on hand and receipts leave, in the order of the periods', () => {
    const kind = kindOf({ person: 'woman', lengthMm: 240, cuffColour: 1 });
    const gross = [
      [2, 20],
      [4, 25],
      [6, 15],
      [7, 12],
    ] as const;
    const lines = gross.map(([period, quantity]) => lineOf(period, kind, { quantity, dueDay: `2026-12-0${period}` }));
    const specs = specify(shapesOf([kind]), [usualHand]);
    // 240 mm at 13 x 18 is the same slipper as EU 38: 28 stitches, 43 rows.
    const stock = Array.from({ length: 23 + 30 }, (_, id): StockPair => {
      return { id, kind, widthMm: 2700 / 13, lengthMm: 4300 / 18 };
    });
    const { pairs } = netToMake(lines, stock, [], specs, usualHand, 0);
    const count = (period: number) => pairs.filter((pair) => pair.lineId === period).length;
    expect(gross.map(([period]) => count(period))).toEqual([0, 0, 7, 12]);
    expect(pairs).toHaveLength(19);
  });
});

describe('scrap, then netting, then whole packs', () => {
  // To get n good with loss s, start n / (1 - s) and round up: an identity. 120 would leave 96.
  it.each([
    [100, 0.2, 125],
    [3, 0.05, 4], // 3 / 0.95 = 3.158
  ])('%i good with a loss of %f begin as %i', (good, loss, begun) => {
    expect(good + sparesFor(good, loss)).toBe(begun);
  });

  // 50 C take 2 D and 3 E each: 100 D in multiples of 100, 150 E in multiples of 50, as an operations-management exercise
  // (edu.com question 829356) releases them. The others by hand.
  it.each([
    [100, 100, 100],
    [101, 100, 200],
    [150, 50, 150],
    [141, 50, 150],
  ])('a need of %i in lots of %i is bought as %i', (need, lot, bought) => {
    expect(coverNeed(need * 1000, [pack(1, 1, 1, lot, 100)])?.grossMg).toBe(bought * 1000);
  });

  // Rounded once for the material, not once an order: 30 + 30 + 30 g are one ball of 100 g, not three.
  it('rounds to packs once a material', () => {
    const balls = [pack(1, 1, 1, 100, 500)];
    expect(coverNeed(90_000, balls)?.goodsCents).toBe(500);
    expect(3 * coverNeed(30_000, balls)!.goodsCents).toBe(1500);
  });
});
