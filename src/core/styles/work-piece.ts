import type { Shape } from '#core/batch/lines.ts';
import type { GaugeFigures } from '#core/gauge/gauge.ts';
import { entryOf, newMap } from '#core/shared/entry-of.ts';
import { type Figure, given, sumOf, work } from '#core/shared/figure.ts';
import { countRules } from '#core/styles/count-rules.ts';
import { checkNamed, type Edges, edgeLength, holds } from '#core/styles/edges.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import { StyleFault } from '#core/styles/fault.ts';
import { factorValue, type StyleSettings, seamTakes, settingsFor } from '#core/styles/settings-of.ts';
import { type Shaping, shapingOf } from '#core/styles/shaping.ts';
import type {
  CastOn,
  Change,
  EdgeName,
  Join,
  PickUp,
  Piece,
  Section,
  Side,
  StitchRule,
  StyleBody,
} from '#core/styles/style.ts';

export type WorkedSection = {
  /** The step; of a stripe, the step in that stripe's colour. */
  readonly section: Section;
  /** Which step of the piece it is, 0 first. */
  readonly step: number;
  readonly stitchesBefore: number;
  readonly stitchesAfter: number;
  readonly rows: number;
  readonly startsOn: Side | null;
  /** The rows of a change, one by one; null for any other section. */
  readonly shaping: Shaping | null;
};

export type WorkedPiece = {
  readonly piece: Piece;
  readonly gauge: GaugeFigures;
  /** Stitches that the side seams take in all, both edges. */
  readonly seamStitches: Figure;
  readonly castOn: Figure;
  readonly totalRows: Figure;
  readonly lastStitches: number;
  /** Flat, seams taken off, mm; `width` at the cast-on. */
  readonly width: Figure;
  readonly length: Figure;
  readonly sections: readonly WorkedSection[];
  /** Rows of each section that follow from a length, by name. */
  readonly rowFigures: Readonly<Record<string, Figure>>;
  /** Runs of rows of one height from the start, cast-on row included. */
  readonly runs: readonly { readonly section: string; readonly rows: number; readonly rowsPer10Cm: Figure }[];
};

export type PieceInput = {
  readonly shape: Shape;
  readonly piece: Piece;
  readonly gauge: GaugeFigures;
  readonly lengths: Readonly<Record<string, Figure>>;
  readonly edges: Edges;
  readonly edgeFigures: ReadonlyMap<EdgeName, Figure>;
  readonly needed: Figure;
};

const otherSide: Readonly<Record<Side, Side>> = { 'right side': 'wrong side', 'wrong side': 'right side' };

/** How far rows or stitches may be raised so that a check holds, before the check is reported as failed. */
export const mostRaises = 40;

function joinOfSides(body: StyleBody, piece: Piece): Join | undefined {
  const side = `${piece.name}.left`;
  return body.joins.find((join) => join.edges?.some((edges) => edges.some((edge) => edge.startsWith(side))));
}

// A hand has few gauges, and each size asks for the rows of the same few fabrics again and again.
const knownRows = new WeakMap<GaugeFigures, Map<string, Figure>>();

/** Rows in 10 cm of a fabric in this gauge. */
function rowsIn(gauge: GaugeFigures, fabricName: string): Figure {
  const ofGauge = entryOf(knownRows, gauge, newMap);
  return ofGauge.get(fabricName) ?? entryOf(ofGauge, fabricName, () => rowsOf(gauge, fabricName));
}

function rowsOf(gauge: GaugeFigures, fabricName: string): Figure {
  const fabric = fabricNamed(fabricName);
  // A rib is as tall as stocking stitch of the same hand; garter stitch has its own height once a square of it was counted.
  const own = gauge.own[fabricName];
  if (own && fabric.rowFactor === null) return own.rows;
  if (fabric.rowFactor === 1) return gauge.rows;
  if (fabric.rowFactor === null) {
    return work(
      countRules.rowsOfStitches,
      gauge.stitches,
      given(
        'rows to a stitch',
        fabric.rowsPerStitch,
        'ratio',
        'published',
        `${fabricName}: two rows to a stitch make a square (knitting tuition)`,
      ),
    );
  }
  return work(countRules.share, gauge.rows, given('fabric', fabric.rowFactor, 'ratio', 'ours', fabricName));
}

/** Adds repeats to a number of stitches until its check holds for the flat edge it makes. */
function raiseStitches(
  base: Figure,
  rule: StitchRule,
  edge: EdgeName,
  input: PieceInput,
  seamStitches: Figure,
  path: string,
): Figure {
  const check = checkNamed(input.shape.style.body, rule.raiseUntil, path);
  if (!check) return base;
  for (let added = 0; added <= mostRaises; added += 1) {
    const stitches = base.value + added * rule.repeat;
    input.edges.set(edge, countRules.flatWidth.formula(stitches, seamStitches.value, input.gauge.stitches.value));
    if (!holds(check, input.edges, input.needed.value)) continue;
    if (added === 0) return base;
    return work(
      countRules.raised,
      base,
      given('repeats added', added, 'count', 'ours', 'fewer do not let the heel pass'),
      given('repeat', rule.repeat, 'stitches', 'ours', 'the style'),
    );
  }
  return base;
}

