import { buyYarn } from '#core/buying/buy-yarn.ts';
import { atLeast, type BenchRow, median, msOf } from '#tests/bench/measure.ts';
import { leastPurchaseCents } from '#tests/support/milp-purchase.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';

/** Cheapest list against an independent solver: 30 colours, 4 packs, 3 shops, postage only, 100 random seasons. */
export async function buyingRows(): Promise<BenchRow[]> {
  const options = { oneSupplierPerColour: false };
  const seasons = Array.from({ length: 100 }, (_, index) =>
    randomPurchase(20_000 + index, { colours: 30, packs: 4, suppliers: 3 }),
  );
  const ratios: number[] = [];
  let equal = 0;
  for (const { needs, suppliers, offers } of seasons) {
    let ourCents = 0;
    let solverCents = 0;
    const ours = await msOf(() => {
      ourCents = buyYarn(needs, suppliers, offers, options).totalCents;
    });
    const solver = await msOf(() => {
      solverCents = leastPurchaseCents(needs, suppliers, offers, options);
    });
    if (ourCents === solverCents) equal += 1;
    ratios.push(solver / ours);
  }
  return [
    atLeast('cheapest list equal to an independent solver', equal, 100, 'of 100'),
    atLeast('cheapest list, how much faster than that solver', median(ratios), 10, 'times'),
  ];
}
