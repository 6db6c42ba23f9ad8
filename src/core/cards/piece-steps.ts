import type { CardInput, CardStep, RowMark } from '#core/cards/card.ts';
import { changeRows } from '#core/cards/change-rows.ts';
import { capitalised, type Dialect, inARow, rowsFromTo, stitchesOf } from '#core/cards/dialect.ts';
import { fabricWords, sideOf } from '#core/cards/fabric-rows.ts';
import { rowsOfSection } from '#core/cards/flat-plan.ts';
import { shapingRows } from '#core/cards/piece-yarn.ts';
import type { CardSeam, SewOn } from '#core/cards/seams.ts';
import type { PieceCounts, SectionCounts } from '#core/styles/spec.ts';
import type { Section, Side } from '#core/styles/style.ts';
import { drawUpMm, endMm, seamTimes } from '#core/yardage/rules.ts';

/** What the words of a piece need to know beside its counts. */
export type PieceWords = {
  readonly input: CardInput;
  readonly dialect: Dialect;
  readonly seams: readonly CardSeam[];
  /** Row at whose end both edges are marked, from the cast-on; null without a mark on this piece. */
  readonly markRow: number | null;
  /** Edges up to the mark are worked in garter stitch, so that they do not curl where no cuff is sewn on. */
  readonly hasGarterEdges: boolean;
  readonly nameOf: (role: string) => string;
  readonly sewOn: SewOn;
};

type Reached = { readonly fromRow: number; readonly side: Side };

const afterRows = (side: Side, rows: number): Side =>
  rows % 2 === 0 ? side : side === 'right side' ? 'wrong side' : 'right side';

/** An end to leave, in whole 5 cm, never less than the yarn it is reckoned for; in inches too where those are usual. */
function endWords(mm: number, { words, units }: Dialect): string {
  const cm = Math.ceil(mm / 50 - 1e-9) * 5;
  if (units === 'imperial') return `${Math.ceil(cm / 2.54)} in`;
  return words === 'british' ? `${cm} cm` : `${Math.ceil(cm / 2.54)} in (${cm} cm)`;
}

function seamWith(words: PieceWords, piece: PieceCounts, tail: string): CardSeam | undefined {
  return words.seams.find((seam) => seam.join.withTail === tail && seam.piece === piece.name);
}

function castOnWords(section: SectionCounts, piece: PieceCounts, words: PieceWords): string {
  const seam = seamWith(words, piece, 'cast-on');
  const end = seam
    ? `, leaving an end of ${endWords(seamTimes * seam.lengthMm + endMm, words.dialect)} for the ${seam.join.name} seam`
    : '';
  return `Cast on ${stitchesOf(section.stitchesAfter)} in ${words.nameOf(section.role)}, long-tail method${end}. The cast-on is row 1.`;
}

function edgeName(edge: string): string {
  const [piece, side] = edge.split('.');
  const sides: Readonly<Record<string, string>> = { start: 'first', end: 'last', left: 'left', right: 'right' };
  return `${sides[side ?? ''] ?? side} edge of the ${piece}`;
}

function pickUpWords(section: SectionCounts, rule: Section | undefined, words: PieceWords): string {
  const edges = rule?.do === 'pickUp' ? rule.stitches.alongEdge : [];
  const where = edges.length > 0 ? ` along the ${inARow(edges.map(edgeName), 'and the')}` : '';
  const { stitches, rows } = words.sewOn;
  return `With RS facing and ${words.nameOf(section.role)}, pick up and k ${stitchesOf(section.stitchesAfter)}${where}, ${stitches} in every ${rows} rows. This is row 1.`;
}

/** Is the colour on the needle another one now? A style's two roles may share a colour. */
function changesColour(section: SectionCounts, before: SectionCounts | undefined, input: CardInput): boolean {
  if (before === undefined || before.role === section.role) return false;
  const idsOf = (role: string) =>
    input.strands
      .filter((strand) => strand.role === role)
      .map((strand) => strand.yarnColourId)
      .join('+');
  return idsOf(before.role) !== idsOf(section.role);
}

