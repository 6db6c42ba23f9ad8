import type { Shape } from '#core/batch/lines.ts';
import { type GaugeFigures, gaugeOf } from '#core/gauge/gauge.ts';
import type { Hand, Yarn } from '#core/gauge/hand.ts';
import { type Figure, given, work } from '#core/shared/figure.ts';
import type { Problem } from '#core/shared/problem.ts';
import { countRules, girthSafetyMm } from '#core/styles/count-rules.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import { factorValue, fitShift, girthFactorByTex, seamTakes, settingsFor } from '#core/styles/settings-of.ts';
import type {
  BodyMeasure,
  Check,
  EdgeName,
  Join,
  Piece,
  Section,
  Side,
  StitchRule,
  StyleBody,
} from '#core/styles/style.ts';

/** The body measures a style may use, as figures. */
export type BodyFigures = Readonly<Record<BodyMeasure, Figure>>;

export type WorkedSection = {
  readonly section: Section;
  readonly stitchesBefore: number;
  readonly stitchesAfter: number;
  readonly rows: number;
  readonly startsOn: Side | null;
};

export type WorkedPiece = {
  readonly piece: Piece;
  readonly gauge: GaugeFigures;
  /** Stitches that the side seams take in all, both edges. */
  readonly seamStitches: Figure;
  readonly castOn: Figure;
  readonly totalRows: Figure;
  readonly lastStitches: number;
  /** Flat, seams taken off, mm. */
  readonly width: Figure;
  readonly length: Figure;
  readonly sections: readonly WorkedSection[];
  /** Rows of each section that has any, by name. */
  readonly rowFigures: Readonly<Record<string, Figure>>;
};

export type WorkedMark = { readonly name: string; readonly rows: Figure; readonly edge: Figure };
export type WorkedSeam = { readonly join: Join; readonly lengthMm: number };

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

const otherSide: Readonly<Record<Side, Side>> = { 'right side': 'wrong side', 'wrong side': 'right side' };

/** How far rows or stitches may be raised so that a check holds, before the check is reported as failed. */
const mostRaises = 40;

type Edges = Map<EdgeName, number>;

/**
 * The body measures of a shape as figures: given numbers, unless figures with their own working are handed in.
 *
 * @param shape foot measures and cuff height in mm
 */
export function bodyFigures(shape: Shape): BodyFigures {
  const { foot } = shape;
  const mark = (isMeasured: boolean) => (isMeasured ? 'yours' : 'published');
  return {
    footLength: given('foot length', foot.lengthMm, 'mm', 'yours'),
    ballGirth: given('ball girth', foot.ballGirthMm, 'mm', mark(foot.isBallGirthMeasured)),
    heelAnkleGirth: given('heel-ankle girth', foot.heelAnkleGirthMm, 'mm', mark(foot.isHeelAnkleGirthMeasured)),
    cuffHeight: given('cuff height', shape.cuffHeightMm, 'mm', 'yours'),
  };
}

function workLengths(shape: Shape, body: BodyFigures, tex: number): Record<string, Figure> {
  const settings = settingsFor(shape.style.body, shape.foot.person);
  const lengths: Record<string, Figure> = {};
  for (const [name, { sum }] of Object.entries(shape.style.body.lengths)) {
    const parts = sum.map((part) => {
      if ('mm' in part) return given('growth and room', factorValue(part.mm, settings), 'mm', 'ours');
      if (part.of === 'ballGirth' && part.times === 'girthFactor') return easedGirth(shape, body, tex);
      const share = factorValue(part.times, settings);
      if (share === 1) return body[part.of];
      return work(countRules.share, body[part.of], given(String(part.times), share, 'ratio', 'ours', 'the style'));
    });
    lengths[name] = addFigures(
      `${name} wished`,
      parts.filter((part) => part.value !== 0),
    );
  }
  return lengths;
}

function easedGirth(shape: Shape, body: BodyFigures, tex: number): Figure {
  const settings = settingsFor(shape.style.body, shape.foot.person);
  const thick = factorValue('girthFactor', settings);
  const factor = girthFactorByTex(thick, settings.girthFactorFine ?? thick, tex);
  return work(
    countRules.easedGirth,
    body.ballGirth,
    given('girth factor', factor, 'ratio', 'ours', 'by yarn thickness and age'),
    given('fit', fitShift[shape.fit], 'ratio', 'ours', shape.fit),
  );
}

