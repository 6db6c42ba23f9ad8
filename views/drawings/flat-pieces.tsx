import type { FlatPlan } from '#core/cards/card.ts';
import { countOf } from '#core/shared/format.ts';
import { KnittedCloth } from '#views/drawings/knitted-cloth.tsx';
import { formatLength } from '#views/format.ts';

/** One flat piece as it is drawn. */
export type FlatPieceView = {
  readonly name: string;
  readonly castOnStitches: number;
  readonly lastStitches: number;
  readonly rows: number;
  readonly markRow: number | null;
  readonly endsDrawnUp: boolean;
  readonly plan: FlatPlan;
};

export type FlatPiecesProps = {
  /** Unique on the page. */
  readonly id: string;
  readonly pieces: readonly FlatPieceView[];
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
    <text x={(left + left + longest) / 2} y={y + 16} text-anchor="middle">
      {words}
    </text>
  </g>
);

/** A dimension line down a side, with its words in short lines beside it. */
const Down = ({ y1, y2, x, words }: { y1: number; y2: number; x: number; words: readonly string[] }) => (
  <g class="dimension">
    <path d={`M${x} ${y1}V${y2}M${x - 4} ${y1}H${x + 4}M${x - 4} ${y2}H${x + 4}`} />
    {words.map((line, index) => (
      <text x={x - 8} y={(y1 + y2) / 2 + 5 + (index - (words.length - 1) / 2) * 16} text-anchor="end">
        {line}
      </text>
    ))}
  </g>
);

type Part = FlatPlan['parts'][number];

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function spoken(piece: FlatPieceView): string {
  const { castOnStitches, lastStitches, rows, markRow, endsDrawnUp, plan } = piece;
  const width = formatLength(plan.parts[0]?.startMm ?? plan.widthMm);
  const mark = markRow === null ? '' : `; top seam from row ${markRow} to the toe`;
  const end = endsDrawnUp ? `${lastStitches} stitches drawn up` : `${lastStitches} stitches bound off`;
  return `${capitalised(piece.name)}, flat: ${castOnStitches} stitches, ${width} wide; ${rows} rows, ${formatLength(plan.lengthMm)} long${mark}; ${end}.`;
}

/** How far a toe that is drawn up bows beyond its last row. */
const gathered = 14;

const widestOf = (part: Part, scale: number) => Math.max(part.startMm, part.endMm) * scale;
const stitchOf = (part: Part, scale: number) => ({
  across: (part.startMm / Math.max(1, part.stitches)) * scale,
  along: part.rowMm * scale,
});

/** A piece that ends in a toe, lying: the cast-on at the left, the stitches drawn up at the right. */
const LyingPiece = ({
  id,
  piece,
  hexesOf,
}: { id: string; piece: FlatPieceView } & Pick<FlatPiecesProps, 'hexesOf'>) => {
  const { plan, markRow } = piece;
  const scale = longest / plan.lengthMm;
  const width = plan.widthMm * scale;
  const middle = top + width / 2;
  const right = left + longest;
  const first = plan.parts[0]!.startMm * scale;
  const at = (mm: number) => left + mm * scale;
  const shapeOf = (part: Part) => {
    const [x1, x2] = [at(part.fromMm), at(part.toMm)];
    const [before, after] = [(part.startMm * scale) / 2, (part.endMm * scale) / 2];
    if (part.isGathered) {
      return `M${x1} ${middle - before}C${right - 2} ${middle - before * 0.88} ${right + 10} ${middle - before * 0.32} ${right + 14} ${middle}C${right + 10} ${middle + before * 0.32} ${right - 2} ${middle + before * 0.88} ${x1} ${middle + before}Z`;
    }
    return `M${x1} ${middle - before}L${x2} ${middle - after}V${middle + after}L${x1} ${middle + before}Z`;
  };
  const mark = plan.markMm === null ? null : at(plan.markMm);
  return (
    <svg class="drawing" viewBox={`0 0 ${sheetWidth} ${top + width + 46}`} role="img" aria-label={spoken(piece)}>
      {plan.parts.map((part, index) => (
        <KnittedCloth
          id={`${id}-${index}`}
          d={shapeOf(part)}
          hexes={hexesOf(part.role)}
          fabric={part.fabric}
          stitch={stitchOf(part, scale)}
          x={at(part.fromMm)}
          y={middle - widestOf(part, scale) / 2}
          along={(part.toMm - part.fromMm) * scale + (part.isGathered ? gathered : 0)}
          across={widestOf(part, scale)}
        />
      ))}
      {mark === null ? null : <path class="mark-line" d={`M${mark} ${top - 6}V${top + width + 6}`} />}
      <text x={left} y={14}>
        {mark === null ? 'cast on' : 'heel'}
      </text>
      {mark === null ? null : (
        <text x={mark} y={14} text-anchor="middle">
          {`mark, row ${markRow}`}
        </text>
      )}
      <text x={sheetWidth - 2} y={14} text-anchor="end">
        toe
      </text>
      <Down
        y1={middle - first / 2}
        y2={middle + first / 2}
        x={left - 12}
        words={[`${piece.castOnStitches} sts`, formatLength(plan.parts[0]!.startMm), 'sewn']}
      />
      <Across
        x1={left}
        x2={right}
        y={top + width + 16}
        words={`${countOf(piece.rows, 'row', 'rows')}, ${formatLength(plan.lengthMm)}; ${piece.lastStitches} sts drawn up`}
      />
    </svg>
  );
};

