import { describe, expect, it } from 'vitest';
import { shapesOf } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import { enoughAt } from '#core/shared/estimate.ts';
import { specify, specKey } from '#core/styles/specify.ts';
import { yarnNeeds } from '#core/yardage/needs.ts';
import { slipperKind, usualHand } from '#tests/support/plan-input.ts';

/** Numbers from 0 to 1 that follow from the seed (the generator of Park and Miller). */
function drawFrom(seed: number): () => number {
  let state = seed % 2147483647 || 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** A standard normal number, by the way of Box and Muller. */
function normalFrom(draw: () => number): number {
  return Math.sqrt(-2 * Math.log(draw())) * Math.cos(2 * Math.PI * draw());
}

const runs = 2000;
const hands = [usualHand, { key: 'tight', tightness: 'tight' as const, gauges: [] }];

function sharedSdOf(hand: (typeof hands)[number], fabric: string): number {
  if (hand.gauges.length === 0) return 0.12;
  return fabric.startsWith('rib') ? 0.11 : 0.07;
}

/**
 * How often the safe amount of each colour was enough, in so many batches: sizes, colours and hands drawn, the truth
 * drawn from what is said of the errors: one for each yarn and fabric of a hand, one for each pair.
 *
 * Errors: by a gauge alone 7 % for stocking and 11 % for ribs, where the gauge is a guess 12 %; 5 % from pair to pair. All
 * our own choice, stated here anew so that the code's are held to them.
 */
function shareEnough(seed: number): { readonly share: number; readonly colours: number } {
  const draw = drawFrom(seed);
  let enough = 0;
  let colours = 0;
  for (let run = 0; run < runs; run += 1) {
    const pairs = Array.from({ length: 3 + Math.floor(draw() * 14) }, () => {
      const foot = 1 + Math.floor(draw() * 2);
      const cuff = draw() < 0.5 ? foot : 3 - foot;
      const lengthMm = 220 + Math.floor(draw() * 5) * 10;
      return { kind: slipperKind('woman', lengthMm, foot, cuff), hand: hands[Math.floor(draw() * 2)]! };
    });
    const specs = specify(shapesOf(pairs.map(({ kind }) => kind)), hands);
    const specOf = (kind: Kind, hand: (typeof hands)[number]) => specs.get(specKey(kind.shape, hand))!;
    const needs = yarnNeeds(pairs.map(({ kind, hand }) => ({ kind, spec: specOf(kind, hand), count: 1 })));
    const sharedOf = new Map<string, number>();
    const usedG = new Map<number, number>();
    for (const { kind, hand } of pairs) {
      for (const { role, strand, fabric, metres } of specOf(kind, hand).metres) {
        const group = `${hand.key}/${fabric}`;
        const shared = sharedOf.get(group) ?? normalFrom(draw) * sharedSdOf(hand, fabric);
        sharedOf.set(group, shared);
        const colour = kind.colours[role]![strand]!;
        const grams = metres.mean * (1 + shared + 0.05 * normalFrom(draw));
        usedG.set(colour, (usedG.get(colour) ?? 0) + grams);
      }
    }
    for (const { yarnColourId, grams } of needs) {
      colours += 1;
      if (usedG.get(yarnColourId)! <= enoughAt(grams, 0.9)) enough += 1;
    }
  }
  return { share: enough / colours, colours };
}

describe('the safe amount', () => {
  it.each([1, 20261125, 777])('is enough in 87 to 93 of 100 batches, seed %i', (seed) => {
    const { share, colours } = shareEnough(seed);
    expect(colours).toBeGreaterThan(runs);
    expect(share).toBeGreaterThanOrEqual(0.87);
    expect(share).toBeLessThanOrEqual(0.93);
  });
});