function runStep(
  section: SectionCounts,
  reached: Reached,
  rows: number,
  words: PieceWords,
  key: string,
  asBefore: boolean,
): CardStep {
  const { fromRow, side } = reached;
  const toRow = fromRow + rows - 1;
  const { markRow, hasGarterEdges, dialect } = words;
  const ends = sideOf(side, rows - 1);
  const isPastEdges = hasGarterEdges && markRow !== null && fromRow > markRow;
  const fabric = asBefore
    ? `go on in ${section.fabric === 'stocking' ? dialect.stocking : section.fabric === 'garter' ? 'garter stitch' : 'rib'} ${isPastEdges ? 'over all sts' : 'as before'}`
    : fabricWords(section.fabric ?? '', section.stitchesBefore, side, rows, dialect);
  const isBeforeMark = markRow !== null && toRow <= markRow;
  const edges =
    hasGarterEdges && isBeforeMark && section.fabric === 'stocking'
      ? ', but k the first 2 and the last 2 sts of every row, so that the edges lie flat'
      : '';
  const isMarked = toRow === markRow;
  const ending = rows > 2 && !isMarked ? ` End with a ${ends} row.` : '';
  const mark = isMarked ? ` ${markWords(markRow, words)}` : '';
  // Four cards share a page: what goes on says its first side in two words.
  const count = rows > 1 ? ` (${rows} rows${asBefore ? `, ${sideOf(side, 0)} first` : ''})` : ` (${ends})`;
  return {
    key,
    words: `${rowsFromTo(fromRow, toRow)}${count}: ${fabric}${edges}.${ending}${mark}`,
    rows,
    fromRow,
    toRow,
  };
}

function markWords(row: number, { seams }: PieceWords): string {
  const seam = seams.find(({ join }) => join.edges?.some((side) => side.some((edge) => edge.endsWith('.rest'))));
  return `Mark both edges at row ${row} with a thread${seam ? `: the ${seam.join.name} seam ends there` : ''}.`;
}

function workSteps(
  section: SectionCounts,
  rule: Section | undefined,
  before: SectionCounts | undefined,
  reached: Reached,
  words: PieceWords,
): CardStep[] {
  if (section.rows === 0) return [];
  const steps: CardStep[] = [];
  let { fromRow, side } = reached;
  const last = fromRow + section.rows - 1;
  const isNewColour = changesColour(section, before, words.input);
  const isPlain = isNewColour && rule?.do === 'work' && rule.firstRow === 'plain';
  const isGoingOn = before?.fabric === section.fabric && !(isNewColour && !isPlain);
  if (isPlain) {
    const first = sideOf(side, 0);
    steps.push({
      key: `${section.name} 1`,
      words: `Change to ${words.nameOf(section.role)}. Row ${fromRow} (${first}): ${first === 'RS' ? 'k' : 'p'} all sts, so that the ${words.dialect.colour}s meet in a clean line.`,
      rows: 1,
      fromRow,
      toRow: fromRow,
    });
    side = afterRows(side, 1);
    fromRow += 1;
  }
  const { markRow } = words;
  const stops = markRow !== null && markRow >= fromRow && markRow < last ? [markRow, last] : [last];
  for (const [index, stop] of stops.entries()) {
    if (stop < fromRow) continue;
    const rows = stop - fromRow + 1;
    const step = runStep(
      section,
      { fromRow, side },
      rows,
      words,
      `${section.name} ${steps.length + 1}`,
      index > 0 || (isGoingOn && before !== undefined),
    );
    const change = isNewColour && !isPlain && steps.length === 0 ? `Change to ${words.nameOf(section.role)}. ` : '';
    steps.push({ ...step, words: change + step.words });
    side = afterRows(side, rows);
    fromRow = stop + 1;
  }
  return steps;
}

function changeSteps(
  section: SectionCounts,
  rule: Section | undefined,
  before: SectionCounts | undefined,
  reached: Reached,
  words: PieceWords,
): CardStep[] {
  if (rule?.do !== 'change') return [];
  const { input, dialect, markRow } = words;
  const shaping = shapingRows(section, rule, input.body, input.person);
  let { fromRow } = reached;
  return changeRows(rule, shaping, reached.side, fromRow, dialect).map((entry, index) => {
    const toRow = fromRow + entry.rows - 1;
    const side = entry.rows === 1 ? ` (${sideOf(reached.side, fromRow - reached.fromRow)})` : ` (${entry.rows} rows)`;
    const change =
      index === 0 && changesColour(section, before, input) ? `Change to ${words.nameOf(section.role)}. ` : '';
    const title = index === 0 ? `, ${section.name}` : '';
    const isMarked = markRow !== null && markRow >= fromRow && markRow <= toRow;
    const step: CardStep = {
      key: `${section.name} ${entry.key}`,
      words: `${change}${rowsFromTo(fromRow, toRow)}${title}${side}: ${entry.words}${isMarked ? ` ${markWords(markRow, words)}` : ''}`,
      rows: entry.rows,
      fromRow,
      toRow,
    };
    fromRow = toRow + 1;
    return step;
  });
}

