import { lookAtOnce } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import { stepsAtOnce } from '#flows/shelf-plan/search-pairs.ts';
import { createSolver } from '#solver/solver.ts';
import { atMost, type BenchRow, msOf } from '#tests/bench/measure.ts';

/** A shelf of 10 lots in 8 colours, 6 sizes, feet and cuffs in any two colours, about 80 pairs. */
function shelfOf(seed: number): ShelfQuestion {
  let state = seed;
  const chance = (least: number, most: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return least + Math.floor((state / 2 ** 32) * (most - least + 1));
  };
  const lots = Array.from({ length: 10 }, (_, at) => {
    const yarnColourId = at < 8 ? at + 1 : chance(1, 8);
    return { id: at + 1, yarnColourId, freeMg: chance(30_000, 1_200_000) };
  });
  const colours = [1, 2, 3, 4, 5, 6, 7, 8];
  const sizes = Array.from({ length: 6 }, () => ({ least: chance(0, 6), most: chance(10, 20) }));
  const kinds = sizes.flatMap((_, size) => {
    const footMg = 50_000 + 3000 * size + chance(0, 900);
    const cuffMg = 18_000 + 900 * size + chance(0, 300);
    return colours.flatMap((foot) =>
      colours.map((cuff) => ({
        size,
        needs:
          foot === cuff
            ? [{ yarnColourId: foot, mg: footMg + cuffMg - 900 }]
            : [
                { yarnColourId: foot, mg: footMg },
                { yarnColourId: cuff, mg: cuffMg },
              ],
      })),
    );
  });
  return { lots, kinds, sizes };
}

/** The balls that might be bought: one of 100 g in every colour. */
const balls = [1, 2, 3, 4, 5, 6, 7, 8].map((yarnColourId) => ({ yarnColourId, mg: 100_000 }));

/**
 * Most pairs of 20 shelves: what a page waits for, and beside it in the worker with what each ball adds: time of the slowest,
 * how many are proven to be the best, and how far the others may be from it.
 */
export async function pairsRows(): Promise<BenchRow[]> {
  const solver = createSolver();
  let slowestAtOnceMs = 0;
  let slowestMs = 0;
  let proven = 0;
  let pairs = 0;
  let furthest = 0;
  // The worker is there and all is warm before the clock runs, as it is on the second page.
  for (let seed = 90; seed < 100; seed += 1) {
    const { answer } = lookAtOnce(shelfOf(seed), balls, stepsAtOnce);
    await solver.searchPairs(shelfOf(seed), [], answer).ended;
  }
  for (let seed = 1; seed <= 20; seed += 1) {
    const question = shelfOf(seed);
    let known = lookAtOnce(question, [], { mostSteps: 0 });
    const atOnceMs = await msOf(() => {
      known = lookAtOnce(question, balls, stepsAtOnce);
    });
    slowestAtOnceMs = Math.max(slowestAtOnceMs, atOnceMs);
    const beganMs = performance.now();
    const { how, answer } = await solver.searchPairs(question, balls, known.answer).ended;
    if (how !== 'done') throw new Error(`The search for pairs of shelf ${seed} ended ${how}.`);
    slowestMs = Math.max(slowestMs, performance.now() - beganMs);
    pairs += answer.pairs;
    if (answer.isBest) proven += 1;
    furthest = Math.max(furthest, answer.mostValue - answer.value);
  }
  await solver.close();
  return [
    atMost('most pairs, what a page waits for: the slowest', slowestAtOnceMs, 30, 'ms'),
    atMost(
      `most pairs of 10 lots, 6 sizes, ${Math.round(pairs / 20)} pairs, 8 balls, in the worker: the slowest`,
      slowestMs / 1000,
      1.5,
      's',
    ),
    atMost(`most pairs, furthest below what it can be at most (${proven} of 20 proven best)`, furthest, 1, 'pairs'),
  ];
}
