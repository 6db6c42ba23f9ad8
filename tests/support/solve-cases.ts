import { expect } from 'vitest';
import { bestSingleShop, buyYarn } from '#core/buying/buy-yarn.ts';
import { checkList } from '#core/buying/check-list.ts';
import type { PurchaseList } from '#core/buying/offers.ts';
import { narrowProblem } from '#core/buying/problem.ts';
import type { Solver } from '#solver/solver.ts';
import { leastByEnumeration } from '#tests/support/enumerate-purchase.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';

export const rules = [{ oneSupplierPerColour: true }, { oneSupplierPerColour: false }];

/** A small season with limits and breaks, solved without being told our own list, against full enumeration. */
export async function expectEqualToEnumeration(solver: Solver, seed: number): Promise<void> {
  const made = randomPurchase(seed, {
    colours: 3,
    packs: 2,
    suppliers: 2,
    mostG: 260,
    limits: { free: 0.5, minimum: 0.4, stock: 0.2 },
    breaks: { packs: 0.4, basket: 0.7 },
    ...(seed % 4 === 1 ? { pairG: 60 } : {}),
  });
  const options = rules[seed % 2]!;
  const own = buyYarn(made.needs, made.suppliers, made.offers, options);
  const problem = narrowProblem({ ...made, options }, own.uncovered);
  if (problem.needs.length === 0) return;
  const unknown: PurchaseList = {
    ...own,
    baskets: [],
    totalCents: own.totalCents + 1500,
    boundCents: 0,
    isProvenCheapest: false,
  };
  const { list, how } = await solver.searchList(problem, unknown, 20_000).ended;
  expect({ seed, how }).toEqual({ seed, how: 'proven' });
  const { needs, suppliers, offers } = problem;
  expect(checkList(list, needs, suppliers, offers, options)).toEqual([]);
  expect(list.totalCents).toBe(leastByEnumeration({ needs, suppliers, offers }, options, own.totalCents));
}

/** A large season: never dearer than our own list or the best single shop's, never below its bound. */
export async function expectSound(solver: Solver, seed: number): Promise<boolean> {
  const made = randomPurchase(seed, {
    colours: 30,
    packs: 4,
    suppliers: 3,
    limits: { free: 0.6, minimum: 0.4, stock: 0.1 },
    breaks: { packs: 0.3, basket: 0.8 },
  });
  const options = rules[0]!;
  const own = buyYarn(made.needs, made.suppliers, made.offers, options);
  const problem = narrowProblem({ ...made, options }, own.uncovered);
  const { list } = await solver.searchList(problem, own).ended;
  const { needs, suppliers, offers } = problem;
  expect(checkList(list, needs, suppliers, offers, options)).toEqual([]);
  expect(list.totalCents).toBeLessThanOrEqual(own.totalCents);
  expect(list.boundCents).toBeLessThanOrEqual(list.totalCents);
  expect(list.boundCents).toBeGreaterThanOrEqual(own.boundCents);
  const single = bestSingleShop(needs, suppliers, offers);
  if (single) expect(list.totalCents).toBeLessThanOrEqual(single.totalCents);
  return list.isProvenCheapest;
}
