import type { StyleBody } from '#core/styles/style.ts';

/**
 * A bootie in one piece: sole and sides in garter stitch, shaped over the instep, a ribbed leg. No ties, no buttons,
 * nothing small. Shape from memory, numbers our own choice.
 */
export const babyBootie: StyleBody = {
  style: 'Baby bootie',
  format: 1,
  make: 2,
  roles: [
    { name: 'foot', words: 'Foot' },
    { name: 'leg', words: 'Leg' },
  ],
  settings: { soleLength: 2, soleRoomMm: 12, sideShare: 0.5, legGirth: 1, legHeight: 0.45 },
  settingsForChild: {},
  lengths: {
    sole: { sum: [{ of: 'footLength', times: 'soleLength' }, { mm: 'soleRoomMm' }] },
    side: { sum: [{ of: 'ballGirth', times: 'sideShare' }] },
    ankle: { sum: [{ of: 'ballGirth', times: 'legGirth' }] },
    leg: { sum: [{ of: 'footLength', times: 'legHeight' }] },
  },
  pieces: [
    {
      name: 'bootie',
      isOptional: false,
      gaugeOf: 'foot',
      sections: [
        {
          name: 'start',
          do: 'castOn',
          colour: 'foot',
          next: 'wrong side',
          stitches: { across: 'sole', fabric: 'garter', edges: 2, repeat: 4, plus: 2, least: 14 },
        },
        {
          name: 'sides',
          do: 'work',
          colour: 'foot',
          fabric: 'garter',
          rows: { along: 'side', lessRows: ['start', 'instep'], endAfter: 'wrong side', least: 3 },
        },
        {
          name: 'instep',
          do: 'change',
          colour: 'foot',
          how: 'centre',
          fabric: 'garter',
          by: 4,
          everyRows: 2,
          to: {
            across: 'ankle',
            fabric: 'stocking',
            edges: 2,
            repeat: 4,
            plus: 2,
            least: 10,
            raiseUntil: 'heel through leg',
          },
        },
        {
          name: 'leg',
          do: 'work',
          colour: 'leg',
          fabric: 'rib 2x2',
          firstRow: 'plain',
          rows: { along: 'leg', lessRows: [], endAfter: 'wrong side', least: 2 },
        },
        { name: 'bind off', do: 'bindOff', colour: 'leg', loose: true },
      ],
    },
  ],
  marks: [],
  joins: [
    { name: 'sole', fold: 'bootie.start', colour: 'foot', takes: null, withTail: 'cast-on' },
    { name: 'back', edges: [['bootie.left'], ['bootie.right']], colour: 'foot', takes: null },
  ],
  checks: [
    {
      name: 'heel through leg',
      edge: ['bootie.end'],
      stretch: 1.37,
      over: 'heelAnkleGirth',
      otherwise: 'The leg may be too tight for the heel: leave more stitches over the instep.',
    },
  ],
};