/** Stitches by a rule: the length or edge to be met, at the gauge, in whole repeats, raised until its check holds. */
function stitchesBy(rule: StitchRule, edge: EdgeName, input: PieceInput, seamStitches: Figure, path: string): Figure {
  const { gauge, lengths, edges, edgeFigures } = input;
  let wished: Figure | undefined;
  if (rule.across !== undefined) {
    wished = lengths[rule.across];
    if (!wished) throw new StyleFault(path, `There is no length called ${rule.across}.`);
  } else {
    const names = rule.alongEdge ?? [];
    const key = names.join('+');
    wished = edgeFigures.get(key) ?? given('edge', edgeLength(names, edges, path), 'mm', 'ours', names.join(' and '));
  }
  const least = given('fewest allowed', rule.least, 'stitches', 'ours', 'the style');
  const isPlain = rule.repeat === 1 && rule.plus === 0;
  const base = isPlain
    ? work(countRules.plainStitches, wished, gauge.stitches, seamStitches, least)
    : work(
        countRules.stitches,
        given('repeat', rule.repeat, 'stitches', 'ours', 'the style'),
        given('plus', rule.plus, 'stitches', 'ours', 'the style'),
        wished,
        gauge.stitches,
        seamStitches,
        least,
      );
  return raiseStitches(base, rule, edge, input, seamStitches, path);
}

/**
 * The section a piece begins with.
 *
 * @throws {StyleFault} when it begins in another way
 */
export function beginningOf(piece: Piece): CastOn | PickUp {
  const first = piece.sections[0];
  if (first?.do !== 'castOn' && first?.do !== 'pickUp') {
    throw new StyleFault(`pieces.${piece.name}`, 'A piece begins with stitches cast on or picked up.');
  }
  return first;
}

/** Stitches first: shaping rows follow from them, and rows worked along a length follow from the shaping rows. */
function shapingsOf(
  input: PieceInput,
  castOn: number,
  seamStitches: Figure,
  settings: StyleSettings,
): Map<Change, Shaping> {
  const { piece } = input;
  const shapings = new Map<Change, Shaping>();
  let stitches = castOn;
  for (const section of piece.sections) {
    if (section.do !== 'change') continue;
    const path = `pieces.${piece.name}.${section.name}`;
    const shaping =
      section.how === 'two together across'
        ? shapingOf(section, stitches, 0, factorValue(section.repeatWhileAbove, settings), path)
        : shapingOf(
            section,
            stitches,
            stitchesBy(section.to, `${piece.name}.end`, input, seamStitches, path).value,
            0,
            path,
          );
    shapings.set(section, shaping);
    stitches = shaping.after;
  }
  return shapings;
}

/** A striped step as one step a stripe, by turns in its own colour and the other; any other step as it is. */
function stripesOf(section: Section, rows: number): { readonly section: Section; readonly rows: number }[] {
  if (section.do !== 'work' || section.stripes === undefined) return [{ section, rows }];
  const { colour, rows: each } = section.stripes;
  const stripes: { section: Section; rows: number }[] = [];
  for (let left = rows; left > 0; left -= each) {
    const own = stripes.length % 2 === 0 ? section : { ...section, colour };
    stripes.push({ section: own, rows: Math.min(each, left) });
  }
  return stripes;
}

function fabricOf(section: Section, first: string): string {
  if (section.do === 'work') return section.fabric;
  if (section.do === 'change') return section.how === 'two together across' ? 'stocking' : section.fabric;
  return first;
}

/** Where a step stands in its style, for faults. */
function pathOf(piece: Piece, section: Section): string {
  return `pieces.${piece.name}.${section.name}`;
}

function rowsNamed(
  names: readonly string[],
  rowsByName: ReadonlyMap<string, number>,
  piece: Piece,
  section: Section,
): number {
  let sum = 0;
  for (const name of names) {
    const rows = rowsByName.get(name);
    if (rows === undefined) throw new StyleFault(pathOf(piece, section), `There are no rows called ${name} before it.`);
    sum += rows;
  }
  return sum;
}

/**
 * One piece in numbers: stitches to begin with, shaping, rows along its lengths, sides and parity, flat width and length.
 *
 * @param input the shape, the piece, its gauge, and what earlier pieces left: edges and lengths
 * @throws {StyleFault} when a step starts on the wrong side, no row is left for a length, or a name is not there
 */
