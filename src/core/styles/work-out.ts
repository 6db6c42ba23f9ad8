import type { Shape } from '#core/batch/lines.ts';
import { gaugeOf } from '#core/gauge/gauge.ts';
import type { Hand, Yarn } from '#core/gauge/hand.ts';
import { type Figure, given, sumOf, work } from '#core/shared/figure.ts';
import { formatNumber } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { countRules, girthSafetyMm } from '#core/styles/count-rules.ts';
import { checkNamed, type Edges, edgeLength, edgesOfCheck, holds } from '#core/styles/edges.ts';
import { StyleFault } from '#core/styles/fault.ts';
import { factorValue, fineTex, fitShift, girthFactorByTex, settingsFor, thickTex } from '#core/styles/settings-of.ts';
import type { BodyMeasure, EdgeName, Join, Mark, StyleBody } from '#core/styles/style.ts';
import { beginningOf, lengthToRow, mostRaises, type WorkedPiece, workPiece } from '#core/styles/work-piece.ts';

export type { WorkedPiece, WorkedSection } from '#core/styles/work-piece.ts';

/** The body measures a style may use, as figures. */
export type BodyFigures = Readonly<Record<BodyMeasure, Figure>>;

export type WorkedMark = {
  readonly name: string;
  readonly rows: Figure;
  readonly edge: Figure;
  readonly length: Figure;
};
export type WorkedSeam = { readonly join: Join; readonly lengthMm: number; readonly length: Figure };

/** A style knitted in numbers: every piece, mark, seam and check, with the figures they came from. One slipper. */
export type WorkedStyle = {
  readonly shape: Shape;
  readonly handKey: string;
  readonly body: BodyFigures;
  readonly lengths: Readonly<Record<string, Figure>>;
  readonly needed: Figure;
  readonly pieces: readonly WorkedPiece[];
  readonly marks: readonly WorkedMark[];
  readonly seams: readonly WorkedSeam[];
  readonly warnings: readonly Problem[];
};

/**
 * The body measures of a shape as figures: given numbers, unless figures with their own working are handed in.
 *
 * @param shape foot measures and cuff height in mm
 */
export function bodyFigures(shape: Shape): BodyFigures {
  const { foot } = shape;
  const mark = (isMeasured: boolean) => (isMeasured ? 'yours' : foot.person === 'child' ? 'ours' : 'published');
  const words = (isMeasured: boolean) => (isMeasured ? 'measured' : 'estimated from the length');
  const { isBallGirthMeasured: isBall, isHeelAnkleGirthMeasured: isHeel } = foot;
  return {
    footLength: given('foot length', foot.lengthMm, 'mm', 'yours', 'of this foot'),
    ballGirth: given('ball girth', foot.ballGirthMm, 'mm', mark(isBall), words(isBall)),
    heelAnkleGirth: given('heel-ankle girth', foot.heelAnkleGirthMm, 'mm', mark(isHeel), words(isHeel)),
    cuffHeight: given('cuff height', shape.cuffHeightMm, 'mm', 'yours', 'as for the other foot'),
  };
}

/** Between two thicknesses the factor lies in between, which is said with its numbers. */
function factorWords(factor: number, thick: number, tex: number): string {
  if (factor === thick) return `the style, for yarn from ${thickTex} tex`;
  const between = tex > fineTex ? `; here ${formatNumber(tex, 1)} tex, evenly between that and ${thick}` : '';
  return `the style, for yarn up to ${fineTex} tex${between}`;
}

function easedGirth(shape: Shape, body: BodyFigures, tex: number): Figure {
  const settings = settingsFor(shape.style.body, shape.foot.person);
  const thick = factorValue('girthFactor', settings);
  const factor = girthFactorByTex(thick, settings.girthFactorFine ?? thick, tex);
  return work(
    countRules.easedGirth,
    body.ballGirth,
    given('girth factor', factor, 'ratio', 'ours', factorWords(factor, thick, tex)),
    given('fit', fitShift[shape.fit], 'ratio', 'ours', `${shape.fit} fit`),
  );
}

const noLength = given('edge', 0, 'mm', 'ours', 'nothing is sewn here');
const noSafety = given('safety', 0, 'mm', 'ours', 'the girth was measured');
const usualSafety = given('safety', girthSafetyMm, 'mm', 'ours', 'the girth was estimated');

/** Nothing worn on a foot is longer; a slip of the pen must not be knitted row by row. */
const mostLengthMm = 3000;

