import { describe, expect, it } from 'vitest';
import { ballWords } from '#views/pages/shelf/yarn-words.ts';

const words = (grams: readonly number[], ballG: number) =>
  ballWords(
    grams.map((each) => each * 1000),
    ballG * 1000,
  ).replaceAll('\u00a0', ' ');

describe('ballWords', () => {
  it('tells whole balls from part balls', () => {
    expect(words([100, 43, 100, 12, 100], 100)).toBe('3 balls of 100 g, part balls of 43 g and 12 g');
    expect(words([43], 100)).toBe('part ball of 43 g');
    expect(words([100], 100)).toBe('1 ball of 100 g');
    expect(words([], 100)).toBe('');
  });

  it('calls balls of another size by their own, not part balls', () => {
    expect(words([50, 50, 50, 22], 100)).toBe('3 balls of 50 g, part ball of 22 g');
    expect(words([200, 100, 50, 50], 100)).toBe('1 ball of 200 g, 1 ball of 100 g, 2 balls of 50 g');
  });

  it('names four part balls, then how many more', () => {
    expect(words([61, 52, 43, 34, 25, 16], 100)).toBe('part balls of 61 g, 52 g, 43 g, 34 g and 2 more');
  });
});