/** A sum of any number of figures; one figure is itself, none is 0. */
function addFigures(name: string, parts: readonly Figure[]): Figure {
  if (parts.length === 1) return parts[0]!;
  return {
    rule: {
      name,
      unit: parts[0]?.rule.unit ?? 'mm',
      mark: 'ours',
      source: 'a sum',
      words: parts.map((part) => `{${part.rule.name}}`).join(' + '),
    },
    value: parts.reduce((sum, part) => sum + part.value, 0),
    sd: 0,
    inputs: parts,
  };
}

function joinOfSides(body: StyleBody, piece: Piece): Join | undefined {
  const side = `${piece.name}.left`;
  return body.joins.find((join) => join.edges?.some((edges) => edges.some((edge) => edge.startsWith(side))));
}

/** Rows of the toe, known from the stitches alone: two together across, repeated while too many are left. */
function shapingOf(stitches: number, limit: number, plainBetween: number): { rows: number; after: number } {
  let after = Math.ceil(stitches / 2);
  let rows = 1;
  while (after > limit) {
    after = Math.ceil(after / 2);
    rows += plainBetween + 1;
  }
  return { rows, after };
}

function holds(check: Check, edges: Edges, needed: number): boolean {
  if ('ratio' in check) {
    const ratio = edgeLength(check.ratio[0], edges) / edgeLength(check.ratio[1], edges);
    return ratio >= check.between[0] && ratio <= check.between[1];
  }
  return edgeLength(check.edge, edges) * check.stretch >= needed - 1e-9;
}

function edgeLength(names: readonly EdgeName[], edges: Edges): number {
  return names.reduce((sum, name) => {
    const length = edges.get(name);
    if (length === undefined) throw new RangeError(`workOut: the style has no edge called ${name}`);
    return sum + length;
  }, 0);
}

function checkNamed(body: StyleBody, name: string | undefined): Check | undefined {
  return name === undefined ? undefined : body.checks.find((check) => check.name === name);
}

/** Adds repeats to a cast-on until its check holds for the flat edge it makes. */
function raiseStitches(
  base: Figure,
  rule: StitchRule,
  check: Check | undefined,
  startEdge: EdgeName,
  flatWidthOf: (stitches: number) => number,
  edges: Edges,
  needed: number,
): Figure {
  if (!check) return base;
  for (let added = 0; added <= mostRaises; added += 1) {
    const stitches = base.value + added * rule.repeat;
    edges.set(startEdge, flatWidthOf(stitches));
    if (holds(check, edges, needed)) {
      if (added === 0) return base;
      return work(
        countRules.raised,
        base,
        given('repeats added', added, 'count', 'ours'),
        given('repeat', rule.repeat, 'stitches', 'ours'),
      );
    }
  }
  return base;
}

function castOnOf(
  rule: StitchRule,
  gauge: GaugeFigures,
  seamStitches: Figure,
  lengths: Readonly<Record<string, Figure>>,
  edges: Edges,
  edgeFigures: ReadonlyMap<EdgeName, Figure>,
): Figure {
  const wished =
    rule.across !== undefined
      ? lengths[rule.across]!
      : (edgeFigures.get((rule.alongEdge ?? []).join('+')) ??
        given('edge', edgeLength(rule.alongEdge ?? [], edges), 'mm', 'ours', (rule.alongEdge ?? []).join(' and ')));
  return work(
    countRules.stitches,
    given('repeat', rule.repeat, 'stitches', 'ours', 'the style'),
    given('plus', rule.plus, 'stitches', 'ours', 'the style'),
    wished,
    gauge.stitches,
    seamStitches,
    given('least', rule.least, 'stitches', 'ours', 'the style'),
  );
}

type PieceInput = {
  readonly shape: Shape;
  readonly piece: Piece;
  readonly gauge: GaugeFigures;
  readonly lengths: Readonly<Record<string, Figure>>;
  readonly edges: Edges;
  readonly edgeFigures: ReadonlyMap<EdgeName, Figure>;
  readonly needed: Figure;
};

