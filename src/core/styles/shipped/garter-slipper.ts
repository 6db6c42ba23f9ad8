import type { StyleBody } from '#core/styles/style.ts';

/**
 * A slipper in one piece: garter stitch around the heel, ribs over the instep, drawn up at the toe. Shape from memory,
 * numbers our own choice: 0.96 of the foot length and 0.45 of it closed, since garter stitch gives lengthwise; stretch
 * 1.6 of a garter edge.
 */
export const garterSlipper: StyleBody = {
  style: 'Garter slipper',
  format: 1,
  make: 2,
  roles: [{ name: 'foot', words: 'Foot' }],
  settings: {
    girthFactor: 0.93,
    girthFactorFine: 0.9,
    garterLength: 0.528,
    ribLength: 0.432,
    growthMm: 0,
    drawUpLimit: 16,
  },
  settingsForChild: { girthFactor: 0.95, growthMm: 6 },
  lengths: {
    width: { sum: [{ of: 'ballGirth', times: 'girthFactor' }] },
    heelPart: { sum: [{ of: 'footLength', times: 'garterLength' }] },
    toePart: { sum: [{ of: 'footLength', times: 'ribLength' }, { mm: 'growthMm' }] },
    length: {
      sum: [{ of: 'footLength', times: 'garterLength' }, { of: 'footLength', times: 'ribLength' }, { mm: 'growthMm' }],
    },
  },
  pieces: [
    {
      name: 'foot',
      isOptional: false,
      gaugeOf: 'foot',
      sections: [
        {
          name: 'start',
          do: 'castOn',
          colour: 'foot',
          next: 'wrong side',
          stitches: { across: 'width', fabric: 'garter', edges: 2, repeat: 1, plus: 0, least: 8 },
        },
        {
          name: 'heel part',
          do: 'work',
          colour: 'foot',
          fabric: 'garter',
          rows: { along: 'heelPart', lessRows: ['start'], endAfter: 'wrong side', least: 3 },
        },
        {
          name: 'instep',
          do: 'work',
          colour: 'foot',
          fabric: 'rib 1x1',
          rows: { along: 'toePart', lessRows: ['toe'], endAfter: 'wrong side', least: 2 },
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
  marks: [
    {
      name: 'open',
      edges: ['foot.left', 'foot.right'],
      to: { after: 'heel part' },
      raiseUntil: 'heel through opening',
    },
  ],
  joins: [
    { name: 'heel', fold: 'foot.start', colour: 'foot', takes: null, withTail: 'cast-on' },
    {
      name: 'top',
      edges: [['foot.left.rest'], ['foot.right.rest']],
      colour: 'foot',
      takes: null,
      withTail: 'draw-up',
    },
  ],
  checks: [
    {
      name: 'heel through opening',
      edge: ['foot.left.open', 'foot.right.open'],
      stretch: 1.6,
      over: 'heelAnkleGirth',
      otherwise: 'The opening may be too tight for the heel: work more of the foot in garter stitch.',
    },
  ],
};