function workLengths(shape: Shape, body: BodyFigures, tex: number): Record<string, Figure> {
  const settings = settingsFor(shape.style.body, shape.foot.person);
  const lengths: Record<string, Figure> = {};
  for (const [name, { sum }] of Object.entries(shape.style.body.lengths)) {
    const parts = sum.map((part) => {
      if ('mm' in part) return given('growth and room', factorValue(part.mm, settings), 'mm', 'ours', 'the style');
      const measure = body[part.of];
      if (!measure) throw new StyleFault(`lengths.${name}`, `There is no body measure called ${part.of}.`);
      if (part.of === 'ballGirth' && part.times === 'girthFactor') return easedGirth(shape, body, tex);
      const share = factorValue(part.times, settings);
      if (share === 1) return measure;
      return work(countRules.share, measure, given(String(part.times), share, 'ratio', 'ours', 'the style'));
    });
    const length = sumOf(
      `${name} wished`,
      'mm',
      parts.filter((part) => part.value !== 0),
    );
    if (!(length.value >= 0)) throw new StyleFault(`lengths.${name}`, 'This length comes out below zero.');
    if (length.value > mostLengthMm) throw new StyleFault(`lengths.${name}`, 'This length comes out above 3 metres.');
    lengths[name] = length;
  }
  return lengths;
}

/** Rows before a mark: a share of all rows, or up to the end of a named section. */
function markRows(mark: Mark, piece: WorkedPiece, shape: Shape, added: number): Figure {
  const settings = settingsFor(shape.style.body, shape.foot.person);
  const why = added === 0 ? 'the heel passes without' : 'fewer do not let the heel pass';
  const more = given('rows added for the heel', added, 'rows', 'ours', why);
  if (typeof mark.to === 'object' && 'after' in mark.to) {
    const { after } = mark.to;
    const end = piece.runs.findLastIndex((run) => run.section === after);
    if (end < 0)
      throw new StyleFault(`marks.${mark.name}`, `There is no step called ${after} with rows in this piece.`);
    const rows = piece.runs.slice(0, end + 1).reduce((sum, run) => sum + run.rows, 0);
    return work(
      countRules.markAfter,
      given(`rows to the end of ${after}`, rows, 'rows', 'ours', 'counted from the cast-on'),
      more,
    );
  }
  const share =
    typeof mark.to === 'object' ? 1 - factorValue(mark.to.oneLess, settings) : factorValue(mark.to, settings);
  return work(
    countRules.markRows,
    piece.totalRows,
    given('share left open', share, 'ratio', 'trade', 'the style'),
    more,
  );
}

/** Places a mark, one row further toward the end until its check holds. */
function workMark(shape: Shape, mark: Mark, piece: WorkedPiece, edges: Edges, needed: number): WorkedMark {
  const check = checkNamed(shape.style.body, mark.raiseUntil, `marks.${mark.name}`);
  let rows = markRows(mark, piece, shape, 0);
  for (let added = 0; added <= mostRaises; added += 1) {
    const raised = added === 0 ? rows : markRows(mark, piece, shape, added);
    if (raised.value >= piece.totalRows.value) break;
    rows = raised;
    const length = lengthToRow(piece, rows).value;
    for (const edge of mark.edges) {
      edges.set(`${edge}.${mark.name}`, length);
      edges.set(`${edge}.rest`, piece.length.value - length);
    }
    if (!check || holds(check, edges, needed)) break;
  }
  const first = piece.runs[0]!.rowsPer10Cm;
  const isPlain = piece.runs.every((run) => run.rowsPer10Cm.value === first.value);
  const length = lengthToRow(piece, rows);
  const edge = isPlain ? work(countRules.opening, rows, first) : work(countRules.bothSides, length);
  return { name: mark.name, rows, edge, length };
}

/** The first edge of a seam that is not there. */
function lostEdge(join: Join, edges: Edges): EdgeName | undefined {
  if (join.fold !== undefined) return edges.has(join.fold) ? undefined : join.fold;
  for (const side of join.edges ?? []) for (const edge of side) if (!edges.has(edge)) return edge;
  return undefined;
}

/** Edges with their working, by name; those joined to one side by their names with a plus. */
type EdgeFigures = Map<EdgeName, Figure>;

function sideFigure(side: readonly EdgeName[], edges: Edges, figures: EdgeFigures): Figure {
  const whole = figures.get(side.join('+'));
  if (whole) return whole;
  const parts = side.map(
    (name) => figures.get(name) ?? given(name, edgeLength([name], edges, 'joins'), 'mm', 'ours', 'edge of the piece'),
  );
  return sumOf('edges', 'mm', parts);
}

/** A seam is as long as the longer of its sides; a fold is sewn to itself. */
function seamLength(join: Join, edges: Edges, figures: EdgeFigures): Figure {
  if (join.fold !== undefined) return work(countRules.half, sideFigure([join.fold], edges, figures));
  let longest = noLength;
  for (const side of join.edges ?? []) {
    const figure = sideFigure(side, edges, figures);
    if (figure.value > longest.value) longest = figure;
  }
  return longest;
}

