import { describe, expect, it } from 'vitest';
import { sparesFor } from '#core/batch/spares.ts';

describe('sparesFor', () => {
  // Identity: good = started x (1 - share). 125 x 0.8 = 100; 120 would leave 96. 3 / 0.95 = 3.158, so 4 are started.
  it.each([
    [100, 0.2, 25],
    [3, 0.05, 1],
    [1, 0.05, 1],
    [0, 0.05, 0],
    [10, 0, 0],
    [9, 0.1, 1],
  ])('%i pairs with a share of %f spoiling need %i on top', (count, share, spares) => {
    expect(sparesFor(count, share)).toBe(spares);
  });

  it('leaves at least the count, and one pair fewer would not', () => {
    for (let count = 1; count <= 200; count += 1) {
      for (const share of [0.01, 0.05, 0.1, 0.2, 0.3]) {
        const started = count + sparesFor(count, share);
        expect(started * (1 - share)).toBeGreaterThan(count - 1e-6);
        expect((started - 1) * (1 - share)).toBeLessThan(count - 1e-9);
      }
    }
  });

  it('refuses shares of nearly all, and counts that are not whole', () => {
    expect(() => sparesFor(1, 0.95)).toThrow(RangeError);
    expect(() => sparesFor(1.5, 0.1)).toThrow(RangeError);
  });
});
