import { countOf, formatMmAsCm } from '#core/shared/format.ts';
import type { PieceCounts, Spec } from '#core/styles/spec.ts';
import { KnittedFill } from '#views/drawings/knitted-fill.tsx';

export type FlatPiecesProps = {
  /** Unique on the page. */
  readonly id: string;
  readonly spec: Spec;
  /** One to four colours of each role, `#rrggbb`. */
  readonly hexesOf: (role: string) => readonly string[];
};

const sheetWidth = 360;
const left = 78;
const longest = 236;
const top = 34;

/** A dimension line with ends, and its words. */
const Across = ({ x1, x2, y, words }: { x1: number; x2: number; y: number; words: string }) => (
  <g class="dimension">
    <path d={`M${x1} ${y}H${x2}M${x1} ${y - 4}V${y + 4}M${x2} ${y - 4}V${y + 4}`} />
    <text x={(x1 + x2) / 2} y={y + 16} text-anchor="middle">
      {words}
    </text>
  </g>
);

const Down = ({ y1, y2, x, words }: { y1: number; y2: number; x: number; words: readonly [string, string] }) => (
  <g class="dimension">
    <path d={`M${x} ${y1}V${y2}M${x - 4} ${y1}H${x + 4}M${x - 4} ${y2}H${x + 4}`} />
    <text x={x - 8} y={(y1 + y2) / 2 - 3} text-anchor="end">
      {words[0]}
    </text>
    <text x={x - 8} y={(y1 + y2) / 2 + 13} text-anchor="end">
      {words[1]}
    </text>
  </g>
);

function toeRowsOf(piece: PieceCounts): number {
  return piece.sections.filter((section) => section.do === 'change').reduce((sum, section) => sum + section.rows, 0);
}

/**
 * The foot, flat and to scale, heel at the left: where the top seam ends, where the stitches are drawn up. Widths and
 * lengths are those of the counts, seams taken off.
 */
export const FlatFoot = ({ id, spec, hexesOf }: FlatPiecesProps) => {
  const foot = spec.pieces[0]!;
  const scale = longest / foot.lengthMm;
  const width = foot.widthMm * scale;
  const rowLength = longest / foot.totalRows;
  const toe = longest - toeRowsOf(foot) * rowLength;
  const mark = spec.measures.markRows * rowLength;
  const stitch = { across: width / Math.max(1, foot.castOnStitches), along: rowLength };
  const height = top + width + 46;
  const middle = top + width / 2;
  const right = left + longest;
  const outline = `M${left} ${top}H${left + toe}C${right - 2} ${top + width * 0.06} ${right + 10} ${middle - width * 0.16} ${right + 14} ${middle}C${right + 10} ${middle + width * 0.16} ${right - 2} ${top + width * 0.94} ${left + toe} ${top + width}H${left}Z`;
  const words = `Foot, flat: ${foot.castOnStitches} stitches, ${formatMmAsCm(foot.widthMm)} wide; ${foot.totalRows} rows, ${formatMmAsCm(foot.lengthMm)} long; top seam from row ${spec.measures.markRows} to the toe; ${foot.lastStitches} stitches drawn up.`;
  return (
    <svg class="drawing" viewBox={`0 0 ${sheetWidth} ${height}`} role="img" aria-label={words}>
      <defs>
        <KnittedFill id={`${id}-foot`} hexes={hexesOf('foot')} stitch={stitch} />
      </defs>
      <path class="outline" d={outline} fill={`url(#${id}-foot)`} />
      <path class="mark-line" d={`M${left + mark} ${top - 6}V${top + width + 6}`} />
      <text x={left} y={14}>
        heel
      </text>
      <text x={left + mark} y={14} text-anchor="middle">
        {`row ${spec.measures.markRows}: top seam begins`}
      </text>
      <text x={sheetWidth - 2} y={14} text-anchor="end">
        toe
      </text>
      <Down
        y1={top}
        y2={top + width}
        x={left - 12}
        words={[`${foot.castOnStitches} sts`, formatMmAsCm(foot.widthMm)]}
      />
      <Across
        x1={left}
        x2={right}
        y={top + width + 16}
        words={`${countOf(foot.totalRows, 'row', 'rows')}, ${formatMmAsCm(foot.lengthMm)}; ${foot.lastStitches} sts drawn up`}
      />
    </svg>
  );
};

/** The cuff, flat and to the foot's scale: worked upward from the edge that is sewn to the foot. */
export const FlatCuff = ({ id, spec, hexesOf }: FlatPiecesProps) => {
  const foot = spec.pieces[0]!;
  const cuff = spec.pieces[1];
  if (!cuff) return null;
  const scale = Math.min(longest / foot.lengthMm, longest / cuff.widthMm);
  const width = cuff.widthMm * scale;
  const worked = cuff.sections.filter((section) => section.do === 'work');
  const rows = worked.reduce((sum, section) => sum + section.rows, 0);
  const rowHeight = (100 / cuff.rowsPer10Cm) * scale;
  const cuffTop = 12;
  const heightAll = rows * rowHeight;
  const stitch = { across: width / Math.max(1, cuff.castOnStitches), along: rowHeight };
  let bottom = cuffTop + heightAll;
  const bands = worked.map((section) => {
    const height = section.rows * rowHeight;
    bottom -= height;
    return { role: section.role, y: bottom, height };
  });
  const roles = [...new Set(bands.map((band) => band.role))];
  const heightMm = spec.measures.cuffHeightMm ?? 0;
  const words = `Cuff, flat: ${cuff.castOnStitches} stitches, ${formatMmAsCm(cuff.widthMm)} wide; ${rows} rows, ${formatMmAsCm(heightMm)} tall.`;
  return (
    <svg class="drawing" viewBox={`0 0 ${sheetWidth} ${cuffTop + heightAll + 42}`} role="img" aria-label={words}>
      <defs>
        {roles.map((role) => (
          <KnittedFill id={`${id}-cuff-${role}`} hexes={hexesOf(role)} stitch={stitch} isUpright />
        ))}
      </defs>
      {bands.map((band) => (
        <rect
          class="outline"
          x={left}
          y={band.y}
          width={width}
          height={band.height}
          fill={`url(#${id}-cuff-${band.role})`}
        />
      ))}
      <Down
        y1={cuffTop}
        y2={cuffTop + heightAll}
        x={left - 12}
        words={[countOf(rows, 'row', 'rows'), formatMmAsCm(heightMm)]}
      />
      <Across
        x1={left}
        x2={left + width}
        y={cuffTop + heightAll + 14}
        words={`${cuff.castOnStitches} sts, ${formatMmAsCm(cuff.widthMm)} (sewn to the foot)`}
      />
    </svg>
  );
};
