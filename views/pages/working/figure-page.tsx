import { type PageWish, pagingOf, rowsOn } from '#core/shared/paging.ts';
import type { WorkingStep } from '#core/shared/working.ts';
import { FigureTree } from '#views/components/figure-tree.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { DataTable } from '#views/components/table.tsx';
import { unitSystem } from '#views/format.ts';
import { type AreaName, Page } from '#views/layout.tsx';

type Table = {
  readonly caption: string;
  readonly columns: readonly { readonly name: string; readonly kind?: 'heading' | 'number' | 'wide' }[];
  readonly rows: readonly (readonly string[])[];
  readonly footer?: readonly (string | null)[];
  readonly hrefs?: readonly (string | null)[];
};

export type FigurePageProps = {
  readonly title: string;
  readonly where: string;
  readonly current: AreaName;
  readonly about: string;
  readonly valueText: string | null;
  readonly step: WorkingStep | null;
  readonly tables: readonly Table[];
  /** Which part of long tables is shown. */
  readonly wish: PageWish;
  readonly pageHref: PageHref;
  readonly notes: readonly string[];
  readonly back: { readonly href: string; readonly words: string };
  readonly hands: readonly { readonly name: string; readonly href: string; readonly isOpen: boolean }[];
};

type TableRow = { readonly cells: readonly string[]; readonly href: string | null };

/** A table of a working, one page of it; what it adds up to is of all its rows. */
const TableOf = ({ table, wish, pageHref }: { readonly table: Table } & Pick<FigurePageProps, 'wish' | 'pageHref'>) => {
  const paging = pagingOf(table.rows.length, wish);
  const rows = table.rows.map((cells, index): TableRow => ({ cells, href: table.hrefs?.[index] ?? null }));
  const cellOf = ({ cells, href }: TableRow, index: number) =>
    href && index === 0 ? <a href={href}>{cells[index]}</a> : (cells[index] ?? '');
  return (
    <>
      <DataTable
        caption={table.caption}
        columns={table.columns.map((column, index) => ({ ...column, cell: (row: TableRow) => cellOf(row, index) }))}
        rows={rowsOn(rows, paging)}
        footer={table.footer}
      />
      <Pager paging={paging} noun="Rows" label={table.caption} href={pageHref} />
    </>
  );
};

/** How one figure comes about. */
export const FigurePage = ({
  title,
  where,
  current,
  about,
  tables,
  wish,
  pageHref,
  notes,
  back,
  hands,
  ...figure
}: FigurePageProps) => (
  <Page title={title} where={where} current={current}>
    <p>{about}</p>
    {unitSystem() === 'imperial' ? (
      <p class="soft">
        Workings are in centimetres and grams, as the formulas are: 2.54 cm are an inch, 28.35 g an ounce.
      </p>
    ) : null}
    <p class="no-print">
      <a href={back.href}>{back.words}</a>
    </p>
    {hands.length > 1 ? (
      <nav class="hands no-print" aria-label="In whose hand">
        <span class="soft">As knitted by</span>
        {hands.map(({ name, href, isOpen }) => (
          <a href={href} aria-current={isOpen ? 'true' : undefined}>
            {name}
          </a>
        ))}
      </nav>
    ) : null}
    {figure.step ? (
      <section>
        <h2>Step by step</h2>
        <FigureTree step={figure.step} valueText={figure.valueText ?? figure.step.valueText} />
        <p class="hint">Counted with more digits than are shown: a sum may miss by one in its last digit.</p>
      </section>
    ) : null}
    {tables.map((table) => (
      <TableOf table={table} wish={wish} pageHref={pageHref} />
    ))}
    {notes.length > 0 ? (
      <section>
        <h2>Good to know</h2>
        <ul>
          {notes.map((note) => (
            <li>{note}</li>
          ))}
        </ul>
      </section>
    ) : null}
    <p class="no-print">
      <a href="/working/method">What the words mean, and one pair worked by hand</a>
    </p>
  </Page>
);
