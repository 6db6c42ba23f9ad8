import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Piece, StyleBody } from '#core/styles/style.ts';

const [foot, cuff] = twoPieceSlipper.pieces as readonly [Piece, Piece];
const [start, , toe, drawUp] = foot.sections;

/**
 * The two-piece slipper with its toe in another colour, good for ends of yarn: the last rows of the foot, the toe and the
 * draw-up are worked in it, and the top seam is sewn with the drawn-up end of it. Our own choice: 8 rows.
 */
export const contrastToeSlipper: StyleBody = {
  ...twoPieceSlipper,
  style: 'Two-piece slipper, contrast toe',
  roles: [...twoPieceSlipper.roles, { name: 'toe', words: 'Toe' }],
  settings: { ...twoPieceSlipper.settings, toeRows: 8 },
  pieces: [
    {
      ...foot,
      sections: [
        start!,
        {
          name: 'sole and sides',
          do: 'work',
          colour: 'foot',
          fabric: 'stocking',
          rows: { along: 'length', lessRows: ['start', 'toe part', 'toe'], endAfter: 'wrong side', least: 3 },
        },
        {
          name: 'toe part',
          do: 'work',
          colour: 'toe',
          fabric: 'stocking',
          rows: { count: 'toeRows' },
        },
        { ...toe!, colour: 'toe' },
        { ...drawUp!, colour: 'toe' },
      ],
    },
    cuff,
  ],
  joins: twoPieceSlipper.joins.map((join) => (join.name === 'top' ? { ...join, colour: 'toe' } : join)),
};
