import { safeHex, stitchShade } from '#views/components/yarn-colour.ts';

/** How a stitch lies on the drawing, in drawing units. */
export type StitchSize = { readonly across: number; readonly along: number };

export type KnittedClothProps = {
  /** Unique on the page. */
  readonly id: string;
  /** The outline, as a path in drawing units. */
  readonly d: string;
  readonly hexes: readonly string[];
  readonly stitch: StitchSize;
  /** Where the knitting begins, and how far it goes along and across; the outline cuts off what is too much. */
  readonly x: number;
  readonly y: number;
  readonly along: number;
  readonly across: number;
  /** Knitted upward from its lower left corner (`x`, `y`) instead of to the right from its upper left one. */
  readonly isUpright?: boolean;
  /** A fabric's name; stocking stitch unless said otherwise. */
  readonly fabric?: string;
  readonly hasOutline?: boolean;
};

/** Columns of knit stitches beside as many purl ones; 0 where every column is knit. */
const ribWidths: Readonly<Record<string, number>> = { 'rib 1x1': 1, 'rib 2x2': 2 };

/** More stitches than this nobody can see: they are drawn larger. */
const mostColumns = 60;
const mostRows = 120;

const round = (value: number) => Math.round(value * 100) / 100;

/** The V of a knit stitch, its point toward the cast-on. */
function knitStitch({ across, along }: StitchSize, column: number): string {
  return `M${round(along * 1.12)} ${round((column + 0.14) * across)}l${round(-along)} ${round(across * 0.36)}l${round(along)} ${round(across * 0.36)}`;
}

/** The bump of a purl stitch: a bow across the row. */
function purlStitch({ across, along }: StitchSize, column: number): string {
  return `M${round(along * 0.35)} ${round((column + 0.12) * across)}q${round(along * 0.5)} ${round(across * 0.38)} 0 ${round(across * 0.76)}`;
}

/** Stitches no smaller than can be drawn, whatever the counts. */
function drawable({ across, along }: StitchSize, width: number, length: number): StitchSize {
  return { across: Math.max(across, width / mostColumns), along: Math.max(along, length / mostRows) };
}

/**
 * A knitted surface: rows of stitches, each a V whose point lies toward the cast-on. Two colours alternate as two strands
 * held together do. Ribs have columns of knit and purl stitches, garter stitch a ridge in every second row. A row is
 * drawn once and used again and again: a repeated SVG pattern would come out of a printer as one large picture.
 */
export const KnittedCloth = (props: KnittedClothProps) => {
  const { id, d, hexes, x, y, along, across, isUpright = false, fabric = 'stocking', hasOutline = true } = props;
  const colours = (hexes.length === 0 ? [''] : hexes.slice(0, 4)).map(safeHex);
  const stitch = drawable(props.stitch, across, along);
  const columns = Math.max(1, Math.ceil(across / stitch.across - 0.01));
  const rows = Math.max(1, Math.ceil(along / stitch.along - 0.01));
  const rib = ribWidths[fabric] ?? 0;
  const isGarter = fabric === 'garter';
  const numbers = Array.from({ length: columns }, (_, column) => column);
  const row = numbers
    .map((column) => (rib > 0 && column % (2 * rib) >= rib ? purlStitch(stitch, column) : knitStitch(stitch, column)))
    .join('');
  const place = isUpright ? `translate(${round(x)} ${round(y)}) rotate(-90)` : `translate(${round(x)} ${round(y)})`;
  return (
    <>
      <defs>
        <clipPath id={`${id}-edge`}>
          <path d={d} />
        </clipPath>
        <path id={`${id}-row`} d={row} />
        {isGarter ? <path id={`${id}-ridge`} d={numbers.map((column) => purlStitch(stitch, column)).join('')} /> : null}
      </defs>
      <path d={d} fill={stitchShade(colours[0]!)} />
      <g clip-path={`url(#${id}-edge)`}>
        <g
          transform={place}
          fill="none"
          stroke-width={round(Math.min(stitch.across, stitch.along) * 0.34)}
          stroke-linecap="round"
          stroke-linejoin="round"
        >
          {colours.map((hex, index) => (
            <g stroke={hex}>
              {Array.from({ length: Math.ceil((rows - index) / colours.length) }, (_, turn) => {
                const number = index + turn * colours.length;
                const what = isGarter && number % 2 === 1 ? 'ridge' : 'row';
                return <use href={`#${id}-${what}`} x={round(number * stitch.along)} />;
              })}
            </g>
          ))}
        </g>
      </g>
      {hasOutline ? <path class="outline" d={d} fill="none" /> : null}
    </>
  );
};