/** Any other piece, worked upward from its cast-on. */
const UprightPiece = ({
  id,
  piece,
  hexesOf,
  mostScale,
}: { id: string; piece: FlatPieceView; mostScale: number } & Pick<FlatPiecesProps, 'hexesOf'>) => {
  const { plan } = piece;
  const scale = Math.min(mostScale, longest / plan.widthMm);
  const width = plan.widthMm * scale;
  const height = plan.lengthMm * scale;
  const middle = left + width / 2;
  const bottom = 28 + height;
  const last = plan.parts.at(-1)!;
  const shapeOf = (part: Part) => {
    const [y1, y2] = [bottom - part.fromMm * scale, bottom - part.toMm * scale];
    const [before, after] = [(part.startMm * scale) / 2, (part.endMm * scale) / 2];
    return `M${middle - before} ${y1}L${middle - after} ${y2}H${middle + after}L${middle + before} ${y1}Z`;
  };
  const first = plan.parts[0]!.startMm * scale;
  const isNarrowed = last.endMm < plan.parts[0]!.startMm;
  return (
    <svg class="drawing" viewBox={`0 0 ${sheetWidth} ${bottom + 46}`} role="img" aria-label={spoken(piece)}>
      {plan.parts.map((part, index) => (
        <KnittedCloth
          id={`${id}-${index}`}
          d={shapeOf(part)}
          hexes={hexesOf(part.role)}
          fabric={part.fabric}
          stitch={stitchOf(part, scale)}
          x={middle - widestOf(part, scale) / 2}
          y={bottom - part.fromMm * scale}
          along={(part.toMm - part.fromMm) * scale}
          across={widestOf(part, scale)}
          isUpright
        />
      ))}
      {isNarrowed ? (
        <text x={middle} y={14} text-anchor="middle">
          {`${piece.lastStitches} sts, ${formatLength(last.endMm)}`}
        </text>
      ) : null}
      <Down
        y1={28}
        y2={bottom}
        x={left - 12}
        words={[countOf(piece.rows, 'row', 'rows'), formatLength(plan.lengthMm)]}
      />
      <Across
        x1={middle - first / 2}
        x2={middle + first / 2}
        y={bottom + 14}
        words={`${piece.castOnStitches} sts, ${formatLength(plan.parts[0]!.startMm)}`}
      />
    </svg>
  );
};

/** The flat pieces to one scale, as the counts make them, seams taken off; one drawing a piece. */
export const FlatPieces = ({ id, pieces, hexesOf }: FlatPiecesProps) => {
  const scale = longest / Math.max(...pieces.map(({ plan }) => plan.lengthMm));
  return (
    <>
      {pieces.map((piece, index) => (
        <figure class="flat-piece">
          {pieces.length > 1 ? <figcaption>{capitalised(piece.name)}</figcaption> : null}
          {piece.endsDrawnUp ? (
            <LyingPiece id={`${id}-${index}`} piece={piece} hexesOf={hexesOf} />
          ) : (
            <UprightPiece id={`${id}-${index}`} piece={piece} hexesOf={hexesOf} mostScale={scale} />
          )}
        </figure>
      ))}
    </>
  );
};
