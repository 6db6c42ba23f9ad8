import fc from 'fast-check';
import { describe, it } from 'vitest';
import { anyWorkshop, expectNothingMore } from '#tests/support/order-and-start.ts';

describe('lists of many workshops, ordered as shown and come home', () => {
  it('leave nothing to buy, nor do pairs begun from them one after the other', () => {
    fc.assert(fc.property(anyWorkshop, expectNothingMore), { numRuns: 2500, seed: 20261129 });
  });
});
