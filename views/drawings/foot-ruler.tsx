import { mmInInch, type UnitSystem } from '#core/shared/measures.ts';
import { unitSystem } from '#views/format.ts';

/** Fits on A4 and on Letter inside the margins of the style sheet, corner to corner, so that 28 cm go on one page. */
const sheet = { width: 182, height: 238 };
const lengthMm = 280;
/** A number this near to the end would be cut off by the edge of the paper. */
const roomForNumberMm = 5;
const diagonal = Math.hypot(sheet.width, sheet.height);
const along = { x: sheet.width / diagonal, y: -sheet.height / diagonal };
const across = { x: -along.y, y: along.x };
const start = {
  x: along.x * ((diagonal - lengthMm) / 2),
  y: sheet.height + along.y * ((diagonal - lengthMm) / 2),
};

const round = (value: number) => Math.round(value * 100) / 100;

/** The point so many mm along the ruler and so many to its right, in mm on the sheet. */
function pointAt(mm: number, aside = 0): string {
  return `${round(start.x + along.x * mm + across.x * aside)} ${round(start.y + along.y * mm + across.y * aside)}`;
}

type Scale = {
  readonly unit: string;
  readonly unitMm: number;
  /** Marks in a unit, and how long the mark at a place is to either side, mm. */
  readonly marks: number;
  readonly halfMm: (place: number) => number;
};

const scales: Readonly<Record<UnitSystem, Scale>> = {
  metric: { unit: 'cm', unitMm: 10, marks: 10, halfMm: (place) => (place === 0 ? 5 : place === 5 ? 3.5 : 2) },
  imperial: {
    unit: 'in',
    unitMm: mmInInch,
    marks: 8,
    halfMm: (place) => (place === 0 ? 5 : place === 4 ? 4 : place % 2 === 0 ? 3 : 2),
  },
};

function ticksOf({ unitMm, marks, halfMm }: Scale): string {
  const count = Math.floor((lengthMm / unitMm) * marks + 1e-9);
  return Array.from({ length: count + 1 }, (_, index) => {
    const half = halfMm(index % marks);
    const mm = (index * unitMm) / marks;
    return `M${pointAt(mm, -half)}L${pointAt(mm, half)}`;
  }).join('');
}

const degrees = (Math.atan2(along.y, along.x) * 180) / Math.PI;

/** A bar of a known length, to see whether the printer kept the scale. */
const CheckBar = ({ y, mm, words }: { readonly y: number; readonly mm: number; readonly words: string }) => (
  <>
    <path d={`M2 ${y}H${2 + mm}M2 ${y - 3}V${y + 3}M${2 + mm} ${y - 3}V${y + 3}`} />
    <text x="2" y={y - 4}>
      {words}
    </text>
  </>
);

/** A ruler for feet to stand on, in the units of the paper: 1 is 1 mm. */
export const FootRuler = () => {
  const scale = scales[unitSystem()];
  const wholes = Math.floor(lengthMm / scale.unitMm);
  return (
    <svg
      class="ruler"
      viewBox={`0 0 ${sheet.width} ${sheet.height}`}
      role="img"
      aria-label={`A ruler of ${wholes} ${scale.unit} from corner to corner, the heel at the bottom left, with bars of 10 cm and 4 in to check the scale`}
    >
      <g class="ruler-lines">
        <path d={`M${pointAt(0)}L${pointAt(lengthMm)}`} />
        <path d={ticksOf(scale)} />
        <CheckBar y={12} mm={100} words="This bar must be 10 cm long" />
        <CheckBar y={26} mm={101.6} words="and this one 4 in" />
      </g>
      {Array.from({ length: Math.floor((lengthMm - roomForNumberMm) / scale.unitMm) }, (_, index) => index + 1).map(
        (whole) => {
          const [x, y] = pointAt(whole * scale.unitMm, 10).split(' ');
          return (
            <text x={x} y={y} text-anchor="middle" dominant-baseline="central">
              {whole}
            </text>
          );
        },
      )}
      <text transform={`translate(${pointAt(12, 17)}) rotate(${round(degrees)})`}>back of the heel on this end: 0</text>
      <text x="2" y="40">
        If they are not, print again at 100 % (“actual size”),
      </text>
      <text x="2" y="46">
        or measure with a tape instead.
      </text>
    </svg>
  );
};
