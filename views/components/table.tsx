import type { Child } from 'hono/jsx';

export type Column<Row> = {
  /** The column's heading; on a phone it stands beside each figure. */
  readonly name: string;
  readonly cell: (row: Row) => Child;
  /**
   * `heading` names the entry and leads it on a phone; `number` is set right; `wide` takes a whole line on a phone;
   * `action` is what one can press, which is left off paper.
   */
  readonly kind?: 'heading' | 'number' | 'text' | 'wide' | 'action';
  /** Whether a phone shows the cell only when its row is opened. */
  readonly isFolded?: (row: Row) => boolean;
};

export type DataTableProps<Row> = {
  readonly caption: Child;
  /** The caption is read aloud but not seen, where a heading above says the same. */
  readonly isCaptionHidden?: boolean;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  /** Totals: one entry a column, `null` where there is none. The first stands for all leading `null`s after it. */
  readonly footer?: readonly Child[] | undefined;
  /** On a phone: three narrow columns rather than two, each figure under its name. */
  readonly isDense?: boolean;
  /** The id of a row, so that a link can lead to it. */
  readonly rowId?: (row: Row) => string;
  /** What opens the folded cells of a row: what the row is called, and words better than "More". */
  readonly fold?: { readonly rowName: (row: Row) => string; readonly words?: (row: Row) => string };
};

function classOfKind(kind: Column<unknown>['kind']): string | undefined {
  if (kind === 'heading') return 'entry-heading';
  if (kind === 'action') return 'wide no-print';
  return kind === 'text' ? undefined : kind;
}

function cellClass(kind: Column<unknown>['kind'], isFolded = false): string | undefined {
  const own = classOfKind(kind);
  return isFolded ? [own, 'folded'].filter(Boolean).join(' ') : own;
}

// It is empty itself: while it is closed, a phone leaves out the folded cells of its row.
const RowFold = ({ words, name }: { readonly words: string; readonly name: string }) => (
  <details class="row-fold">
    <summary>
      {words}
      <span class="visually-hidden">{`: ${name}`}</span>
    </summary>
  </details>
);

// How many columns decides how narrow the page may be before the table becomes a list of entries.
function frameClass(count: number): string {
  if (count <= 2) return 'table-frame two-columns';
  return count >= 7 ? 'table-frame many-columns' : 'table-frame';
}

function footerClass(value: Child, index: number, kind: Column<unknown>['kind']): string | undefined {
  if (value === null) return kind === 'action' ? 'nothing no-print' : 'nothing';
  return index === 0 ? 'entry-heading' : classOfKind(kind);
}

// A dash says that there is nothing: a column needs it, a list of entries leaves it out.
function Cell<Row>({ column, row }: { readonly column: Column<Row>; readonly row: Row }) {
  const value = column.cell(row);
  const classes = [cellClass(column.kind, column.isFolded?.(row)), value === '–' ? 'blank' : undefined];
  return (
    <td class={classes.filter(Boolean).join(' ') || undefined} data-label={column.name}>
      {value}
    </td>
  );
}

/** A table that becomes stacked entries on a phone: headings first, then the figures with their names in two columns. */
export function DataTable<Row>(props: DataTableProps<Row>) {
  const { caption, isCaptionHidden = false, columns, rows, footer, rowId, fold, isDense = false } = props;
  const firstHeading = columns.findIndex((column) => column.kind === 'heading');
  return (
    <div class={frameClass(columns.length)}>
      <table class={['data-table', fold && 'folding-table', isDense && 'dense-table'].filter(Boolean).join(' ')}>
        <caption class={isCaptionHidden ? 'visually-hidden' : undefined}>{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th
                scope="col"
                class={column.kind === 'number' || column.kind === 'action' ? classOfKind(column.kind) : undefined}
              >
                {column.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr id={rowId?.(row)}>
              {columns.map((column, index) =>
                index === firstHeading ? (
                  <th scope="row" class="entry-heading">
                    {fold ? <span>{column.cell(row)}</span> : column.cell(row)}
                    {fold ? <RowFold words={fold.words?.(row) ?? 'More'} name={fold.rowName(row)} /> : null}
                  </th>
                ) : (
                  <Cell column={column} row={row} />
                ),
              )}
            </tr>
          ))}
        </tbody>
        {footer ? (
          <tfoot>
            <tr>
              {footer.map((value, index) => {
                const column = columns[index];
                return (
                  <td
                    class={footerClass(value, index, column?.kind)}
                    data-label={index === 0 ? undefined : column?.name}
                  >
                    {value}
                  </td>
                );
              })}
            </tr>
          </tfoot>
        ) : null}
      </table>
    </div>
  );
}