function drawUpWords(piece: PieceCounts, words: PieceWords): string {
  const seam = seamWith(words, piece, 'draw-up');
  const mm = drawUpMm + (seam ? seamTimes * seam.lengthMm : 0);
  const what = seam ? ` for the ${seam.join.name} seam` : '';
  return `Cut the yarn, leaving an end of ${endWords(mm, words.dialect)}${what}. Draw it twice through the ${stitchesOf(piece.lastStitches)} and pull tight.`;
}

function bindOffWords(
  section: SectionCounts,
  rule: Section | undefined,
  before: SectionCounts | undefined,
  piece: PieceCounts,
  words: PieceWords,
): string {
  const { dialect } = words;
  const seam = seamWith(words, piece, 'bind-off');
  const loosely = rule?.do === 'bindOff' && rule.loose ? ' loosely' : '';
  const inRib = before?.fabric?.startsWith('rib') ? ' in rib' : '';
  const end = seam
    ? `, leaving an end of ${endWords(seamTimes * seam.lengthMm + endMm, words.dialect)} for the ${seam.join.name} seam`
    : '';
  const change = changesColour(section, before, words.input) ? ` with ${words.nameOf(section.role)}` : '';
  return `${capitalised(dialect.castOff)} all ${stitchesOf(section.stitchesBefore)}${loosely}${inRib}${change}${end}.`;
}

/**
 * The making of one piece: a step for each section, two where a mark or a colour's plain row splits it. The rows of the
 * steps add up to the rows of the piece, the cast-on being row 1.
 */
export function pieceSteps(piece: PieceCounts, words: PieceWords): CardStep[] {
  const rules = words.input.body.pieces.find(({ name }) => name === piece.name);
  const steps: CardStep[] = [];
  let reached: Reached = { fromRow: 1, side: 'right side' };
  for (const [index, section] of piece.sections.entries()) {
    const rule = rules?.sections[section.step];
    const before = piece.sections[index - 1];
    const side = section.startsOn ?? reached.side;
    const rows = rowsOfSection(section);
    const one = (text: string): CardStep => ({
      key: section.name,
      words: text,
      rows,
      fromRow: rows > 0 ? reached.fromRow : null,
      toRow: rows > 0 ? reached.fromRow + rows - 1 : null,
    });
    if (section.do === 'castOn') steps.push(one(castOnWords(section, piece, words)));
    if (section.do === 'pickUp') steps.push(one(pickUpWords(section, rule, words)));
    if (section.do === 'work') steps.push(...workSteps(section, rule, before, { ...reached, side }, words));
    if (section.do === 'change') steps.push(...changeSteps(section, rule, before, { ...reached, side }, words));
    if (section.do === 'drawUp') steps.push(one(drawUpWords(piece, words)));
    if (section.do === 'bindOff') steps.push(one(bindOffWords(section, rule, before, piece, words)));
    reached = { fromRow: reached.fromRow + rows, side: afterRows(side, rows) };
  }
  return steps;
}

/**
 * What comes at which row: the mark, the change of colour, the shaping. In order of rows.
 */
export function pieceMarks(piece: PieceCounts, words: PieceWords): RowMark[] {
  const marks: RowMark[] = [];
  let fromRow = 1;
  for (const [index, section] of piece.sections.entries()) {
    const before = piece.sections[index - 1];
    const rows = rowsOfSection(section);
    if (rows > 0 && changesColour(section, before, words.input)) {
      const name = words.nameOf(section.role);
      marks.push({ row: fromRow, is: 'colour', label: name, words: `row ${fromRow}: change to ${name}` });
    }
    if (rows > 0 && section.do === 'change') {
      marks.push({
        row: fromRow,
        is: 'shaping',
        label: section.name,
        words: `row ${fromRow}: the ${section.name} begins`,
      });
    }
    fromRow += rows;
  }
  const { markRow } = words;
  if (markRow !== null) {
    marks.push({ row: markRow, is: 'mark', label: 'mark', words: `row ${markRow}: mark both edges` });
  }
  return marks.sort((a, b) => a.row - b.row);
}
