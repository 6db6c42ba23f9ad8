import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import { narrowProblem } from '#core/buying/problem.ts';
import { createSolver, type Solver } from '#solver/solver.ts';
import { brokenWorker } from '#tests/support/broken-worker.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';
import { expectEqualToEnumeration, expectSound, rules } from '#tests/support/solve-cases.ts';

const shared = createSolver();
afterAll(() => shared.close());

describe('the solver against full enumeration', () => {
  it('finds and proves the cheapest of ten small seasons with limits and breaks', async () => {
    for (let seed = 500; seed < 510; seed += 1) await expectEqualToEnumeration(shared, seed);
  });

  it('is sound on a large season', async () => {
    await expectSound(shared, 520);
  });
});

describe('a search that does not come to its end', () => {
  const made = randomPurchase(100, { colours: 30, packs: 4, suppliers: 3, breaks: { packs: 0.3, basket: 0.8 } });
  const own = buyYarn(made.needs, made.suppliers, made.offers, rules[0]!);
  const problem = narrowProblem({ ...made, options: rules[0]! }, own.uncovered);
  let solver: Solver;
  afterEach(() => solver.close());

  it('is out of time at its deadline, with a list and a bound', async () => {
    solver = createSolver();
    const { how, list } = await solver.searchList(problem, own, 1).ended;
    expect(how).toBe('outOfTime');
    expect(list.totalCents).toBeLessThanOrEqual(own.totalCents);
    expect(list.boundCents).toBeGreaterThanOrEqual(own.boundCents);
  });

  it('is ended as a last resort when the worker does not hear', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-silent'), graceMs: 50 });
    const end = await solver.searchList(problem, own, 50).ended;
    expect(end.how).toBe('outOfTime');
    expect(end.list.totalCents).toBe(own.totalCents);
  });

  it('is stopped while it looks and while it waits', async () => {
    solver = createSolver();
    const first = solver.searchList(problem, own, 60_000);
    const second = solver.searchList(problem, own, 60_000);
    expect(second.isWaiting()).toBe(true);
    second.stop();
    expect((await second.ended).how).toBe('stopped');
    first.stop();
    expect((await first.ended).how).toBe('stopped');
  });

  it('fails with our own list when the worker breaks, and the next search gets a new worker', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-crashing') });
    for (const search of [solver.searchList(problem, own), solver.searchList(problem, own)]) {
      expect(await search.ended).toMatchObject({ how: 'failed', list: { totalCents: own.totalCents } });
    }
  });
});
