import { describe, expect, it } from 'vitest';
import { sharesTooMany } from '#core/shelf/fibre.ts';

describe('sharesTooMany', () => {
  it.each([
    ['90% wool, 90% nylon', 1.8],
    ['80 % wool 21 % nylon', 1.01],
    ['60 percent wool, 60 per cent alpaca', 1.2],
    ['100% wool, 5% silk', 1.05],
    ['75,5% wool 75.5% nylon', 1.51],
  ])('"%s" is more than the whole: %f', (fibre, ratio) => {
    expect(sharesTooMany(fibre)).toBeCloseTo(ratio, 9);
  });

  it.each(['', 'wool', '100% wool', '80% wool 20% nylon', '50% wool', '33.4% a, 33.4% b, 33.4% c', '300 wool'])(
    '"%s" is not',
    (fibre) => {
      expect(sharesTooMany(fibre)).toBeNull();
    },
  );
});
