import type { RowMark } from '#core/cards/card.ts';

export type RowStripProps = {
  readonly title: string;
  readonly rows: number;
  readonly marks: readonly RowMark[];
  /** Boxes in one line, and the width of one on paper, mm. */
  readonly perLine: number;
  readonly boxMm: number;
};

const cell = 10;
const line = 21;

/** The boxes of a line as one path: an upright between each two, a rule above and below. */
function boxesPath(count: number, y: number): string {
  const uprights = Array.from({ length: count + 1 }, (_, index) => `M${index * cell} ${y}v${cell}`).join('');
  return `M0 ${y}H${count * cell}M0 ${y + cell}H${count * cell}${uprights}`;
}

/** Rows to tick, a box each, the cast-on first: every fifth has its number, the rows where something happens their words. */
export const RowStrip = ({ title, rows, marks, perLine, boxMm }: RowStripProps) => {
  const lines = Math.ceil(rows / perLine);
  const width = Math.min(rows, perLine) * cell;
  const placeOf = (row: number) => {
    const index = row - 1;
    return { x: (index % perLine) * cell, y: Math.floor(index / perLine) * line + 9 };
  };
  const boxes = Array.from({ length: lines }, (_, index) =>
    boxesPath(Math.min(perLine, rows - index * perLine), index * line + 9),
  ).join('');
  const fifths = Array.from({ length: Math.floor(rows / 5) }, (_, index) => (index + 1) * 5);
  const mm = (units: number) => `${Math.round((units / cell) * boxMm * 10) / 10}mm`;
  // Room for the words of a mark that stands near the right edge.
  const full = Math.max(width, 9 * cell);
  return (
    <div class="row-strip">
      <p class="row-strip-title">{title}</p>
      <svg
        viewBox={`-1 0 ${full + 2} ${lines * line}`}
        width={mm(full + 2)}
        height={mm(lines * line)}
        role="img"
        aria-label={`${rows} rows to tick${marks.length > 0 ? `; ${marks.map(({ words }) => words).join('; ')}` : ''}`}
      >
        <path class="boxes" d={boxes} />
        {fifths.map((row) => {
          const { x, y } = placeOf(row);
          return (
            <text class="count" x={x + cell / 2} y={y + 7.4} text-anchor="middle">
              {String(row)}
            </text>
          );
        })}
        {marks.map(({ row, is, label }) => {
          const { x, y } = placeOf(row);
          const isRight = x > full / 2;
          return (
            <>
              <rect class={`row-${is}`} x={x} y={y} width={cell} height={cell} />
              <text class="row-label" x={isRight ? x + cell : x} y={y - 1.8} text-anchor={isRight ? 'end' : 'start'}>
                {label}
              </text>
            </>
          );
        })}
      </svg>
    </div>
  );
};
