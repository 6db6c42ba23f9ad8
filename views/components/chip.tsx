import type { Child } from 'hono/jsx';
import { safeHex, stitchShade } from '#views/components/yarn-colour.ts';

export type ChipProps = {
  /** One to four `#rrggbb`: plain, tweed or marl. */
  readonly colours: readonly string[];
  readonly name: Child;
};

// Three columns and two rows of stitches, each a V of 8 x 7; a half row above and below runs out of the frame.
const columns = [0, 1, 2];
const rows = [-1, 0, 1, 2];
const stitchWidth = 8;
const stitchHeight = 6;

function stitchPath(column: number, row: number): string {
  const x = column * stitchWidth;
  const y = row * stitchHeight;
  return `M${x + 1} ${y}l3 5.5l3-5.5`;
}

const allStitches = rows.flatMap((row) => columns.map((column) => ({ row, column, path: stitchPath(column, row) })));

function pathsByColour(colours: readonly string[]): { hex: string; path: string }[] {
  return colours.map((hex, index) => ({
    hex,
    path: allStitches
      // Two strands twist, so neighbours differ; the second column is moved by one for three and four colours too.
      .filter(({ row, column }) => (((row + column) % colours.length) + colours.length) % colours.length === index)
      .map(({ path }) => path)
      .join(''),
  }));
}

/** A colour of yarn, as it looks knitted, and its name. */
export const Chip = ({ colours, name }: ChipProps) => {
  const hexes = (colours.length === 0 ? [''] : colours.slice(0, 4)).map(safeHex);
  return (
    <span class="chip">
      <svg width="24" height="16" viewBox="0 0 24 16" aria-hidden="true" focusable="false">
        <rect width="24" height="16" fill={stitchShade(hexes[0]!)} />
        {pathsByColour(hexes).map(({ hex, path }) => (
          <path d={path} fill="none" stroke={hex} stroke-width="3.4" stroke-linecap="round" />
        ))}
        <rect class="chip-edge" x="0.5" y="0.5" width="23" height="15" fill="none" />
      </svg>
      <span>{name}</span>
    </span>
  );
};
