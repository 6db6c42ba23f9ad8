import type { Child } from 'hono/jsx';
import { safeHex, stitchShade } from '#views/components/yarn-colour.ts';

export type ChipProps = {
  /** One to four `#rrggbb`: plain, tweed or marl. */
  readonly colours: readonly string[];
  readonly name: Child;
};

// Four columns of stitches, each a V; the rows above and below run out of the frame.
const stitchWidth = 7;
const stitchHeight = 4.5;
const stitches = [-1, 0, 1, 2, 3].flatMap((row) => [0, 1, 2, 3].map((column) => ({ row, column })));

// Two strands twist, so neighbours differ: colours run along the rows and are moved by one from row to row.
function pathOf(colourCount: number, index: number): string {
  return stitches
    .filter(({ row, column }) => (row + 1 + column) % colourCount === index)
    .map(({ row, column }) => `M${column * stitchWidth + 1.1} ${row * stitchHeight}l2.4 3.6l2.4-3.6`)
    .join('');
}

const paths = [1, 2, 3, 4].map((count) => Array.from({ length: count }, (_, index) => pathOf(count, index)));

/** A colour of yarn, as it looks knitted, and its name. */
export const Chip = ({ colours, name }: ChipProps) => {
  const hexes = (colours.length === 0 ? [''] : colours.slice(0, 4)).map(safeHex);
  return (
    <span class="chip">
      <svg width="28" height="18" viewBox="0 0 28 18" aria-hidden="true" focusable="false">
        <rect width="28" height="18" fill={stitchShade(hexes[0]!)} />
        {hexes.map((hex, index) => (
          <path d={paths[hexes.length - 1]![index]!} fill="none" stroke={hex} stroke-width="2" stroke-linecap="round" />
        ))}
        <rect class="chip-edge" x="0.5" y="0.5" width="27" height="17" fill="none" />
      </svg>
      <span>{name}</span>
    </span>
  );
};
