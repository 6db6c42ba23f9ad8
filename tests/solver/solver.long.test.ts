import { afterAll, describe, it } from 'vitest';
import { createSolver } from '#solver/solver.ts';
import { expectEqualToEnumeration, expectSound } from '#tests/support/solve-cases.ts';

const solver = createSolver();
afterAll(() => solver.close());

describe('the solver, at length', () => {
  it('finds and proves the cheapest of a hundred small seasons with limits and breaks', async () => {
    for (let seed = 2000; seed < 2100; seed += 1) await expectEqualToEnumeration(solver, seed);
  });

  it('is sound on twenty large seasons', async () => {
    for (let seed = 2200; seed < 2220; seed += 1) await expectSound(solver, seed);
  });
});