function seamsOf(body: StyleBody, edges: Edges, figures: EdgeFigures, hasAllPieces: boolean): WorkedSeam[] {
  const seams: WorkedSeam[] = [];
  for (const join of body.joins) {
    const lost = lostEdge(join, edges);
    if (lost !== undefined) {
      if (hasAllPieces) throw new StyleFault(`joins.${join.name}`, `There is no edge called ${lost} here.`);
      continue; // a piece that was left out has no seams
    }
    const length = seamLength(join, edges, figures);
    seams.push({ join, length, lengthMm: length.value });
  }
  return seams;
}

function failedChecks(body: StyleBody, edges: Edges, needed: number, hasAllPieces: boolean): Problem[] {
  return body.checks
    .filter((check) => hasAllPieces || edgesOfCheck(check).every((name) => edges.has(name)))
    .filter((check) => !holds(check, edges, needed))
    .map((check) => ({ code: 'fit-check', path: check.name, message: check.otherwise }));
}

/** The strands of a role; a role without its own yarn takes the first role's. */
export function strandsOf(shape: Pick<Shape, 'yarns' | 'style'>, role: string): readonly Yarn[] {
  const strands = shape.yarns[role] ?? shape.yarns[shape.style.body.roles[0]?.name ?? ''];
  if (!strands || strands.length === 0) throw new RangeError(`workOut: no yarn for ${role}`);
  return strands;
}

/**
 * Knits a style in numbers for one shape and one hand: from body measures to lengths, stitches, rows, marks and seams,
 * in the order a knitter meets them, then the checks.
 *
 * @param shape the style, foot, fit, yarns and cuff height; cuff height 0 leaves optional pieces out
 * @param hand whose gauge counts
 * @param body body measures as figures, when they have a working of their own to show
 * @returns one slipper's worth of figures, and a problem for each check that does not hold
 * @throws {StyleFault} when the style names something that is not there, or a step cannot be knitted
 */
export function workOut(shape: Shape, hand: Hand, body: BodyFigures = bodyFigures(shape)): WorkedStyle {
  const style = shape.style.body;
  const edges: Edges = new Map();
  const edgeFigures: EdgeFigures = new Map();
  const mainGauge = gaugeOf(hand, strandsOf(shape, style.pieces[0]!.gaugeOf));
  const lengths = workLengths(shape, body, mainGauge.texTotal);
  const needed = work(
    countRules.needed,
    body.heelAnkleGirth,
    shape.foot.isHeelAnkleGirthMeasured ? noSafety : usualSafety,
  );
  const pieces: WorkedPiece[] = [];
  const marks: WorkedMark[] = [];
  for (const piece of style.pieces) {
    if (piece.isOptional && shape.cuffHeightMm === 0) continue;
    const gauge = gaugeOf(hand, strandsOf(shape, piece.gaugeOf), beginningOf(piece).stitches.fabric);
    const worked = workPiece({ shape, piece, gauge, lengths, edges, edgeFigures, needed });
    pieces.push(worked);
    const { seamStitches, lastStitches } = worked;
    edges.set(`${piece.name}.start`, worked.width.value);
    edges.set(
      `${piece.name}.end`,
      countRules.flatWidth.formula(lastStitches, seamStitches.value, gauge.stitches.value),
    );
    edges.set(`${piece.name}.left`, worked.length.value);
    edges.set(`${piece.name}.right`, worked.length.value);
    edgeFigures.set(`${piece.name}.start`, worked.width);
    edgeFigures.set(`${piece.name}.left`, worked.length);
    edgeFigures.set(`${piece.name}.right`, worked.length);
    for (const mark of style.marks) {
      if (!mark.edges[0]?.startsWith(`${piece.name}.`)) continue;
      const placed = workMark(shape, mark, worked, edges, needed.value);
      marks.push(placed);
      edgeFigures.set(mark.edges.map((edge) => `${edge}.${mark.name}`).join('+'), placed.edge);
      const rest = work(countRules.rest, worked.length, placed.length);
      for (const edge of mark.edges) {
        edgeFigures.set(`${edge}.${mark.name}`, placed.length);
        edgeFigures.set(`${edge}.rest`, rest);
      }
    }
  }
  const hasAllPieces = pieces.length === style.pieces.length;
  return {
    shape,
    handKey: hand.key,
    body,
    lengths,
    needed,
    pieces,
    marks,
    seams: seamsOf(style, edges, edgeFigures, hasAllPieces),
    warnings: failedChecks(style, edges, needed.value, hasAllPieces),
  };
}
