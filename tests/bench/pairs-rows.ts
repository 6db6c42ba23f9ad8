import { findMostPairs } from '#core/buying/most-pairs.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
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

/** Most pairs of 20 shelves: time of the slowest, how many are proven to be the best, and how far the others may be from it. */
export async function pairsRows(): Promise<BenchRow[]> {
  let slowestMs = 0;
  let proven = 0;
  let pairs = 0;
  let furthest = 0;
  findMostPairs(shelfOf(99));
  for (let seed = 1; seed <= 20; seed += 1) {
    const question = shelfOf(seed);
    slowestMs = Math.max(
      slowestMs,
      await msOf(() => {
        const answer = findMostPairs(question);
        pairs += answer.pairs;
        if (answer.isBest) proven += 1;
        furthest = Math.max(furthest, answer.mostValue - answer.value);
      }),
    );
  }
  return [
    atMost(`most pairs of 10 lots, 6 sizes, ${Math.round(pairs / 20)} pairs: the slowest`, slowestMs, 1000, 'ms'),
    atMost(`most pairs, furthest below what it can be at most (${proven} of 20 proven best)`, furthest, 1, 'pairs'),
  ];
}
