import { describe, expect, it } from 'vitest';
import { expectedLeftG } from '#core/shelf/leftover.ts';

describe('expectedLeftG', () => {
  it('is what is there and comes, less what goes', () => {
    expect(expectedLeftG(62, 200, 212.5)).toBe(49.5);
    expect(expectedLeftG(0, 0, 12)).toBe(-12);
  });

  it('throws on amounts that cannot be', () => {
    expect(() => expectedLeftG(-1, 0, 0)).toThrow(RangeError);
    expect(() => expectedLeftG(0, Number.NaN, 0)).toThrow(RangeError);
  });
});
