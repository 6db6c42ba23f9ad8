import type { Operations } from '#core/styles/spec.ts';
import type { WorkedPiece, WorkedStyle } from '#core/styles/work-out.ts';

/** From this needle up, or with two strands, every stitch is slower. Our own choice. */
const bulkyNeedleMm = 6.5;

type Counts = { -readonly [K in keyof Operations]: Operations[K] } & { stitches: Record<string, number> };

function colourChanges(piece: WorkedPiece): number {
  return piece.sections.filter((each, index) => {
    const before = piece.sections[index - 1]?.section.colour;
    return before !== undefined && before !== each.section.colour;
  }).length;
}

function addPiece(counts: Counts, piece: WorkedPiece, isOneColour: boolean): void {
  const add = (fabric: string, stitches: number) => {
    counts.stitches[fabric] = (counts.stitches[fabric] ?? 0) + stitches;
  };
  for (const { section, stitchesBefore, rows, shaping } of piece.sections) {
    if (section.do === 'castOn' || section.do === 'pickUp') counts.castOnStitches += stitchesBefore;
    if (section.do === 'bindOff') counts.bindOffStitches += stitchesBefore;
    if (section.do === 'drawUp') counts.drawUps += 1;
    if (section.do === 'work') {
      add(section.fabric, stitchesBefore * rows);
      counts.rowTurns += rows;
    }
    if (section.do === 'change') {
      const fabric = section.how === 'two together across' ? 'stocking' : section.fabric;
      for (const row of shaping?.rows ?? []) {
        counts.twoTogetherStitches += row.taken;
        if (row.before > row.taken) add(fabric, row.before - row.taken);
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

/**
 * Counts all handwork of one pair: stitches by fabric, cast-on, shaping, binding off, turns, seams, ends and changes.
 * Two-together stitches are the stitches that go into the row, since each of them is on a needle to be worked.
 *
 * @param worked one slipper, as `workOut` gives it
 * @returns whole counts and millimetres of seam for the pair
 */
export function operationsOf(worked: WorkedStyle): Operations {
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
  const make = shape.style.body.make;
  const stitches = Object.fromEntries(Object.entries(counts.stitches).map(([fabric, count]) => [fabric, count * make]));
  return {
    stitches,
    castOnStitches: counts.castOnStitches * make,
    twoTogetherStitches: counts.twoTogetherStitches * make,
    bindOffStitches: counts.bindOffStitches * make,
    rowTurns: counts.rowTurns * make,
    seamMm: counts.seamMm * make,
    ends: counts.ends * make,
    colourChanges: counts.colourChanges * make,
    drawUps: counts.drawUps * make,
    piecesBegun: counts.piecesBegun * make,
    isBulky: counts.isBulky,
  };
}
