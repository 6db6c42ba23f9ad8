import { safeHex, stitchShade } from '#views/components/yarn-colour.ts';

/** How a stitch lies on the drawing, in drawing units. */
export type StitchSize = { readonly across: number; readonly along: number };

export type KnittedFillProps = {
  readonly id: string;
  readonly hexes: readonly string[];
  readonly stitch: StitchSize;
  /** True when the knitting goes upward: the V's point is at the bottom. */
  readonly isUpright?: boolean;
  /** A fabric's name; stocking stitch unless said otherwise. */
  readonly fabric?: string;
};

/** Columns of knit stitches beside as many purl ones; 0 where every column is knit. */
const ribWidths: Readonly<Record<string, number>> = { 'rib 1x1': 1, 'rib 2x2': 2 };

/** The V of a knit stitch in the column `row` across and the row `column` along. */
function knitPath({ across, along }: StitchSize, row: number, column: number): string {
  const y = row * across;
  return `M${(column + 1.12) * along} ${y + across * 0.14}L${(column + 0.12) * along} ${y + across * 0.5}L${(column + 1.12) * along} ${y + across * 0.86}`;
}

/** The bump of a purl stitch: a bow across the row. */
function purlPath({ across, along }: StitchSize, row: number, column: number): string {
  const y = row * across;
  return `M${(column + 0.35) * along} ${y + across * 0.12}Q${(column + 0.85) * along} ${y + across * 0.5} ${(column + 0.35) * along} ${y + across * 0.88}`;
}

/**
 * A knitted surface as an SVG pattern: rows run across, knitting goes from left to right, so that each stitch is a V
 * whose point lies toward the cast-on at the left. Two colours alternate as two strands held together do. Ribs have
 * columns of knit and purl stitches, garter stitch a ridge in every second row.
 */
export const KnittedFill = ({ id, hexes, stitch, isUpright = false, fabric = 'stocking' }: KnittedFillProps) => {
  const colours = (hexes.length === 0 ? [''] : hexes.slice(0, 4)).map(safeHex);
  const { across, along } = stitch;
  const count = colours.length;
  const rib = ribWidths[fabric] ?? 0;
  const isGarter = fabric === 'garter';
  const rows = isGarter ? (count % 2 === 0 ? count : 2 * count) : count;
  const columns = rib === 0 ? 1 : 2 * rib;
  const thick = Math.min(across, along) * 0.34;
  const transform = isUpright ? 'rotate(-90)' : undefined;
  const shapeAt = (column: number, row: number): string => {
    const isPurl = isGarter ? ((row % 2) + 2) % 2 === 1 : rib > 0 && column >= rib;
    return isPurl ? purlPath(stitch, column, row) : knitPath(stitch, column, row);
  };
  const width = along * rows;
  const height = across * columns;
  return (
    <pattern
      id={id}
      width={width}
      height={height}
      patternUnits="userSpaceOnUse"
      {...(transform ? { patternTransform: transform } : {})}
    >
      <rect width={width} height={height} fill={stitchShade(colours[0]!)} />
      {colours.map((hex, index) => {
        // A stitch reaches into the next row, so that the rows before and after the pattern are drawn too.
        const own = Array.from({ length: rows + 2 }, (_, row) => row - 1).filter(
          (row) => ((row % count) + count) % count === index,
        );
        const path = own
          .flatMap((row) => Array.from({ length: columns }, (_, column) => shapeAt(column, row)))
          .join('');
        return (
          <path d={path} fill="none" stroke={hex} stroke-width={thick} stroke-linecap="round" stroke-linejoin="round" />
        );
      })}
    </pattern>
  );
};
