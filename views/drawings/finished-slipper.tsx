import type { Silhouette } from '#core/cards/card.ts';
import { KnittedCloth } from '#views/drawings/knitted-cloth.tsx';

export type FinishedSlipperProps = {
  /** Unique on the page. */
  readonly id: string;
  readonly shape: Silhouette;
  readonly words: string;
  readonly hexesOf: (role: string) => readonly string[];
};

const sheetWidth = 300;
const left = 22;
const length = 250;

type Part = { readonly role: string; readonly fabric: string; readonly from: number; readonly to: number };

/** Stretches along the foot, neighbours alike put together, as shares of its length. */
function stretchesOf(shape: Silhouette): readonly Part[] {
  const parts: Part[] = [];
  let reached = 0;
  for (const { role, fabric, share } of shape.foot) {
    const last = parts.at(-1);
    const to = reached + share;
    if (last && last.role === role && last.fabric === fabric) parts[parts.length - 1] = { ...last, to };
    else parts.push({ role, fabric, from: reached, to });
    reached = to;
  }
  return parts;
}

/** The finished slipper from the side in its colours: toe at the right, ink lines, yarn between them. */
export const FinishedSlipper = ({ id, shape, words, hexesOf }: FinishedSlipperProps) => {
  const scale = length / shape.lengthMm;
  const isTube = shape.kind === 'tube';
  const tall = shape.heightMm * scale;
  const cuffTall = shape.cuff ? shape.cuff.heightMm * scale * (shape.cuff.isTurnedDown ? 0.5 : 1) : 0;
  const top = 10 + cuffTall;
  const sole = top + tall;
  const open = left + length * Math.min(0.75, shape.openRatio);
  const x = (share: number) => Math.round((left + length * share) * 10) / 10;
  const y = (share: number) => Math.round((sole - tall * share) * 10) / 10;
  const foot = isTube
    ? `M${left} ${y(1)}L${x(0.9)} ${y(1)}C${x(0.98)} ${y(0.98)} ${x(1)} ${y(0.75)} ${x(1)} ${y(0.5)}C${x(1)} ${y(0.25)} ${x(0.98)} ${y(0.02)} ${x(0.9)} ${y(0)}L${left} ${y(0)}Z`
    : `M${x(0.04)} ${y(0)}C${x(-0.01)} ${y(0.08)} ${x(-0.015)} ${y(0.4)} ${x(0.005)} ${y(0.97)}Q${(left + open) / 2} ${y(shape.cuff ? 0.94 : 0.76)} ${open} ${y(0.99)}C${x(0.72)} ${y(0.95)} ${x(0.94)} ${y(0.74)} ${x(0.995)} ${y(0.36)}C${x(1.01)} ${y(0.16)} ${x(0.99)} ${y(0.02)} ${x(0.93)} ${y(0)}Z`;
  const stitch = { across: 6, along: 4.6 };
  let reached = 0;
  const bands = (shape.cuff?.bands ?? []).map((band, index) => {
    const from = reached;
    reached += band.share;
    return { role: band.role, from, to: reached, id: `${id}-cuff-${index}` };
  });
  const isDown = shape.cuff?.isTurnedDown ?? false;
  const lean = isDown ? -5 : 4;
  // A turned-down cuff shows its upper half, outside in, over the join.
  const shownBands = isDown
    ? bands
        .filter((band) => band.to > 0.5)
        .map((band) => ({ ...band, from: Math.max(0, (band.from - 0.5) * 2), to: (band.to - 0.5) * 2 }))
    : bands;
  const cuffEdge = (share: number) => {
    const height = y(0.97) - cuffTall * (isDown ? 1 - share : share) + (isDown ? cuffTall * 0.12 : 0);
    const inward = lean * share;
    return {
      height: Math.round(height * 10) / 10,
      from: Math.round((left + 1 + inward) * 10) / 10,
      to: Math.round((open - inward * 1.4) * 10) / 10,
    };
  };
  return (
    <svg class="drawing finished" viewBox={`0 0 ${sheetWidth} ${Math.round(sole + 10)}`} role="img" aria-label={words}>
      <defs>
        <clipPath id={`${id}-outline`}>
          <path d={foot} />
        </clipPath>
      </defs>
      {shape.cuff || isTube ? null : (
        <path
          class="inside"
          d={`M${x(0.005)} ${y(0.97)}Q${(left + open) / 2} ${y(1.1)} ${open} ${y(0.99)}Q${(left + open) / 2} ${y(0.76)} ${x(0.005)} ${y(0.97)}Z`}
        />
      )}
      <g clip-path={`url(#${id}-outline)`}>
        {stretchesOf(shape).map((part, index) => {
          const from = part.from === 0 ? 0 : x(part.from);
          const to = part.to > 0.999 ? sheetWidth : x(part.to);
          return (
            <KnittedCloth
              id={`${id}-side-${index}`}
              d={`M${from} ${top - 8}H${to}V${Math.round(sole + 4)}H${from}Z`}
              hexes={hexesOf(part.role)}
              fabric={part.fabric}
              stitch={stitch}
              x={from}
              y={top - 8}
              along={to - from}
              across={tall + 12}
              hasOutline={false}
            />
          );
        })}
      </g>
      <path class="outline" d={foot} fill="none" />
      {shownBands.map((band) => {
        const low = cuffEdge(band.from);
        const high = cuffEdge(band.to);
        return (
          <KnittedCloth
            id={band.id}
            d={`M${low.from} ${low.height}L${high.from} ${high.height}H${high.to}L${low.to} ${low.height}Z`}
            hexes={hexesOf(band.role)}
            fabric="rib 2x2"
            stitch={stitch}
            x={Math.min(low.from, high.from)}
            y={low.height}
            along={low.height - high.height}
            across={Math.max(low.to, high.to) - Math.min(low.from, high.from)}
            isUpright
          />
        );
      })}
      <path class="ground" d={`M4 ${Math.round(sole + 2)}H${sheetWidth - 4}`} />
    </svg>
  );
};
