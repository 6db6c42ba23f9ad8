import type { Child } from 'hono/jsx';

export type BarPart = {
  readonly name: Child;
  /** Its share of the bar, at least 0; all parts together make the whole. */
  readonly size: number;
  /** The amount as text: "€9.40". */
  readonly text: Child;
};

export type BarProps = {
  /** Marks this bar's patterns on the page: letters and hyphens. */
  readonly id: string;
  /** What the whole is; read aloud for the picture and the table's caption. */
  readonly caption: string;
  readonly parts: readonly BarPart[];
  readonly total?: BarPart['text'];
};

// Ink and hatching rather than colour: colour belongs to yarn, and this prints in grey.
const hatches = [
  null,
  'M-1 1l2-2M0 6l6-6M5 7l2-2',
  'M3 0v6',
  'M0 3h6',
  'M1.5 1.5h.01M4.5 4.5h.01',
  'M-1 5l2 2M0 0l6 6M5-1l2 2',
] as const;

const patternCount = hatches.length;

function partFill(id: string, index: number): string {
  return `url(#${id}-${index % patternCount})`;
}

const Patterns = ({ id, count }: { id: string; count: number }) => (
  <defs>
    {hatches.slice(0, count).map((hatch, index) => (
      <pattern id={`${id}-${index}`} width="6" height="6" patternUnits="userSpaceOnUse">
        <rect width="6" height="6" class={hatch === null ? 'bar-solid' : 'bar-ground'} />
        {hatch === null ? null : <path d={hatch} class="bar-hatch" />}
      </pattern>
    ))}
  </defs>
);

/** What a whole is made of: a bar of parts, and the same as a table below it. */
export const Bar = ({ id, caption, parts, total }: BarProps) => {
  const whole = parts.reduce((sum, part) => sum + part.size, 0);
  let startPercent = 0;
  const pieces = parts.map((part, index) => {
    const widthPercent = whole > 0 ? (part.size / whole) * 100 : 0;
    const piece = { x: startPercent, width: widthPercent, fill: partFill(id, index) };
    startPercent += widthPercent;
    return piece;
  });
  return (
    <div class="bar">
      <svg class="bar-picture" width="100%" height="40" role="img" aria-label={caption}>
        <Patterns id={id} count={Math.min(parts.length, patternCount)} />
        {pieces.map(({ x, width, fill }) => (
          <rect class="bar-part" x={`${x}%`} y="0.5" width={`${width}%`} height="39" fill={fill} />
        ))}
      </svg>
      <table class="bar-legend">
        <caption class="visually-hidden">{caption}</caption>
        <tbody>
          {parts.map((part, index) => (
            <tr>
              <th scope="row">
                <svg width="16" height="16" aria-hidden="true" focusable="false">
                  <rect class="bar-part" x="0.5" y="0.5" width="15" height="15" fill={partFill(id, index)} />
                </svg>
                {part.name}
              </th>
              <td class="number">{part.text}</td>
            </tr>
          ))}
        </tbody>
        {total ? (
          <tfoot>
            <tr>
              <th scope="row">Together</th>
              <td class="number">{total}</td>
            </tr>
          </tfoot>
        ) : null}
      </table>
    </div>
  );
};
