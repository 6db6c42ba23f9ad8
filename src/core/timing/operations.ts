import type { Operations } from '#core/styles/spec.ts';
import type { WorkedPiece, WorkedStyle } from '#core/styles/work-out.ts';

/** From this needle up, or with two strands, every stitch is slower. Our own choice. */
const bulkyNeedleMm = 6.5;

type Counts = { -readonly [K in keyof Operations]: Operations[K] } & { stitches: Record<string, number> };

function colourChanges(piece: WorkedPiece): number {
  let changes = 0;
  let before: string | undefined;
  for (const { section } of piece.sections) {
    if (before !== undefined && before !== section.colour) changes += 1;
    before = section.colour;
  }
  return changes;
}

function addStitches(counts: Counts, fabric: string, stitches: number): void {
  counts.stitches[fabric] = (counts.stitches[fabric] ?? 0) + stitches;
}

function addPiece(counts: Counts, piece: WorkedPiece, isOneColour: boolean): void {
  for (const { section, stitchesBefore, rows, shaping } of piece.sections) {
    if (section.do === 'castOn' || section.do === 'pickUp') counts.castOnStitches += stitchesBefore;
    if (section.do === 'bindOff') counts.bindOffStitches += stitchesBefore;
    if (section.do === 'drawUp') counts.drawUps += 1;
    if (section.do === 'work') {
      addStitches(counts, section.fabric, stitchesBefore * rows);
      counts.rowTurns += rows;
    }
    if (section.do === 'change') {
      const fabric = section.how === 'two together across' ? 'stocking' : section.fabric;
      for (const row of shaping?.rows ?? []) {
        counts.twoTogetherStitches += row.taken;
        if (row.before > row.taken) addStitches(counts, fabric, row.before - row.taken);
      }
      counts.rowTurns += rows;
    }
  }
  const changes = isOneColour ? 0 : colourChanges(piece);
  counts.colourChanges += changes;
  const finishes = piece.sections.filter(({ section }) => section.do === 'bindOff' || section.do === 'drawUp').length;
  counts.ends += 1 + finishes + 2 * changes;
  counts.piecesBegun += 1;
}

function operationsOfOne(worked: WorkedStyle): Operations {
  const { shape } = worked;
  const counts: Counts = {
    stitches: {},
    castOnStitches: 0,
    twoTogetherStitches: 0,
    bindOffStitches: 0,
    rowTurns: 0,
    seamMm: 0,
    ends: 0,
    colourChanges: 0,
    drawUps: 0,
    piecesBegun: 0,
    isBulky: worked.pieces.some(({ gauge }) => gauge.yarns.length > 1 || gauge.needleMm >= bulkyNeedleMm),
  };
  for (const piece of worked.pieces) addPiece(counts, piece, shape.isOneColour);
  for (const { join, lengthMm } of worked.seams) {
    counts.seamMm += lengthMm;
    if (join.withTail === undefined) counts.ends += 2;
  }
  return counts;
}

function addOperations(a: Operations, b: Operations): Operations {
  const stitches = { ...a.stitches };
  for (const [fabric, count] of Object.entries(b.stitches)) stitches[fabric] = (stitches[fabric] ?? 0) + count;
  return {
    stitches,
    castOnStitches: a.castOnStitches + b.castOnStitches,
    twoTogetherStitches: a.twoTogetherStitches + b.twoTogetherStitches,
    bindOffStitches: a.bindOffStitches + b.bindOffStitches,
    rowTurns: a.rowTurns + b.rowTurns,
    seamMm: a.seamMm + b.seamMm,
    ends: a.ends + b.ends,
    colourChanges: a.colourChanges + b.colourChanges,
    drawUps: a.drawUps + b.drawUps,
    piecesBegun: a.piecesBegun + b.piecesBegun,
    isBulky: a.isBulky || b.isBulky,
  };
}

/**
 * Counts all handwork of one pair: stitches by fabric, cast-on, shaping, binding off, turns, seams, ends and changes.
 * Two-together stitches are the stitches that go into the row, since each of them is on a needle to be worked.
 *
 * @param left one slipper, as `workOut` gives it
 * @param right the other, where the feet differ; the same object where they are alike
 * @returns whole counts and millimetres of seam for the pair
 */
export function operationsOf(left: WorkedStyle, right: WorkedStyle): Operations {
  const one = operationsOfOne(left);
  return addOperations(one, right === left ? one : operationsOfOne(right));
}
