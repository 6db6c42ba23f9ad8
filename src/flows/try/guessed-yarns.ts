import type { Yarn } from '#core/gauge/hand.ts';
import type { YarnChoice } from '#flows/try/try-pair.ts';

const usual = { fibre: null, ballMg: 100_000, usualStitches: null, needleMm: null };

const bulky: Yarn = { ...usual, id: -1, name: 'Bulky yarn', tex: 1000, category: 5 };
const medium: Yarn = { ...usual, id: -2, name: 'Medium yarn, two strands', tex: 500, category: 4 };

/** Yarns to try with before the workshop has any: the usual two for such slippers, thickness guessed from the band. */
export const guessedYarns: YarnChoice[] = [
  {
    value: 'bulky',
    words: 'Bulky (chunky), one strand: 100 m in 100 g',
    imperialWords: 'Bulky (chunky), one strand: 109 yd in 3.5 oz',
    strands: [bulky],
    hexes: ['#3e5f8a'],
    yarnColourId: null,
  },
  {
    value: 'medium',
    words: 'Medium (aran, worsted), two strands held together: 200 m in 100 g',
    imperialWords: 'Medium (aran, worsted), two strands held together: 219 yd in 3.5 oz',
    strands: [medium, medium],
    hexes: ['#4f7048'],
    yarnColourId: null,
  },
];
