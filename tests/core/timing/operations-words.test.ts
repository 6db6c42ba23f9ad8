import { describe, expect, it } from 'vitest';
import type { OperationWords } from '#core/timing/operations-words.ts';
import { operationsInWords } from '#core/timing/operations-words.ts';
import { knit, type PairWish } from '#tests/support/knit-cases.ts';

const woman: PairWish = { person: 'woman', lengthMm: 240 };

function wordsOf(wish: PairWish): OperationWords {
  const { worked, right } = knit(wish);
  return operationsInWords(worked, right);
}

/** The arithmetic in some words, the names taken out: what a reader with a calculator gets. */
function reckon(words: string): number {
  if (words === 'none') return 0;
  const sum = words.replaceAll('×', '*').replace(/[a-z,][a-z ,]*/g, ' ');
  return new Function(`return ${sum};`)() as number;
}

describe('operationsInWords', () => {
  it('names the steps of the woman’s pair worked by hand', () => {
    // As worked by hand in tests/core/styles/specify.test.ts: 28 stitches and 43 rows, 34 in the cuff.
    const words = wordsOf(woman);
    expect(words.stitches.stocking).toBe('2 × 28 × 41 foot, sole and sides');
    expect(words.castOnStitches).toBe('2 × (28 foot + 34 cuff)');
    expect(words.bindOffStitches).toBe('2 × 34 cuff');
    expect(words.colourChanges).toBe('none');
  });

  it('come to the counts of the plan, with one colour, two colours, odd stitches and feet that differ', () => {
    for (const wish of [
      woman,
      { ...woman, cuffColour: 2 },
      { ...woman, cuff: 'none' as const },
      { ...woman, cuff: 'turned down' as const, fit: 'roomy' as const },
      { person: 'man' as const, lengthMm: 880 / 3 },
      { person: 'child' as const, lengthMm: 150 },
    ]) {
      const { spec } = knit(wish);
      const words = wordsOf(wish);
      const { stitches, isBulky: _, seamMm, ...counts } = spec.operations;
      for (const [fabric, count] of Object.entries(stitches)) expect(reckon(words.stitches[fabric]!)).toBe(count);
      for (const [name, count] of Object.entries(counts)) {
        expect(reckon(words[name as keyof typeof counts]), name).toBe(count);
      }
      // Each of the four seams is said to a tenth of a millimetre.
      expect(Math.abs(reckon(words.seamMm) - seamMm)).toBeLessThanOrEqual(0.4);
    }
  });

  it('says two different slippers one after the other', () => {
    const [left, right] = [knit(woman).worked, knit({ ...woman, lengthMm: 250 }).worked];
    const words = operationsInWords(left, right);
    expect(words.castOnStitches).not.toContain('(');
    expect(reckon(words.castOnStitches)).toBe(
      [left, right].flatMap(({ pieces }) => pieces).reduce((sum, { castOn }) => sum + castOn.value, 0),
    );
  });
});
