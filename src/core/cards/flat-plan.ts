import type { FlatPart, FlatPlan } from '#core/cards/card.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import type { PieceCounts, SectionCounts } from '#core/styles/spec.ts';
import type { Piece, Section } from '#core/styles/style.ts';

/** Rows in 10 cm of a fabric in a piece's gauge. */
export function rowsPer10CmOf(piece: Pick<PieceCounts, 'stitchesPer10Cm' | 'rowsPer10Cm'>, fabricName: string): number {
  const fabric = fabricNamed(fabricName);
  return fabric.rowFactor === null
    ? piece.stitchesPer10Cm * fabric.rowsPerStitch
    : piece.rowsPer10Cm * fabric.rowFactor;
}

function firstFabric(sections: readonly SectionCounts[]): string {
  return sections.find((section) => section.do === 'work')?.fabric ?? 'stocking';
}

/**
 * The fabric of a section; a cast-on belongs to what is worked after it.
 *
 * @param section the section's counts
 * @param rule the section of the style, which alone knows the fabric of a change
 * @param first fabric of the piece's first worked rows
 */
export function fabricOfSection(section: SectionCounts, rule: Section | undefined, first: string): string {
  if (section.fabric !== null) return section.fabric;
  if (rule?.do === 'change' && rule.how !== 'two together across') return rule.fabric;
  return section.do === 'change' ? 'stocking' : first;
}

/** A section's rows, the cast-on being one. */
export function rowsOfSection(section: SectionCounts): number {
  return section.do === 'castOn' || section.do === 'pickUp' ? 1 : section.rows;
}

/** Rows that look alike are one stretch. */
function isOneWith(last: FlatPart, next: FlatPart): boolean {
  return (
    last.role === next.role &&
    last.fabric === next.fabric &&
    !next.isGathered &&
    last.startMm === last.endMm &&
    last.endMm === next.startMm &&
    next.startMm === next.endMm
  );
}

/**
 * The outline of a flat piece from its counts: stretches of rows with their widths, seams taken off.
 *
 * @param piece counts in a knitter's hand
 * @param rules the piece in the style, for the fabric of its changes
 * @param markRow row at which its edges are marked, from the cast-on; null without a mark
 */
export function flatPlanOf(piece: PieceCounts, rules: Piece | undefined, markRow: number | null): FlatPlan {
  const seamStitches = piece.castOnStitches - (piece.widthMm * piece.stitchesPer10Cm) / 100;
  const widthOf = (stitches: number) => Math.max(0, ((stitches - seamStitches) * 100) / piece.stitchesPer10Cm);
  const first = firstFabric(piece.sections);
  const parts: FlatPart[] = [];
  let reached = 0;
  for (const [_index, section] of piece.sections.entries()) {
    const rows = rowsOfSection(section);
    if (rows === 0) continue;
    const fabric = fabricOfSection(section, rules?.sections[section.step], first);
    const rowMm = 100 / rowsPer10CmOf(piece, fabric);
    const isGathered = section.how === 'two together across';
    const part: FlatPart = {
      role: section.role,
      fabric,
      fromMm: reached,
      toMm: reached + rows * rowMm,
      startMm: widthOf(section.stitchesBefore),
      endMm: widthOf(section.stitchesAfter),
      rows,
      rowMm,
      stitches: section.stitchesBefore,
      isGathered,
    };
    const last = parts.at(-1);
    if (last && isOneWith(last, part)) {
      parts[parts.length - 1] = { ...last, toMm: part.toMm, rows: last.rows + rows };
    } else {
      parts.push(part);
    }
    reached += rows * rowMm;
  }
  return {
    parts,
    widthMm: Math.max(...parts.map((part) => Math.max(part.startMm, part.endMm))),
    lengthMm: reached,
    markMm: markRow === null ? null : lengthToRow(parts, markRow),
  };
}

/** Millimetres from the start over some rows. */
function lengthToRow(parts: readonly FlatPart[], rows: number): number {
  let left = rows;
  let length = 0;
  for (const part of parts) {
    const taken = Math.min(left, part.rows);
    length += taken * part.rowMm;
    left -= taken;
  }
  return length;
}
