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
const columns = 4;
const stitchRows = [-1, 0, 1, 2, 3];
const mostColours = 4;

/**
 * The stitches of the first of so many colours. Two strands twist, so neighbours differ: colours run along the rows and
 * are moved by one from row to row. The stitches of the next colour are the same, one column on, so there are columns
 * left of the frame too.
 */
function stitchesOf(colourCount: number): string {
  const first = 1 - colourCount;
  const drawn = Array.from({ length: columns - first }, (_, index) => first + index);
  return stitchRows
    .flatMap((row) =>
      drawn
        .filter((column) => (row + 1 + column) % colourCount === 0)
        .map((column) => `M${column * stitchWidth + 1.1} ${row * stitchHeight}l2.4 3.6 2.4-3.6`),
    )
    .join('');
}

/** What all chips of a page are drawn with: the layout has it once, so that a chip of a long table is a line. */
export const ChipStitches = () => (
  <svg class="chip-stitches" width="0" height="0" aria-hidden="true">
    <defs>
      <rect id="chip-ground" width="28" height="18" stroke="none" />
      {Array.from({ length: mostColours }, (_, index) => (
        <path id={`chip-${index + 1}`} d={stitchesOf(index + 1)} fill="none" stroke-width="2" stroke-linecap="round" />
      ))}
    </defs>
  </svg>
);

/** A colour of yarn, as it looks knitted, and its name. */
export const Chip = ({ colours, name }: ChipProps) => {
  const hexes = (colours.length === 0 ? [''] : colours.slice(0, mostColours)).map(safeHex);
  return (
    <span class="chip">
      <svg width="28" height="18" aria-hidden="true">
        <use href="#chip-ground" fill={stitchShade(hexes[0]!)} />
        {hexes.map((hex, index) => (
          <use href={`#chip-${hexes.length}`} x={index === 0 ? undefined : index * stitchWidth} stroke={hex} />
        ))}
      </svg>
      <span>{name}</span>
    </span>
  );
};
