import { cuffHeightFor } from '#core/batch/kinds.ts';
import type { Shape } from '#core/batch/lines.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { addIndependent, addShared, type Estimate, scaleEstimate, sdOf } from '#core/shared/estimate.ts';
import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';
import { footFigures } from '#core/sizing/girths.ts';
import { settingsFor } from '#core/styles/settings-of.ts';
import { type SpecWorking, specifyWithWorking } from '#core/styles/specify.ts';
import type { Rates } from '#core/timing/knitter.ts';
import { minutesFigure } from '#core/timing/minutes.ts';
import { operationsInWords } from '#core/timing/operations-words.ts';
import { addStrands } from '#core/yardage/needs.ts';
import { gramsFigure, metresSum } from '#flows/working/yarn-figures.ts';

/** One pair in one hand with all its figures: the same code as the plan, run once more for this pair alone. */
export type PairWorking = SpecWorking & { readonly shape: Shape; readonly body: Body; readonly minutes: Figure };

type Body = NonNullable<Parameters<typeof specifyWithWorking>[2]>;

const cuffHeightRule = rule(
  {
    name: 'cuff height',
    unit: 'mm',
    mark: 'ours',
    source: 'the style: a share of the foot length, to the whole millimetre',
    words: '{foot length} x {cuff share}, to the whole mm',
  },
  (lengthMm: number, share: number) => Math.round(lengthMm * share),
);

function cuffHeightFigure(shape: Shape, footLength: Figure): Figure {
  const settings = settingsFor(shape.style.body, shape.foot.person);
  for (const [wish, name] of [
    ['short', 'cuffShort'],
    ['turned down', 'cuffTurnedDown'],
  ] as const) {
    if (shape.cuffHeightMm === 0 || shape.cuffHeightMm !== cuffHeightFor(wish, settings, shape.foot.lengthMm)) continue;
    const share = given('cuff share', settings[name] ?? 0, 'ratio', 'ours', `a ${wish} cuff`);
    return work(cuffHeightRule, footLength, share);
  }
  return given('cuff height', shape.cuffHeightMm, 'mm', 'yours', shape.cuffHeightMm === 0 ? 'no cuff' : 'as asked for');
}

/**
 * Everything about one pair in one hand, down to the label or the measured foot.
 *
 * @param footLength where the foot's length came from; its value is the shape's
 */
export function workPair(shape: Shape, hand: Hand, footLength: Figure, rates: Rates): PairWorking {
  const girths = footFigures(shape.foot, footLength);
  const body: Body = {
    footLength: girths.length,
    ballGirth: girths.ballGirth,
    heelAnkleGirth: girths.heelAnkleGirth,
    cuffHeight: cuffHeightFigure(shape, footLength),
  };
  const working = specifyWithWorking(shape, hand, body);
  const counted = operationsInWords(working.worked, working.right);
  return { ...working, shape, body, minutes: minutesFigure(working.spec.operations, rates, counted).total };
}

const halvedRule = rule(
  {
    name: 'stitches left to draw up',
    unit: 'stitches',
    mark: 'trade',
    source: 'two together all across; an odd stitch is knitted alone (common practice)',
    words: '{stitches} / 2, up to the whole stitch',
  },
  (stitches: number) => Math.ceil(stitches / 2),
);

function toeFigure({ worked }: PairWorking): Figure | null {
  const foot = worked.pieces[0]!;
  if (foot.lastStitches === foot.castOn.value) return null;
  let figure = foot.castOn;
  while (figure.value > foot.lastStitches) figure = work(halvedRule, figure);
  if (figure.value === foot.lastStitches) return figure;
  // Shaped in another way than by halving: the style says how many are left.
  return given('stitches left to draw up', foot.lastStitches, 'stitches', 'ours', 'the shaping of the style');
}

/** How far the yarn of a pair may lie to either side: within a yarn and fabric the error is one and the same. */
function yarnSd({ metres, spec }: PairWorking, perM: (tex: number) => number): number {
  const held = new Map<string, { group: string; amount: Estimate }>();
  for (const [index, { yarn, fabric, role }] of metres.entries()) {
    const own = scaleEstimate(spec.metres[index]!.metres, perM(yarn.tex));
    const known = held.get(`${role}/${fabric}`);
    const amount = known ? addStrands(known.amount, own) : own;
    held.set(`${role}/${fabric}`, { group: known?.group ?? `${yarn.id}/${fabric}`, amount });
  }
  const groups = new Map<string, Estimate[]>();
  for (const { group, amount } of held.values()) groups.set(group, [...(groups.get(group) ?? []), amount]);
  return sdOf(addIndependent([...groups.values()].map(addShared)));
}

const cuffOf = ({ worked }: PairWorking) => worked.pieces.find((each) => each.piece.isOptional);

type PairFigure = {
  readonly area: 'sizing' | 'gauge' | 'yardage' | 'timing';
  readonly about: string;
  readonly pick: (pair: PairWorking) => Figure | null | undefined;
  /** Said when this pair has no such figure. */
  readonly absent?: string;
};

const noCuff = 'This pair has no cuff, so there is nothing to reckon. Go back and choose a pair with one.';
const noMark = 'This style has no opening of its own, so there is nothing to reckon.';
const noToe = 'This style has no toe that is drawn in, so there is nothing to reckon.';