function workPiece(input: PieceInput): WorkedPiece {
  const { shape, piece, gauge, lengths, edges, edgeFigures, needed } = input;
  const body = shape.style.body;
  const settings = settingsFor(body, shape.foot.person);
  const join = joinOfSides(body, piece);
  const takes = join === undefined ? 0 : (join.takes ?? seamTakes(gauge.texTotal));
  const castOnSection = piece.sections.find((section) => section.do === 'castOn');
  if (!castOnSection) throw new RangeError(`workOut: the piece ${piece.name} has no cast-on`);
  const rule = castOnSection.stitches;
  const seamStitches = given(
    'seam stitches',
    rule.edges * takes,
    'stitches',
    'trade',
    'half a stitch an edge in bulky yarn, one in finer',
  );
  const base = castOnOf(rule, gauge, seamStitches, lengths, edges, edgeFigures);
  const flatWidthOf = (stitches: number) =>
    countRules.flatWidth.formula(stitches, seamStitches.value, gauge.stitches.value);
  const castOn = raiseStitches(
    base,
    rule,
    checkNamed(body, rule.raiseUntil),
    `${piece.name}.start`,
    flatWidthOf,
    edges,
    needed.value,
  );

  // Stitches first: shaping rows follow from them, and rows worked along a length follow from the shaping rows.
  const rowsByName = new Map<string, number>([[castOnSection.name, 1]]);
  let stitches = castOn.value;
  for (const section of piece.sections) {
    if (section.do === 'change') {
      const shaping = shapingOf(stitches, factorValue(section.repeatWhileAbove, settings), section.plainRowsBetween);
      rowsByName.set(section.name, shaping.rows);
      stitches = shaping.after;
    }
    if (section.do === 'work' && 'count' in section.rows) {
      rowsByName.set(section.name, factorValue(section.rows.count, settings));
    }
  }

  const rowFigures: Record<string, Figure> = {};
  const sections: WorkedSection[] = [];
  let side: Side = castOnSection.next;
  stitches = castOn.value;
  for (const section of piece.sections) {
    const startsOn = side;
    let rows = rowsByName.get(section.name) ?? 0;
    let after = stitches;
    if (section.do === 'work') {
      const fabric = fabricNamed(section.fabric);
      if ('along' in section.rows) {
        const named = section.rows.lessRows.reduce((sum, name) => sum + (rowsByName.get(name) ?? 0), 0);
        const less = named + factorValue(section.rows.lessCount ?? 0, settings);
        const isOdd = side === section.rows.endAfter;
        const figure = work(
          isOdd ? countRules.oddRows : countRules.evenRows,
          lengths[section.rows.along]!,
          gaugeInFabric(gauge.rows, fabric.rowFactor),
          given('rows already there', less, 'rows', 'ours', section.rows.lessRows.join(' and ')),
          given('least', section.rows.least, 'rows', 'ours', 'the style'),
        );
        rows = figure.value;
        rowFigures[section.name] = figure;
        rowsByName.set(section.name, rows);
      }
      if (rows % 2 === 1) side = otherSide[side];
    }
    if (section.do === 'change') {
      if (side !== 'right side') {
        throw new RangeError(
          `workOut: ${section.name} needs the right side, but the rows before it end on the right side`,
        );
      }
      after = shapingOf(stitches, factorValue(section.repeatWhileAbove, settings), section.plainRowsBetween).after;
      if (rows % 2 === 1) side = otherSide[side];
    }
    sections.push({ section, stitchesBefore: stitches, stitchesAfter: after, rows, startsOn });
    stitches = after;
  }

  const worked = sections.filter((each) => each.section.do !== 'castOn' && each.rows > 0);
  const totalRows = addFigures('all rows', [
    given('cast-on row', 1, 'rows', 'trade', 'the long-tail cast-on is a row of fabric'),
    ...worked.map((each) => rowFigures[each.section.name] ?? given(each.section.name, each.rows, 'rows', 'ours')),
  ]);
  const width = work(countRules.flatWidth, castOn, seamStitches, gauge.stitches);
  const length = work(countRules.flatLength, totalRows, gauge.rows);
  return {
    piece,
    gauge,
    seamStitches,
    castOn,
    totalRows,
    lastStitches: stitches,
    width,
    length,
    sections,
    rowFigures,
  };
}

function gaugeInFabric(perStocking: Figure, factor: number): Figure {
  if (factor === 1) return perStocking;
  return work(countRules.share, perStocking, given('fabric', factor, 'ratio', 'ours'));
}

