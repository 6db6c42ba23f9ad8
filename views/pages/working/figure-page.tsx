import type { WorkingStep } from '#core/shared/working.ts';
import { FigureTree } from '#views/components/figure-tree.tsx';
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
  readonly notes: readonly string[];
  readonly back: { readonly href: string; readonly words: string };
  readonly hands: readonly { readonly name: string; readonly href: string; readonly isOpen: boolean }[];
};

const TableOf = ({ table }: { readonly table: Table }) => {
  const leads = (row: readonly string[]) => table.hrefs?.[table.rows.indexOf(row)] ?? null;
  const cellOf = (row: readonly string[], index: number) => {
    const href = index === 0 ? leads(row) : null;
    return href ? <a href={href}>{row[index]}</a> : (row[index] ?? '');
  };
  return (
    <DataTable
      caption={table.caption}
      columns={table.columns.map((column, index) => ({
        ...column,
        cell: (row: readonly string[]) => cellOf(row, index),
      }))}
      rows={table.rows}
      footer={table.footer}
    />
  );
};

/** How one figure comes about. */
export const FigurePage = ({
  title,
  where,
  current,
  about,
  tables,
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
      </section>
    ) : null}
    {tables.map((table) => (
      <TableOf table={table} />
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
