import type { RowMark } from '#core/cards/card.ts';

export type RowStripProps = {
  readonly title: string;
  readonly rows: number;
  readonly marks: readonly RowMark[];
  /** Boxes in one line, and the width of one on paper, mm. */
  readonly perLine: number;
  readonly boxMm: number;
  /** Slippers with the same rows: so many boxes one above the other. */
  readonly slippers: 1 | 2;
};

const cell = 10;
/** Room above a line of boxes: for words where something happens in it, else a hair. */
const wordsHigh = 9;
const gap = 2.5;

/** The boxes of a line as one path: an upright between each two, a rule above, below and between two slippers. */
function boxesPath(count: number, y: number, slippers: number): string {
  const uprights = Array.from({ length: count + 1 }, (_, index) => `M${index * cell} ${y}v${cell * slippers}`).join('');
  const rules = Array.from({ length: slippers + 1 }, (_, index) => `M0 ${y + index * cell}H${count * cell}`).join('');
  return rules + uprights;
}

/** Rows to tick, a box each, the cast-on first: every fifth has its number, the rows where something happens their words. */
export const RowStrip = ({ title, rows, marks, perLine, boxMm, slippers }: RowStripProps) => {
  const width = Math.min(rows, perLine) * cell;
  const lineOf = (row: number) => Math.floor((row - 1) / perLine);
  let height = 0;
  const tops = Array.from({ length: Math.ceil(rows / perLine) }, (_, index) => {
    const top = height + (marks.some(({ row }) => lineOf(row) === index) ? wordsHigh : gap);
    height = top + cell * slippers;
    return top;
  });
  const placeOf = (row: number) => ({ x: ((row - 1) % perLine) * cell, y: tops[lineOf(row)]! });
  const boxes = tops.map((top, index) => boxesPath(Math.min(perLine, rows - index * perLine), top, slippers)).join('');
  const fifths = Array.from({ length: Math.floor(rows / 5) }, (_, index) => (index + 1) * 5);
  const mm = (units: number) => `${Math.round((units / cell) * boxMm * 10) / 10}mm`;
  // Room for the words of a mark that stands near the right edge.
  const full = Math.max(width, 9 * cell);
  return (
    <div class="row-strip">
      <p class="row-strip-title">{title}</p>
      <svg
        viewBox={`-1 0 ${full + 2} ${height + 1}`}
        width={mm(full + 2)}
        height={mm(height + 1)}
        role="img"
        aria-label={`${title}: ${rows} rows to tick${marks.length > 0 ? `; ${marks.map(({ words }) => words).join('; ')}` : ''}`}
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
              <rect class={`row-${is}`} x={x} y={y} width={cell} height={cell * slippers} />
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
