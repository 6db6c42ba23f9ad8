import { describe, expect, it } from 'vitest';
import { minutesForInput, minutesFromText } from '#core/shared/time-text.ts';

describe('minutesFromText', () => {
  it.each([
    ['3 h', 180],
    ['3h', 180],
    ['3 hours', 180],
    ['1,5 h', 90],
    ['.5 h', 30],
    ['1:30', 90],
    ['0:05', 5],
    ['1 h 30', 90],
    ['1h30min', 90],
    ['90 min', 90],
    ['90', 90],
    [' 0 ', 0],
  ])('reads %j as %d minutes', (text, minutes) => {
    expect(minutesFromText(text)).toBe(minutes);
  });

  it.each(['', 'three', '1.5', '1:75', '-5', '-1 h', '1e3', '1,5 h 30', ':30', '1:2:3'])('does not read %j', (text) => {
    expect(minutesFromText(text)).toBeNull();
  });

  it('reads back what a box shows, for every minute of a day', () => {
    for (let minutes = 0; minutes <= 1440; minutes += 1)
      expect(minutesFromText(minutesForInput(minutes))).toBe(minutes);
  });
});
