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

const stitchWays = Array.from({ length: mostColours }, (_, index) => stitchesOf(index + 1));

/** What all chips of a page are drawn with: the layout has it once, so that a chip of a long table is a line. */
export const ChipStitches = () => (
  <svg class="chip-stitches" width="0" height="0" aria-hidden="true">
    <defs>
      {stitchWays.map((d, index) => (
        // The ground and the first colour; further colours take the stitches alone.
        <g id={`chip-${index + 1}`}>
          <rect width="28" height="18" stroke="none" />
          <path id={`stitches-${index + 1}`} d={d} fill="none" stroke-width="2" stroke-linecap="round" />
        </g>
      ))}
    </defs>
  </svg>
);

/** A colour of yarn, as it looks knitted, and its name. */
export const Chip = ({ colours, name }: ChipProps) => {
  const [first = safeHex(''), ...others] = colours.slice(0, mostColours).map(safeHex);
  const count = 1 + others.length;
  return (
    <span class="chip">
      <svg width="28" height="18" aria-hidden="true">
        <use href={`#chip-${count}`} fill={stitchShade(first)} stroke={first} />
        {others.map((hex, index) => (
          <use href={`#stitches-${count}`} x={(index + 1) * stitchWidth} stroke={hex} />
        ))}
      </svg>
      <span>{name}</span>
    </span>
  );
};
