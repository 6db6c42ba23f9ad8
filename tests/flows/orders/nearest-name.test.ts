import { describe, expect, it } from 'vitest';
import { editDistance, nearestName, suggestName } from '#flows/orders/nearest-name.ts';

describe('editDistance', () => {
  // The textbook pair: kitten, sitten, sittin, sitting.
  it.each([
    ['kitten', 'sitting', 3],
    ['', 'abc', 3],
    ['abc', '', 3],
    ['fir', 'fir', 0],
    ['fog', 'frog', 1],
  ])('of %s and %s is %i', (a, b, distance) => {
    expect(editDistance(a, b)).toBe(distance);
  });
});

describe('nearestName', () => {
  const names = ['Heather', 'Oat', 'Fir', 'Winter fair'];

  it('finds a name with two letters swapped, whatever its case and blanks', () => {
    expect(nearestName('  HAETHER ', names)).toBe('Heather');
    expect(nearestName('winter  fare', names)).toBe('Winter fair');
  });

  it('allows one wrong letter in a short name, and no more', () => {
    expect(nearestName('Oak', names)).toBe('Oat');
    expect(nearestName('Elk', names)).toBeNull();
  });

  it('suggests nothing for an empty text or a whole sentence', () => {
    expect(nearestName('', names)).toBeNull();
    expect(nearestName('x'.repeat(61), names)).toBeNull();
  });
});

describe('suggestName', () => {
  it('lists what there is when nothing is near', () => {
    expect(suggestName('zzz', ['Oat', 'Fir'])).toBe('There is Oat, Fir.');
    expect(suggestName('zzz', [])).toBe('There are none yet.');
    expect(suggestName('zzz', 'abcdefghi'.split(''))).toBe('There is a, b, c, d, e, f, g, h and more.');
  });
});
