import highsModule, { type Highs } from 'highs';
import { describe, expect, it } from 'vitest';
import { findMostPairs } from '#core/buying/most-pairs.ts';
import { type ShelfQuestion, waysOf } from '#core/buying/pair-ways.ts';

// Its types describe a CommonJS module, under node the default import is the loader itself.
const loadHighs = highsModule as unknown as () => Promise<Highs>;
const solver = await loadHighs();

/** Five lots of four colours, four sizes, feet and cuffs in any two colours, about 25 pairs. */
function shelfOf(seed: number): ShelfQuestion {
  let state = seed;
  const chance = (least: number, most: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return least + Math.floor((state / 2 ** 32) * (most - least + 1));
  };
  const lots = Array.from({ length: 5 }, (_, at) => ({
    id: at + 1,
    yarnColourId: at < 4 ? at + 1 : chance(1, 4),
    freeMg: chance(20_000, 600_000),
  }));
  const sizes = Array.from({ length: 4 }, () => ({ least: 0, most: chance(4, 9) }));
  const kinds = sizes.flatMap((_, size) => {
    const footMg = 50_000 + 4000 * size + chance(0, 900);
    const cuffMg = 18_000 + 900 * size + chance(0, 300);
    return [1, 2, 3, 4].flatMap((foot) =>
      [1, 2, 3, 4].map((cuff) => ({
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

/** The same question as an integer program: a second method that shares nothing with ours; null when it is not done in time. */
function mostBySolver(question: ShelfQuestion): number | null {
  const ways = waysOf(question);
  const names = ways.map((_, at) => `x${at}`);
  const ofLots = question.lots.flatMap(({ freeMg }, lot) => {
    const terms = ways.flatMap(({ takes }, at) =>
      takes.filter((take) => take.lot === lot).map(({ mg }) => `+ ${mg} x${at}`),
    );
    return terms.length > 0 ? [`${terms.join(' ')} <= ${freeMg}`] : [];
  });
  const ofSizes = question.sizes.flatMap(({ most }, size) => {
    const terms = ways.flatMap((way, at) => (way.size === size ? [`+ x${at}`] : []));
    return terms.length > 0 ? [`${terms.join(' ')} <= ${most}`] : [];
  });
  const text = [
    'Maximize',
    ` obj: ${names.map((name) => `+ ${name}`).join(' ')}`,
    'Subject To',
    ...[...ofLots, ...ofSizes].map((row, at) => ` c${at}: ${row}`),
    'General',
    ` ${names.join(' ')}`,
    'End',
  ].join('\n');
  // Pairs are whole, so that what is within nine tenths of the best is the best.
  const solution = solver.solve(text, { mip_rel_gap: 0, mip_abs_gap: 0.9, time_limit: 20 });
  if (solution.Status !== 'Optimal') return null;
  return Math.round(solution.ObjectiveValue);
}

describe('findMostPairs', () => {
  it('is never above an independent solver, equal where proven, and at most one pair below it', () => {
    let equal = 0;
    for (let seed = 1; seed <= 12; seed += 1) {
      const question = shelfOf(seed);
      const answer = findMostPairs(question);
      const most = mostBySolver(question);
      if (most === null) continue;
      if (answer.pairs === most) equal += 1;
      if (answer.isBest) expect([seed, answer.pairs]).toEqual([seed, most]);
      expect(answer.pairs).toBeLessThanOrEqual(most);
      expect(answer.pairs).toBeGreaterThanOrEqual(most - 1);
      expect(answer.mostValue).toBeGreaterThanOrEqual(most);
    }
    expect(equal).toBeGreaterThanOrEqual(8);
  }, 300_000);
});