export function workPiece(input: PieceInput): WorkedPiece {
  const { shape, piece, gauge, lengths } = input;
  const body = shape.style.body;
  const settings = settingsFor(body, shape.foot.person);
  const join = joinOfSides(body, piece);
  const takes = join === undefined ? 0 : (join.takes ?? seamTakes(gauge.texTotal));
  const beginning = beginningOf(piece);
  const source = 'half a stitch an edge in bulky yarn, one in finer';
  const seamStitches = given('seam stitches', beginning.stitches.edges * takes, 'stitches', 'trade', source);
  const castOn = stitchesBy(
    beginning.stitches,
    `${piece.name}.start`,
    input,
    seamStitches,
    `pieces.${piece.name}.${beginning.name}`,
  );
  const shapings = shapingsOf(input, castOn.value, seamStitches, settings);

  const rowsByName = new Map<string, number>([[beginning.name, 1]]);
  for (const section of piece.sections) {
    if (section.do === 'change') rowsByName.set(section.name, shapings.get(section)!.rows.length);
    if (section.do === 'work' && 'count' in section.rows) {
      rowsByName.set(section.name, factorValue(section.rows.count, settings));
    }
  }

  const rowFigures: Record<string, Figure> = {};
  const sections: WorkedSection[] = [];
  let side: Side = beginning.next;
  let stitches = castOn.value;
  let step = -1;
  for (const section of piece.sections) {
    step += 1;
    let after = stitches;
    let rows = 0;
    let shaping: Shaping | null = null;
    if (section.do === 'work') {
      if ('along' in section.rows) {
        const rule = section.rows;
        const along = lengths[rule.along];
        if (!along) throw new StyleFault(pathOf(piece, section), `There is no length called ${rule.along}.`);
        const less = rowsNamed(rule.lessRows, rowsByName, piece, section);
        const figure = work(
          side === rule.endAfter ? countRules.oddRows : countRules.evenRows,
          along,
          rowsIn(gauge, section.fabric),
          given('rows already there', less, 'rows', 'ours', rule.lessRows.join(' and ')),
          given('fewest allowed', rule.least, 'rows', 'ours', 'the style'),
        );
        rowFigures[section.name] = figure;
        rowsByName.set(section.name, figure.value);
      }
      rows = rowsByName.get(section.name)!;
      if (!Number.isInteger(rows) || rows < 0)
        throw new StyleFault(pathOf(piece, section), `Rows must be a whole number from 0, not ${rows}.`);
    }
    if (section.do === 'change') {
      if (side !== 'right side') {
        const message = `“${section.name}” needs the right side, but the rows before it end on the right side.`;
        throw new StyleFault(pathOf(piece, section), message);
      }
      shaping = shapings.get(section)!;
      rows = shaping.rows.length;
      after = shaping.after;
    }
    for (const stripe of stripesOf(section, rows)) {
      const { section: own, rows: count } = stripe;
      sections.push({
        section: own,
        step,
        stitchesBefore: stitches,
        stitchesAfter: after,
        rows: count,
        startsOn: side,
        shaping,
      });
      if (count % 2 === 1) side = otherSide[side];
    }
    stitches = after;
  }

  const firstWork = piece.sections.find((section) => section.do === 'work');
  const firstFabric = firstWork?.do === 'work' ? firstWork.fabric : 'stocking';
  const runs = [
    { section: beginning.name, rows: 1, rowsPer10Cm: rowsIn(gauge, firstFabric) },
    ...sections
      .filter((each) => each.rows > 0)
      .map((each) => ({
        section: each.section.name,
        rows: each.rows,
        rowsPer10Cm: rowsIn(gauge, fabricOf(each.section, firstFabric)),
      })),
  ];
  const totalRows = sumOf('all rows', 'rows', [
    given('cast-on row', 1, 'rows', 'trade', 'the long-tail cast-on is a row of fabric'),
    ...runs.slice(1).map((run) => {
      const figure = rowFigures[run.section];
      return figure?.value === run.rows ? figure : given(run.section, run.rows, 'rows', 'ours', 'the style');
    }),
  ]);
  return {
    piece,
    gauge,
    seamStitches,
    castOn,
    totalRows,
    lastStitches: stitches,
    width: work(countRules.flatWidth, castOn, seamStitches, gauge.stitches),
    length: lengthOfRuns(runs, totalRows, 'flat length'),
    sections,
    rowFigures,
    runs,
  };
}

/** The length of the first runs of rows: one formula where all rows are alike, else a sum over the fabrics. */
function lengthOfRuns(runs: WorkedPiece['runs'], rows: Figure, name: string): Figure {
  const first = runs[0]!.rowsPer10Cm;
  if (runs.every((run) => run.rowsPer10Cm.value === first.value)) return work(countRules.flatLength, rows, first);
  const parts = runs.map((run) =>
    work(countRules.flatLength, given(run.section, run.rows, 'rows', 'ours', 'counted above'), run.rowsPer10Cm),
  );
  return sumOf(name, 'mm', parts);
}

/**
 * Length from the start over some rows, as a figure.
 *
 * @param rows rows from the start, cast-on row included, as a figure; at most all of them
 */
export function lengthToRow(piece: WorkedPiece, rows: Figure): Figure {
  const runs: WorkedPiece['runs'][number][] = [];
  let left = rows.value;
  for (const run of piece.runs) {
    if (left <= 0) break;
    runs.push({ ...run, rows: Math.min(run.rows, left) });
    left -= run.rows;
  }
  return lengthOfRuns(runs, rows, 'length to the mark');
}
