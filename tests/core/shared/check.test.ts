import { describe, expect, it } from 'vitest';
import { requireAbove0, requireRange, requireWhole } from '#core/shared/check.ts';

describe('requireRange', () => {
  it('takes both ends, unless the lower one is left out', () => {
    expect([requireRange('f: a', 1, 1, 5), requireRange('f: a', 5, 1, 5)]).toEqual([1, 5]);
    expect(() => requireRange('f: a', 1, 1, 5, true)).toThrow('f: a must be above 1 and at most 5, got 1');
  });

  it.each([0.99, 5.01, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('refuses %d', (value) => {
    expect(() => requireRange('f: a', value, 1, 5)).toThrow(`f: a must be at least 1 and at most 5, got ${value}`);
  });
});

describe('requireAbove0', () => {
  it('refuses 0 itself', () => {
    expect(() => requireAbove0('f: a', 0)).toThrow('f: a must be above 0, got 0');
    expect(requireAbove0('f: a', Number.MIN_VALUE)).toBe(Number.MIN_VALUE);
  });
});

describe('requireWhole', () => {
  it.each([0.5, -1, 2 ** 53, Number.NaN])('refuses %d', (value) => {
    expect(() => requireWhole('f: n', value)).toThrow(`f: n must be a whole number from 0, got ${value}`);
  });

  it('takes any whole number from the least on', () => {
    expect([requireWhole('f: n', 0), requireWhole('f: n', -3, -3)]).toEqual([0, -3]);
  });
});