/** The mark's rows, one further toward the toe until its check holds. */
function workMark(
  shape: Shape,
  mark: StyleBody['marks'][number],
  piece: WorkedPiece,
  edges: Edges,
  needed: number,
): WorkedMark {
  const body = shape.style.body;
  const settings = settingsFor(body, shape.foot.person);
  const openShare =
    typeof mark.to === 'object' ? 1 - factorValue(mark.to.oneLess, settings) : factorValue(mark.to, settings);
  const check = checkNamed(body, mark.raiseUntil);
  const all = piece.totalRows;
  const share = given('share left open', openShare, 'ratio', 'trade', 'the style');
  const rowMm = 100 / piece.gauge.rows.value;
  let added = 0;
  for (; added <= mostRaises; added += 1) {
    const rows = countRules.markRows.formula(all.value, openShare, added);
    if (rows >= all.value) break;
    for (const edge of mark.edges) {
      edges.set(`${edge}.${mark.name}`, rows * rowMm);
      edges.set(`${edge}.rest`, (all.value - rows) * rowMm);
    }
    if (!check || holds(check, edges, needed)) break;
  }
  const rows = work(countRules.markRows, all, share, given('rows added for the heel', added, 'rows', 'ours'));
  return { name: mark.name, rows, edge: work(countRules.opening, rows, piece.gauge.rows) };
}

function seamsOf(body: StyleBody, edges: Edges): WorkedSeam[] {
  const seams: WorkedSeam[] = [];
  for (const join of body.joins) {
    const named = join.fold === undefined ? (join.edges ?? []).flat() : [join.fold];
    if (named.some((edge) => !edges.has(edge))) continue; // a piece that was left out has no seams
    const lengthMm =
      join.fold === undefined
        ? Math.max(...(join.edges ?? []).map((side) => edgeLength(side, edges)))
        : edgeLength([join.fold], edges) / 2;
    seams.push({ join, lengthMm });
  }
  return seams;
}

function failedChecks(body: StyleBody, edges: Edges, needed: number): Problem[] {
  const known = (names: readonly EdgeName[]) => names.every((name) => edges.has(name));
  return body.checks
    .filter((check) => known('ratio' in check ? check.ratio.flat() : check.edge))
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
 * @throws {RangeError} when the style names a length, setting, fabric or edge that is not there, or a step starts on the wrong side
 */
export function workOut(shape: Shape, hand: Hand, body: BodyFigures = bodyFigures(shape)): WorkedStyle {
  const style = shape.style.body;
  const edges: Edges = new Map();
  const edgeFigures = new Map<EdgeName, Figure>();
  const mainGauge = gaugeOf(hand, strandsOf(shape, style.pieces[0]!.gaugeOf));
  const lengths = workLengths(shape, body, mainGauge.texTotal);
  const needed = work(
    countRules.needed,
    body.heelAnkleGirth,
    given('safety', shape.foot.isHeelAnkleGirthMeasured ? 0 : girthSafetyMm, 'mm', 'ours'),
  );
  const pieces: WorkedPiece[] = [];
  const marks: WorkedMark[] = [];
  for (const piece of style.pieces) {
    if (piece.isOptional && shape.cuffHeightMm === 0) continue;
    const gauge = gaugeOf(hand, strandsOf(shape, piece.gaugeOf));
    const worked = workPiece({ shape, piece, gauge, lengths, edges, edgeFigures, needed });
    pieces.push(worked);
    edges.set(`${piece.name}.start`, worked.width.value);
    edges.set(`${piece.name}.left`, worked.length.value);
    edges.set(`${piece.name}.right`, worked.length.value);
    for (const mark of style.marks.filter((each) => each.edges[0]?.startsWith(`${piece.name}.`))) {
      const placed = workMark(shape, mark, worked, edges, needed.value);
      marks.push(placed);
      edgeFigures.set(mark.edges.map((edge) => `${edge}.${mark.name}`).join('+'), placed.edge);
    }
  }
  return {
    shape,
    handKey: hand.key,
    body,
    lengths,
    needed,
    pieces,
    marks,
    seams: seamsOf(style, edges),
    warnings: failedChecks(style, edges, needed.value),
  };
}
