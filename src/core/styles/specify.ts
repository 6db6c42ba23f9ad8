import type { Shape } from '#core/batch/lines.ts';
import { childFibreWords } from '#core/gauge/fibre-words.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { type Figure, work } from '#core/shared/figure.ts';
import type { Problem } from '#core/shared/problem.ts';
import { countRules } from '#core/styles/count-rules.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import type { FinishedMeasures, PieceCounts, Spec } from '#core/styles/spec.ts';
import { type BodyFigures, bodyFigures, type WorkedPiece, type WorkedStyle, workOut } from '#core/styles/work-out.ts';
import { operationsOf } from '#core/timing/operations.ts';
import { type MetresFigure, metresFigures, metresOf } from '#core/yardage/metres.ts';

/** Ease further than this from the ease wished is warned of. Our own choice. */
const easeToleranceRatio = 0.03;
/** Square root of tex over loop length in cm below which fabric is loose for a sole. Our own choice. */
const leastFirmness = 10;

/** Specs by shape and hand; the key is `specKey(shape, hand)`. */
export type Specs = ReadonlyMap<string, Spec>;

/**
 * The key of a shape in a hand.
 *
 * @example specKey({ key: 'a' }, { key: 'b' }) // => 'a|b'
 */
export function specKey(shape: { readonly key: string }, hand: { readonly key: string }): string {
  return `${shape.key}|${hand.key}`;
}

/** A spec with every figure it came from, for opening the working. */
export type SpecWorking = {
  readonly spec: Spec;
  readonly worked: WorkedStyle;
  /** The other slipper; the same object where they are alike. */
  readonly right: WorkedStyle;
  readonly metres: readonly MetresFigure[];
  readonly heelToToe: Figure;
  readonly girthEase: Figure;
  readonly lengthEase: Figure;
};

function countsOf(piece: WorkedPiece): PieceCounts {
  return {
    name: piece.piece.name,
    castOnStitches: piece.castOn.value,
    totalRows: piece.totalRows.value,
    lastStitches: piece.lastStitches,
    stitchesPer10Cm: piece.gauge.stitches.value,
    rowsPer10Cm: piece.gauge.rows.value,
    widthMm: piece.width.value,
    lengthMm: piece.length.value,
    sections: piece.sections.map(({ section, step, stitchesBefore, stitchesAfter, rows, startsOn }) => ({
      name: section.name,
      step,
      do: section.do,
      how: section.do === 'change' ? section.how : null,
      role: section.colour,
      fabric: section.do === 'work' ? section.fabric : null,
      stitchesBefore,
      stitchesAfter,
      rows,
      startsOn,
    })),
  };
}

function cuffMeasures(worked: WorkedStyle): Pick<FinishedMeasures, 'cuffFlatMm' | 'cuffRelaxedMm' | 'cuffHeightMm'> {
  const cuff = worked.pieces.find((each) => each.piece.isOptional);
  if (!cuff) return { cuffFlatMm: null, cuffRelaxedMm: null, cuffHeightMm: null };
  const section = cuff.sections.findLast((each) => each.section.do === 'work')?.section;
  const fabric = fabricNamed(section?.do === 'work' ? section.fabric : 'stocking');
  return {
    cuffFlatMm: cuff.width.value,
    cuffRelaxedMm: countRules.relaxed.formula(cuff.width.value, fabric.relaxedWidthRatio),
    cuffHeightMm: cuff.length.value,
  };
}

