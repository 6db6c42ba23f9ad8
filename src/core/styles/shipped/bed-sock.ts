import type { StyleBody } from '#core/styles/style.ts';

/**
 * A bed sock: a tube with a ribbed top, drawn up at the toe, one seam along the sole. It has no turned heel and says so.
 * Shape from memory; no ease around the foot, and 1.7 of the foot length from rib to toe: our own choice.
 */
export const bedSock: StyleBody = {
  style: 'Bed sock (a tube)',
  format: 1,
  make: 2,
  roles: [
    { name: 'cuff', words: 'Cuff' },
    { name: 'foot', words: 'Foot' },
  ],
  settings: { girthFactor: 1, tubeLength: 1.7, growthMm: 0, ribRows: 8, drawUpLimit: 16 },
  settingsForChild: { growthMm: 6 },
  lengths: {
    width: { sum: [{ of: 'ballGirth', times: 'girthFactor' }] },
    tube: { sum: [{ of: 'footLength', times: 'tubeLength' }, { mm: 'growthMm' }] },
  },
  pieces: [
    {
      name: 'sock',
      isOptional: false,
      gaugeOf: 'foot',
      sections: [
        {
          name: 'start',
          do: 'castOn',
          colour: 'cuff',
          next: 'right side',
          stitches: {
            across: 'width',
            fabric: 'stocking',
            edges: 2,
            repeat: 4,
            plus: 2,
            least: 10,
            raiseUntil: 'heel through top',
          },
        },
        { name: 'rib', do: 'work', colour: 'cuff', fabric: 'rib 2x2', rows: { count: 'ribRows' } },
        {
          name: 'tube',
          do: 'work',
          colour: 'foot',
          fabric: 'stocking',
          rows: { along: 'tube', lessRows: ['toe'], endAfter: 'wrong side', least: 6 },
        },
        {
          name: 'toe',
          do: 'change',
          colour: 'foot',
          how: 'two together across',
          repeatWhileAbove: 'drawUpLimit',
          plainRowsBetween: 1,
        },
        { name: 'draw up', do: 'drawUp', colour: 'foot' },
      ],
    },
  ],
  marks: [],
  joins: [{ name: 'sole', edges: [['sock.left'], ['sock.right']], colour: 'foot', takes: null, withTail: 'draw-up' }],
  checks: [
    {
      name: 'heel through top',
      edge: ['sock.start'],
      stretch: 1.37,
      over: 'heelAnkleGirth',
      otherwise: 'The top may be too tight for the heel: cast on one rib repeat more.',
    },
  ],
};
