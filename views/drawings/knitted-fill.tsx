import { safeHex, stitchShade } from '#views/components/yarn-colour.ts';

/** How a stitch lies on the drawing, in drawing units. */
export type StitchSize = { readonly across: number; readonly along: number };

/**
 * A knitted surface as an SVG pattern: rows run across, knitting goes from left to right, so that each stitch is a V
 * whose point lies toward the cast-on at the left. Two colours alternate as two strands held together do.
 */
export const KnittedFill = ({
  id,
  hexes,
  stitch,
  isUpright = false,
}: {
  readonly id: string;
  readonly hexes: readonly string[];
  readonly stitch: StitchSize;
  /** True when the knitting goes upward: the V's point is at the bottom. */
  readonly isUpright?: boolean;
}) => {
  const colours = (hexes.length === 0 ? [''] : hexes.slice(0, 4)).map(safeHex);
  const { across, along } = stitch;
  const count = colours.length;
  const thick = Math.min(across, along) * 0.34;
  const transform = isUpright ? 'rotate(-90)' : undefined;
  return (
    <pattern
      id={id}
      width={along * count}
      height={across}
      patternUnits="userSpaceOnUse"
      {...(transform ? { patternTransform: transform } : {})}
    >
      <rect width={along * count} height={across} fill={stitchShade(colours[0]!)} />
      {colours.flatMap((hex, index) =>
        [index, index + count, index - count].map((column) => (
          <path
            d={`M${(column + 1.12) * along} ${across * 0.14}L${(column + 0.12) * along} ${across * 0.5}L${(column + 1.12) * along} ${across * 0.86}`}
            fill="none"
            stroke={hex}
            stroke-width={thick}
            stroke-linecap="round"
            stroke-linejoin="round"
          />
        )),
      )}
    </pattern>
  );
};