function warningsOf(worked: WorkedStyle, girthEase: number, lengthEase: number): Problem[] {
  const main = worked.pieces[0]!;
  const { shape } = worked;
  const warnings: Problem[] = [...worked.warnings];
  const wishedGirthEase = worked.lengths.width
    ? worked.lengths.width.value / worked.body.ballGirth.value - 1
    : girthEase;
  if (Math.abs(girthEase - wishedGirthEase) > easeToleranceRatio) {
    const way = girthEase < wishedGirthEase ? 'narrower' : 'wider';
    const points = Math.abs((girthEase - wishedGirthEase) * 100).toFixed(0);
    const isRaised = main.castOn.rule.name === countRules.raised.name;
    const message = isRaised
      ? `It is ${points} points ${way} than wished, so that the heel passes.`
      : `Whole stitches make this ${points} points ${way} than wished: try another needle.`;
    warnings.push({ code: 'girth-ease', path: 'width', message });
  }
  if (Math.abs(lengthEase) > easeToleranceRatio) {
    const way = lengthEase < 0 ? 'shorter' : 'longer';
    warnings.push({
      code: 'length-ease',
      path: 'length',
      message: `Whole rows make this ${Math.abs(lengthEase * 100).toFixed(0)} points ${way} than wished.`,
    });
  }
  const firmness = Math.sqrt(main.gauge.texTotal) / main.gauge.loop.value;
  if (firmness < leastFirmness) {
    warnings.push({
      code: 'loose-sole',
      path: 'gauge',
      message: 'This fabric is loose for a sole: a thinner needle or thicker yarn wears better.',
    });
  }
  if (main.gauge.source === 'guess') {
    warnings.push({
      code: 'gauge-guessed',
      path: 'gauge',
      message:
        'The gauge is a guess from the yarn. Knit a swatch, or let the first foot be one, and enter its stitches.',
    });
  }
  const fibre = childFibreWords(shape);
  if (fibre !== null) warnings.push({ code: 'fibre-unknown', path: 'yarn', message: fibre });
  return warnings;
}

type MeasureFigures = {
  readonly measures: FinishedMeasures;
  readonly heelToToe: Figure;
  readonly girthEase: Figure;
  readonly lengthEase: Figure;
};

function measuresOf(worked: WorkedStyle): MeasureFigures {
  const main = worked.pieces[0]!;
  const girthEase = work(countRules.ease, main.width, worked.body.ballGirth);
  const lengthEase = work(countRules.ease, main.length, worked.lengths.length ?? main.length);
  const heelToToe = work(countRules.heelToToe, main.length, main.width);
  const mark = worked.marks[0];
  const measures = {
    widthMm: main.width.value,
    lengthMm: main.length.value,
    heelToToeMm: heelToToe.value,
    openingMm: mark?.edge.value ?? 0,
    ...cuffMeasures(worked),
    markRows: mark?.rows.value ?? 0,
    girthEaseRatio: girthEase.value,
    lengthEaseRatio: lengthEase.value,
  };
  return { measures, heelToToe, girthEase, lengthEase };
}

function warningsOfPair(worked: WorkedStyle, figures: MeasureFigures, right: WorkedStyle): Problem[] {
  const left = warningsOf(worked, figures.girthEase.value, figures.lengthEase.value);
  if (right === worked) return left;
  const own = measuresOf(right);
  const ofRight = warningsOf(right, own.girthEase.value, own.lengthEase.value);
  const known = new Set(left.map((warning) => warning.message));
  return [
    ...left,
    ...ofRight
      .filter((warning) => !known.has(warning.message))
      .map((warning) => ({ ...warning, message: `Right foot: ${warning.message}` })),
  ];
}

/**
 * What one hand knits for one shape, with all its working. Opening a figure and planning run this same code.
 *
 * @param shape the shape; `body` may bring the (left) foot's measures with a working of their own
 * @returns the spec and the figures behind it; the spec's numbers are the figures' values
 */
export function specifyWithWorking(shape: Shape, hand: Hand, body: BodyFigures = bodyFigures(shape)): SpecWorking {
  const worked = workOut(shape, hand, body);
  // The right foot has its own counts only where it differs; otherwise both slippers are one.
  const right = shape.right === null ? worked : workOut({ ...shape, foot: shape.right, right: null }, hand);
  const metres = metresFigures(worked, right);
  const { measures, ...figures } = measuresOf(worked);
  const spec: Spec = {
    shapeKey: shape.key,
    handKey: hand.key,
    pieces: worked.pieces.map(countsOf),
    measures,
    right: right === worked ? null : { pieces: right.pieces.map(countsOf), measures: measuresOf(right).measures },
    metres: metresOf(metres),
    operations: operationsOf(worked, right),
    isGaugeGuessed: worked.pieces.some((piece) => piece.gauge.source === 'guess'),
    warnings: warningsOfPair(worked, { measures, ...figures }, right),
  };
  return { spec, worked, right, metres, ...figures };
}

/**
 * Counts, yarn and handwork for every shape in every hand, each once.
 *
 * @param shapes distinct by key; an empty list gives an empty map
 * @param hands distinct by key
 */
export function specify(shapes: readonly Shape[], hands: readonly Hand[]): Specs {
  const specs = new Map<string, Spec>();
  for (const shape of shapes) {
    for (const hand of hands) specs.set(specKey(shape, hand), specifyWithWorking(shape, hand).spec);
  }
  return specs;
}