/** Figures of a pair that can be opened, by the name in their address. */
const pairFigures: Readonly<Record<string, PairFigure>> = {
  'foot-length': { area: 'sizing', about: 'The length of the foot.', pick: ({ body }) => body.footLength },
  'ball-girth': { area: 'sizing', about: 'Around the ball of the foot.', pick: ({ body }) => body.ballGirth },
  'heel-girth': {
    area: 'sizing',
    about: 'Around the heel and the front of the ankle.',
    pick: ({ body }) => body.heelAnkleGirth,
  },
  'heel-check': {
    area: 'sizing',
    about: 'What the stretched opening, and the stretched cuff, must let through.',
    pick: ({ worked }) => worked.needed,
  },
  width: {
    area: 'sizing',
    about: 'The finished foot piece, flat from seam to seam.',
    pick: ({ worked }) => worked.pieces[0]?.width,
  },
  length: {
    area: 'sizing',
    about: 'The finished foot piece, from the cast-on edge to the row that is drawn up.',
    pick: ({ worked }) => worked.pieces[0]?.length,
  },
  'cast-on': {
    area: 'sizing',
    about: 'Stitches to cast on for the foot.',
    pick: ({ worked }) => worked.pieces[0]?.castOn,
  },
  rows: {
    area: 'sizing',
    about: 'Rows of the foot in all, the cast-on row counted.',
    pick: ({ worked }) => worked.pieces[0]?.totalRows,
  },
  mark: {
    area: 'sizing',
    about: 'Rows from the cast-on to the mark, where the top seam begins.',
    pick: ({ worked }) => worked.marks[0]?.rows,
    absent: noMark,
  },
  opening: {
    area: 'sizing',
    about: 'The edge left open for the foot to go in, both sides together.',
    pick: ({ worked }) => worked.marks[0]?.edge,
    absent: noMark,
  },
  toe: { area: 'sizing', about: 'Stitches left at the toe, to draw the yarn through.', pick: toeFigure, absent: noToe },
  cuff: {
    area: 'sizing',
    about: 'Stitches to cast on for the cuff.',
    pick: (pair) => cuffOf(pair)?.castOn,
    absent: noCuff,
  },
  'cuff-rows': {
    area: 'sizing',
    about: 'Rows of the cuff in all, the cast-on row counted.',
    pick: (pair) => cuffOf(pair)?.totalRows,
    absent: noCuff,
  },
  'heel-to-toe': {
    area: 'sizing',
    about: 'The finished slipper lying flat, from heel to toe.',
    pick: ({ heelToToe }) => heelToToe,
  },
  ease: {
    area: 'sizing',
    about: 'The finished width against the foot around its ball; less than nothing is snug.',
    pick: ({ girthEase }) => girthEase,
  },
  stitches: {
    area: 'gauge',
    about: 'Stitches in 10 cm of stocking stitch.',
    pick: ({ worked }) => worked.pieces[0]?.gauge.stitches,
  },
  loop: {
    area: 'gauge',
    about: 'Yarn in one stitch of stocking stitch.',
    pick: ({ worked }) => worked.pieces[0]?.gauge.loop,
  },
  grams: {
    area: 'yardage',
    about: 'Yarn in the pair, all colours together.',
    pick: (pair) =>
      withSd(
        gramsFigure('yarn in the pair', pair.metres),
        yarnSd(pair, (tex) => tex / 1000),
      ),
  },
  metres: {
    area: 'yardage',
    about: 'Yarn in the pair, all colours and strands together.',
    pick: (pair) =>
      withSd(
        metresSum('yarn in the pair', pair.metres),
        yarnSd(pair, () => 1),
      ),
  },
  minutes: {
    area: 'timing',
    about: 'Work on the pair, both slippers, sewing up included.',
    pick: ({ minutes }) => minutes,
  },
};

export type FoundFigure = { readonly figure: Figure; readonly about: string; readonly area: PairFigure['area'] };

/** A figure of a pair by its name; null for a name that is none, a sentence when this pair has no such figure. */
export function pairFigure(pair: PairWorking, name: string): FoundFigure | string | null {
  const found = Object.hasOwn(pairFigures, name) ? pairFigures[name]! : null;
  if (!found) return null;
  const figure = found.pick(pair);
  return figure ? { figure, about: found.about, area: found.area } : (found.absent ?? noMark);
}

/** Names of all figures that a pair can open, with their areas. */
export const pairFigureNames: readonly { readonly name: string; readonly area: PairFigure['area'] }[] = Object.entries(
  pairFigures,
).map(([name, { area }]) => ({ name, area }));

/**
 * A figure of a pair that need not be stored, with its whole working.
 *
 * @param shape what is knitted
 * @param hand whose gauge counts
 * @param footFigure where the foot's length came from
 * @param rates for the time
 * @param figureName as in the address: `cast-on`, `grams`, `minutes`
 */
export function figureTree(
  shape: Shape,
  hand: Hand,
  footFigure: Figure,
  rates: Rates,
  figureName: string,
): FoundFigure | string | null {
  return pairFigure(workPair(shape, hand, footFigure, rates), figureName);
}
