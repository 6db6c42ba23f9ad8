import type { StyleBody } from '#core/styles/style.ts';

/**
 * The slipper that ships: a flat foot worked from heel to toe and drawn up, a ribbed cuff of its own sewn on.
 * Shape and seam order are common practice; the shares and factors are settings and say where they come from below.
 *
 * girthFactor 0.93 (child 0.95): ease -7 % and -5 % in thick yarn, our own choice: thick fabric wraps tighter than sock
 * fabric. girthFactorFine 0.9: the published sock custom of -10 %. seamShare 0.5: the top seam closes half the length
 * (common practice). cuffShort 0.2 and cuffTurnedDown 0.5 of the foot length, drawUpLimit 16, growth 6 mm: our own choice.
 * Stretch 1.35 (opening) and 1.37 (2x2 rib: 0.70 x 1.96, one published rib test): ours from published figures.
 */
export const twoPieceSlipper: StyleBody = {
  style: 'Two-piece slipper',
  format: 1,
  make: 2,
  roles: [
    { name: 'foot', words: 'Foot' },
    { name: 'cuff', words: 'Cuff' },
  ],
  settings: {
    girthFactor: 0.93,
    girthFactorFine: 0.9,
    lengthFactor: 1,
    growthMm: 0,
    seamShare: 0.5,
    cuffShort: 0.2,
    cuffTurnedDown: 0.5,
    joinRows: 2,
    drawUpLimit: 16,
  },
  settingsForChild: { girthFactor: 0.95, growthMm: 6 },
  lengths: {
    width: { sum: [{ of: 'ballGirth', times: 'girthFactor' }] },
    length: { sum: [{ of: 'footLength', times: 'lengthFactor' }, { mm: 'growthMm' }] },
    cuffTall: { sum: [{ of: 'cuffHeight', times: 1 }] },
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
          stitches: { across: 'width', fabric: 'stocking', edges: 2, repeat: 1, plus: 0, least: 8 },
        },
        {
          name: 'sole and sides',
          do: 'work',
          colour: 'foot',
          fabric: 'stocking',
          rows: { along: 'length', lessRows: ['start', 'toe'], endAfter: 'wrong side', least: 5 },
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
    {
      name: 'cuff',
      isOptional: true,
      gaugeOf: 'cuff',
      sections: [
        {
          name: 'start',
          do: 'castOn',
          colour: 'foot',
          next: 'right side',
          stitches: {
            alongEdge: ['foot.left.open', 'foot.right.open'],
            fabric: 'stocking',
            edges: 2,
            repeat: 4,
            plus: 2,
            least: 10,
            raiseUntil: 'heel through cuff',
          },
        },
        { name: 'join rows', do: 'work', colour: 'foot', fabric: 'rib 2x2', rows: { count: 'joinRows' } },
        {
          name: 'rib',
          do: 'work',
          colour: 'cuff',
          fabric: 'rib 2x2',
          firstRow: 'plain',
          rows: { along: 'cuffTall', lessRows: ['join rows'], endAfter: 'wrong side', least: 2 },
        },
        { name: 'bind off', do: 'bindOff', colour: 'cuff', loose: true },
      ],
    },
  ],
  marks: [
    {
      name: 'open',
      edges: ['foot.left', 'foot.right'],
      to: { oneLess: 'seamShare' },
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
    { name: 'cuff back', edges: [['cuff.left'], ['cuff.right']], colour: 'cuff', takes: null, withTail: 'bind-off' },
    {
      name: 'cuff to foot',
      edges: [['cuff.start'], ['foot.left.open', 'foot.right.open']],
      colour: 'foot',
      takes: null,
      place: 'cuff back seam on the heel seam',
    },
  ],
  checks: [
    {
      name: 'heel through opening',
      edge: ['foot.left.open', 'foot.right.open'],
      stretch: 1.35,
      over: 'heelAnkleGirth',
      otherwise: 'The opening may be too tight for the heel: close less of the top seam.',
    },
    {
      name: 'heel through cuff',
      edge: ['cuff.start'],
      stretch: 1.37,
      over: 'heelAnkleGirth',
      otherwise: 'The cuff may be too tight for the heel: cast on one rib repeat more.',
    },
    {
      name: 'cuff eases on',
      ratio: [['cuff.start'], ['foot.left.open', 'foot.right.open']],
      between: [0.88, 1.15],
      otherwise: 'The cuff and the opening differ in length: ease or gather while sewing it on.',
    },
  ],
};
