import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import { countPairs } from '#core/buying/count-pairs.ts';
import { findMostPairs } from '#core/buying/most-pairs.ts';
import { withBall } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import { narrowProblem } from '#core/buying/problem.ts';
import { createSolver, type Solver } from '#solver/solver.ts';
import { brokenWorker } from '#tests/support/broken-worker.ts';
import { enumeratePairs } from '#tests/support/enumerate-pairs.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';

/** Three lots of two colours, two sizes with a foot and a cuff in any two: few enough pairs to try everything. */
function smallShelf(seed: number): ShelfQuestion {
  let state = seed;
  const chance = (least: number, most: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return least + Math.floor((state / 2 ** 32) * (most - least + 1));
  };
  const lots = [1, 2, 3].map((id) => ({ id, yarnColourId: 1 + (id % 2), freeMg: chance(50, 120) }));
  const kinds = [0, 1].flatMap((size) => {
    const foot = chance(25, 45);
    const cuff = chance(8, 20);
    const both = (of: number, with_: number) => ({
      size,
      needs: [
        { yarnColourId: of, mg: foot },
        { yarnColourId: with_, mg: cuff },
      ],
    });
    return [
      ...[1, 2].map((yarnColourId) => ({ size, needs: [{ yarnColourId, mg: foot + cuff }] })),
      both(1, 2),
      both(2, 1),
    ];
  });
  return { lots, kinds, sizes: [0, 1].map(() => ({ least: chance(0, 2), most: chance(2, 5) })) };
}

const nothing = { ...findMostPairs({ lots: [], kinds: [], sizes: [] }), mostValue: 99, isBest: false };

describe('the search for pairs in its worker', () => {
  const solver = createSolver();
  afterAll(() => solver.close());

  it('finds the most there are, and what a ball adds, by trying everything', async () => {
    let compared = 0;
    for (let seed = 1; seed <= 8; seed += 1) {
      const question = smallShelf(seed);
      const balls = [{ yarnColourId: 1, mg: 50 }];
      const { how, answer, more } = await solver.searchPairs(question, balls, nothing).ended;
      const best = enumeratePairs(question);
      const counted = countPairs(question, answer.made);
      expect({ seed, how, value: answer.value }).toEqual({ seed, how: 'done', value: best.value });
      expect(counted).toMatchObject({ wanted: best.least, value: best.value });
      const withOne = enumeratePairs(withBall(question, balls[0]!));
      // A least that can be met with the ball alone may cost other pairs.
      if (best.least !== withOne.least) continue;
      expect(more[0]).toMatchObject({ atLeast: withOne.value - best.value });
      compared += 1;
    }
    expect(compared).toBeGreaterThan(4);
  });

  it('goes before lists that wait, and after it they go on', async () => {
    const made = randomPurchase(100, { colours: 30, packs: 4, suppliers: 3, breaks: { packs: 0.3, basket: 0.8 } });
    const options = { oneSupplierPerColour: true };
    const own = buyYarn(made.needs, made.suppliers, made.offers, options);
    const problem = narrowProblem({ ...made, options }, own.uncovered);
    const first = solver.searchList(problem, own, 300);
    const waiting = solver.searchList(problem, own, 300);
    const pairs = solver.searchPairs(smallShelf(1), [], nothing);
    expect((await first.ended).list.totalCents).toBeLessThanOrEqual(own.totalCents);
    expect((await pairs.ended).how).toBe('done');
    expect(waiting.isWaiting()).toBe(true);
    expect((await waiting.ended).how).toMatch(/outOfTime|proven/);
  });
});

describe('a search for pairs that does not come to its end', () => {
  const question = smallShelf(3);
  const balls = [{ yarnColourId: 1, mg: 50 }];
  const own = findMostPairs(question, { mostSteps: 0 });
  let solver: Solver;
  afterEach(() => solver.close());

  it('is ended when its time is over', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-silent'), graceMs: 20 });
    expect(await solver.searchPairs(question, balls, own, 30).ended).toEqual({
      how: 'outOfTime',
      answer: own,
      more: [null],
    });
  });

  it('is stopped while it looks and while it waits', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-silent'), graceMs: 20 });
    const first = solver.searchPairs(question, balls, own);
    const second = solver.searchPairs(question, balls, own);
    while (first.isWaiting()) await new Promise((resolve) => setTimeout(resolve, 5));
    second.stop();
    expect(await second.ended).toEqual({ how: 'stopped', answer: own, more: [null] });
    first.stop();
    expect(await first.ended).toEqual({ how: 'stopped', answer: own, more: [null] });
  });

  it('fails with the pairs that are known when the worker breaks, and the next search gets a new worker', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-crashing') });
    const both = [solver.searchPairs(question, balls, own), solver.searchPairs(question, balls, own)];
    for (const search of both) expect(await search.ended).toEqual({ how: 'failed', answer: own, more: [null] });
  });

  it('fails with the pairs that are known when what comes back is more than the shelf has', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-lying') });
    const known = findMostPairs(question);
    expect(await solver.searchPairs(question, balls, known).ended).toEqual({
      how: 'failed',
      answer: known,
      more: [null],
    });
  });

  it('stops when the program does', async () => {
    solver = createSolver({ scripts: brokenWorker('worker-silent') });
    const searches = [solver.searchPairs(question, balls, own), solver.searchPairs(question, balls, own)];
    await solver.close();
    for (const search of searches) expect((await search.ended).how).toBe('stopped');
  });
});
