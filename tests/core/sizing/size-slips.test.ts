import { describe, expect, it } from 'vitest';
import { slipOf, withHint } from '#core/sizing/size-slips.ts';

describe('slipOf', () => {
  it.each([
    ['17', 'woman', 'foot in cm'],
    ['32.5', 'man', 'foot in cm'],
    ['24,5', 'unknown', 'foot in cm'],
    ['16.5', 'woman', null],
    ['33', 'woman', null],
    ['2', 'child', 'age'],
    ['12', 'child', 'age'],
    ['13', 'child', 'foot in cm'],
    ['5.5', 'child', null],
    ['9.5', 'child', 'foot in cm'],
    ['1', 'child', null],
    ['large', 'woman', null],
    ['', 'child', null],
  ] as const)('takes “%s” of a %s for %s', (text, person, slip) => expect(slipOf(text, person)).toBe(slip));
});

describe('withHint', () => {
  it('adds a sentence to each, and changes nothing it was given', () => {
    const problems = Object.freeze([Object.freeze({ code: 'a', path: 'b', message: 'One.' })]);
    expect(withHint(problems, 'Two.')).toEqual([{ code: 'a', path: 'b', message: 'One. Two.' }]);
    expect(withHint([], 'Two.')).toEqual([]);
  });
});
