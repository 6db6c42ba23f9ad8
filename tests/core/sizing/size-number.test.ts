import { describe, expect, it } from 'vitest';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

describe('parseSizeNumber', () => {
  it.each([
    ['38', 38],
    ['38.5', 38.5],
    ['38,5', 38.5],
    ['38 1/2', 38.5],
    ['38-1/2', 38.5],
    ['38½', 38.5],
    ['38 ½', 38.5],
    ['38 2/3', 38 + 2 / 3],
    ['½', 0.5],
    ['0', 0],
    ['  41 ', 41],
    ['245', 245],
  ])('reads “%s” as %d', (text, value) => {
    expect(parseSizeNumber(text)).toBeCloseTo(value, 12);
  });

  it.each(['', ' ', 'M', '36/37', '36-37', '38..5', '-38', '1e3', '38 1/7', '38 5/4', '1234', 'NaN', '38½½'])(
    'does not read “%s”',
    (text) => {
      expect(parseSizeNumber(text)).toBeNull();
    },
  );
});
