import { describe, expect, it } from 'vitest';
import { usableMg } from '#core/buying/shelf.ts';

describe('usableMg', () => {
  it('sums the balls from the least weight up', () => {
    expect(usableMg([100_000, 5000, 4999, 0], 0, 5000)).toBe(105_000);
    expect(usableMg([], 0, 5000)).toBe(0);
    expect(usableMg([1, 2, 3], 0, 0)).toBe(6);
  });

  it('less what is promised, never below nothing', () => {
    expect(usableMg([100_000], 100_000, 5000)).toBe(0);
    expect(usableMg([100_000], 100_001, 5000)).toBe(0);
    // An end counts as nothing even when more than it is promised.
    expect(usableMg([50_000, 4000], 20_000, 5000)).toBe(30_000);
  });
});
